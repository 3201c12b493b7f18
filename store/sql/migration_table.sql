-- migrate: where the runner notes what it has run.
CREATE TABLE IF NOT EXISTS migration (
	n      INTEGER NOT NULL PRIMARY KEY,
	name   TEXT NOT NULL,
	sha256 TEXT NOT NULL
);

-- migration_table; a second program waits here until the first has committed.
SELECT pg_advisory_xact_lock(7205759403792794);
CREATE TABLE IF NOT EXISTS migration (
	n      INTEGER NOT NULL PRIMARY KEY,
	name   TEXT NOT NULL,
	sha256 TEXT NOT NULL
);

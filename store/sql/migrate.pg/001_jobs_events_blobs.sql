-- The first shape of the store. Never edit: add another migration.
CREATE TABLE job (
	id      TEXT COLLATE "C" NOT NULL PRIMARY KEY, -- sorts as bytes do, whatever the language
	name    TEXT NOT NULL,
	created TEXT NOT NULL -- RFC 3339, UTC, milliseconds
);

CREATE TABLE revision (
	job    TEXT    NOT NULL REFERENCES job (id),
	n      INTEGER NOT NULL, -- counts from 1 in its job
	sha256 TEXT    NOT NULL,
	parent TEXT    NOT NULL, -- sha256 of n - 1; '' for the first
	author TEXT    NOT NULL,
	time   TEXT    NOT NULL,
	bytes  BYTEA   NOT NULL,
	PRIMARY KEY (job, n)
);

CREATE TABLE event (
	id        TEXT    NOT NULL PRIMARY KEY,
	job       TEXT    NOT NULL REFERENCES job (id),
	arrival   BIGINT  NOT NULL, -- counts from 1 in its job
	sha256    TEXT    NOT NULL,
	canonical BYTEA   NOT NULL, -- the whole event, RFC 8785
	UNIQUE (job, arrival)
);

-- Events whose id was taken by another body.
CREATE TABLE disputed (
	id        TEXT    NOT NULL,
	sha256    TEXT    NOT NULL,
	job       TEXT    NOT NULL REFERENCES job (id),
	arrival   BIGINT  NOT NULL,
	canonical BYTEA   NOT NULL,
	PRIMARY KEY (id, sha256)
);

CREATE TABLE blob (
	sha256 TEXT NOT NULL PRIMARY KEY,
	bytes  BYTEA NOT NULL
);

-- The first shape of the store. Never edit: add another migration.
CREATE TABLE job (
	id      TEXT NOT NULL PRIMARY KEY,
	name    TEXT NOT NULL,
	created TEXT NOT NULL -- RFC 3339, UTC, milliseconds
) STRICT;

CREATE TABLE revision (
	job    TEXT    NOT NULL REFERENCES job (id),
	n      INTEGER NOT NULL, -- counts from 1 in its job
	sha256 TEXT    NOT NULL,
	parent TEXT    NOT NULL, -- sha256 of n - 1; '' for the first
	author TEXT    NOT NULL,
	time   TEXT    NOT NULL,
	bytes  BLOB    NOT NULL,
	PRIMARY KEY (job, n)
) STRICT;

CREATE TABLE event (
	id        TEXT    NOT NULL PRIMARY KEY,
	job       TEXT    NOT NULL REFERENCES job (id),
	arrival   INTEGER NOT NULL, -- counts from 1 in its job
	sha256    TEXT    NOT NULL,
	canonical BLOB    NOT NULL, -- the whole event, RFC 8785
	UNIQUE (job, arrival)
) STRICT;

-- Events whose id was taken by another body.
CREATE TABLE disputed (
	id        TEXT    NOT NULL,
	sha256    TEXT    NOT NULL,
	job       TEXT    NOT NULL REFERENCES job (id),
	arrival   INTEGER NOT NULL,
	canonical BLOB    NOT NULL,
	PRIMARY KEY (id, sha256)
) STRICT;

CREATE TABLE blob (
	sha256 TEXT NOT NULL PRIMARY KEY,
	bytes  BLOB NOT NULL
) STRICT;

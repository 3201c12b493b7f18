// Package store keeps what must never be lost: the revisions of job documents,
// the events of the field record, and blobs (photos, issued PDFs), all as bytes.
//
// The crash contract, for a killed program, a killed database and a full disk:
// what a call has returned without error is on disk and is there exactly once;
// what has not returned is there whole or not at all. A revision, an event and a
// blob are never changed and never deleted. Sending the same thing twice
// changes nothing and is answered as the first time. docs/store.md tells it to
// those who run a server, internal/study/crash tries it out.
//
// SQL stands only in sql, one statement a file, for SQLite and PostgreSQL alike:
// numbered placeholders, ON CONFLICT, instants as RFC 3339 text in UTC;
// NAME.pg.sql stands in where PostgreSQL must be told otherwise. Migrations
// (sql/migrate, sql/migrate.pg) are numbered and never edited; the
// runner is our own forty lines instead of a library of eighteen modules,
// because it also refuses a database whose past migrations differ from ours.
//
// It leaves out what documents and events mean.
package store

// Package store keeps what must never be lost: the revisions of job documents,
// the events of the field record, and blobs (photos, issued PDFs), all as bytes.
//
// What a call has returned without error is on disk. A revision, an event and a
// blob are never changed and never deleted. Sending the same thing twice
// changes nothing and is answered as the first time.
//
// SQL stands only in sql, one statement a file, written so that PostgreSQL runs
// it too: numbered placeholders in order of use, ON CONFLICT, instants as RFC
// 3339 text in UTC. Migrations (sql/migrate) are numbered and never edited; the
// runner is our own forty lines instead of a library of eighteen modules,
// because it also refuses a database whose past migrations differ from ours.
//
// It leaves out what documents and events mean.
package store

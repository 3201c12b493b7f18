package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"legwork/field"
	"legwork/where"
)

// Store is what every database offers. Its methods may be called at the same
// time from many goroutines. An error that is none of this package's sentinels
// comes from the database or the disk: nothing of that call was kept.
type Store interface {
	// CreateJob enters a job. The same id with the same name and time is
	// answered as the first time; with others, ErrJobTaken.
	CreateJob(ctx context.Context, j Job) error
	// Jobs lists all jobs in order of their ids, which is that of their making.
	Jobs(ctx context.Context) ([]Job, error)
	// Job is the job of an id; ErrNotFound if there is none.
	Job(ctx context.Context, id field.ID) (Job, error)

	// SaveRevision appends a revision whose parent must be the newest one, and
	// returns it complete. If somebody saved before, the error is a *Conflict
	// and nothing is kept. Saving the newest again returns it unchanged.
	SaveRevision(ctx context.Context, d Draft) (Revision, error)
	// Newest is the truth: the newest revision. ErrNotFound before the first.
	Newest(ctx context.Context, job field.ID) (Revision, error)
	// Revision is the n-th revision of a job, from 1.
	Revision(ctx context.Context, job field.ID, n int) (Revision, error)
	// History lists a job's revisions from the first, without their bytes.
	History(ctx context.Context, job field.ID) ([]Revision, error)

	// Append keeps a batch of events in one transaction and answers each, in
	// order. An event that is refused hinders no other.
	Append(ctx context.Context, events []field.Event) ([]Ack, error)
	// EventsSince lists at most limit events of a job that arrived after the
	// cursor (0 for the beginning), in order of arrival.
	EventsSince(ctx context.Context, job field.ID, cursor int64, limit int) ([]Arrived, error)
	// Disputed lists the events of a job that were refused because their id
	// was taken by another body, in order of arrival.
	Disputed(ctx context.Context, job field.ID) ([]field.Event, error)

	// PutBlob keeps bytes under their SHA-256 in lower case hexadecimal, which
	// it returns. More than MaxBlob bytes are refused with a where.Error.
	PutBlob(ctx context.Context, b []byte) (string, error)
	// Blob returns the bytes of a hash, checked against it; ErrNotFound if none.
	Blob(ctx context.Context, sha256 string) ([]byte, error)

	// Export writes everything as one archive: the store as it was at one
	// instant, while others go on writing. made is noted in it.
	Export(ctx context.Context, w io.Writer, made time.Time) (Contents, error)
	// Import brings an archive in, all of it or nothing. What is there already
	// stays; a job or a revision that differs from what is there is refused, an
	// event that does is kept as disputed. A hostile or damaged archive is
	// refused with a where.Error or where.Errors.
	Import(ctx context.Context, r io.ReaderAt, size int64) (Contents, error)

	Close() error
}

// Limits of what a store takes, in bytes.
const (
	MaxDocument = 4 << 20  // a job document; S1 of the invented houses has a few kilobytes
	MaxBlob     = 32 << 20 // one photo or one PDF
)

// The errors on which a caller decides.
var (
	ErrNotFound = errors.New("not in this store")
	ErrJobTaken = errors.New("another job has this id")
)

// Job is a job as the store knows it; all else stands in its document.
type Job struct {
	ID      field.ID
	Name    string
	Created time.Time
}

// Draft is a document to be saved.
type Draft struct {
	Job    field.ID
	Parent string // SHA-256 of the revision that was edited; "" for the first
	Bytes  []byte // the exact YAML
	Author string
	Time   time.Time
}

// Revision is one saved state of a job document.
type Revision struct {
	Job    field.ID
	N      int    // counts from 1 in its job
	SHA256 string // of Bytes, lower case hexadecimal
	Parent string // SHA-256 of revision N-1; "" for the first
	Author string
	Time   time.Time
	Bytes  []byte // nil in a History
}

// Conflict says that somebody saved before: the draft's parent is not the newest
// revision. Nothing was overwritten; show the difference from Newest.
type Conflict struct {
	Draft  Draft
	Newest Revision // with its bytes; the zero Revision when there is none
}

func (c *Conflict) Error() string {
	if c.Newest.N == 0 {
		return fmt.Sprintf("job %s has no revision yet; the draft names the parent %.12s", c.Draft.Job, c.Draft.Parent)
	}
	return fmt.Sprintf("job %s: %s saved revision %d at %s after the state that this draft edits",
		c.Draft.Job, c.Newest.Author, c.Newest.N, field.FormatTime(c.Newest.Time))
}

// Ack answers one event of a batch.
type Ack struct {
	ID     field.ID
	Cursor int64 // place in the job's order of arrival; 0 when refused
	// Refused says why the event is not part of the record; nil when it is.
	Refused *where.Error
	// Kept tells that a refused event was kept beside the record all the same.
	Kept bool
}

// Arrived is an event with its place in the order of arrival.
type Arrived struct {
	Cursor int64
	field.Event
}

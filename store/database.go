package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"legwork/field"
	"legwork/where"
)

// database is a Store over database/sql.
type database struct {
	dialect
	read, write *sql.DB
}

func (d *database) Close() error { return errors.Join(d.read.Close(), d.write.Close()) }

// within runs f in a transaction and commits it when f returns nil. What the
// database gave up because others were in the way is done again: f must be fit
// to run more than once.
func (d *database) within(ctx context.Context, f func(tx *sql.Tx) error) error {
	for range 5 {
		if err := d.try(ctx, f); !crossed(err) {
			return err
		}
	}
	return d.try(ctx, f)
}

func (d *database) try(ctx context.Context, f func(tx *sql.Tx) error) error {
	tx, err := d.write.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if err := f(tx); err != nil {
		return err
	}
	return tx.Commit()
}

// scanner is a row, or the current one of several.
type scanner interface{ Scan(dest ...any) error }

func notFound(err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return ErrNotFound
	}
	return err
}

func (d *database) CreateJob(ctx context.Context, j Job) error {
	if _, err := field.ParseID(string(j.ID)); err != nil {
		return err
	}
	if err := plainText("name", j.Name); err != nil {
		return err
	}
	return d.within(ctx, func(tx *sql.Tx) error { return d.createJob(ctx, tx, j) })
}

func (d *database) createJob(ctx context.Context, tx *sql.Tx, j Job) error {
	created := field.FormatTime(j.Created)
	if _, err := tx.ExecContext(ctx, d.statement("job_insert"), j.ID, j.Name, created); err != nil {
		return err
	}
	there, err := d.holdJob(ctx, tx, j.ID)
	if err == nil && (there.Name != j.Name || field.FormatTime(there.Created) != created) {
		err = fmt.Errorf("job %s: %w: %q", j.ID, ErrJobTaken, there.Name)
	}
	return err
}

// holdJob reads a job and holds it until the transaction ends, so that two of
// them never count the same place in a job's order.
func (d *database) holdJob(ctx context.Context, tx *sql.Tx, id field.ID) (Job, error) {
	return oneJob(id, tx.QueryRowContext(ctx, d.statement("job_hold"), id))
}

func (d *database) Job(ctx context.Context, id field.ID) (Job, error) {
	return oneJob(id, d.read.QueryRowContext(ctx, d.statement("job_get"), id))
}

func oneJob(id field.ID, row scanner) (Job, error) {
	j, err := scanJob(row)
	if err != nil {
		return Job{}, fmt.Errorf("job %s: %w", id, notFound(err))
	}
	return j, nil
}

func scanJob(row scanner) (j Job, err error) {
	var created string
	if err := row.Scan(&j.ID, &j.Name, &created); err != nil {
		return Job{}, err
	}
	j.Created, err = field.ParseTime(created)
	return j, err
}

func (d *database) Jobs(ctx context.Context) ([]Job, error) {
	return list(ctx, d.read, d.dialect, scanJob, "job_list")
}

// rower is a pool or a transaction.
type rower interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// list gathers all rows of a statement.
func list[T any](ctx context.Context, q rower, d dialect, scan func(scanner) (T, error), name string, args ...any) ([]T, error) {
	rows, err := q.QueryContext(ctx, d.statement(name), args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		v, err := scan(rows)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, rows.Err()
}

func scanRevision(row scanner) (r Revision, err error) {
	var at string
	if err := row.Scan(&r.Job, &r.N, &r.SHA256, &r.Parent, &r.Author, &at, &r.Bytes); err != nil {
		return Revision{}, err
	}
	r.Time, err = field.ParseTime(at)
	return r, err
}

func (d *database) SaveRevision(ctx context.Context, draft Draft) (Revision, error) {
	if n := len(draft.Bytes); n == 0 || n > MaxDocument {
		return Revision{}, tooLong("document", n, MaxDocument)
	}
	if err := plainText("author", draft.Author); err != nil {
		return Revision{}, err
	}
	next := Revision{Job: draft.Job, N: 1, SHA256: Hash(draft.Bytes), Parent: draft.Parent,
		Author: draft.Author, Time: draft.Time, Bytes: draft.Bytes}
	at := field.FormatTime(draft.Time)
	err := d.within(ctx, func(tx *sql.Tx) error {
		if _, err := d.holdJob(ctx, tx, draft.Job); err != nil {
			return err
		}
		newest, err := scanRevision(tx.QueryRowContext(ctx, d.statement("revision_newest"), draft.Job))
		switch {
		case errors.Is(err, sql.ErrNoRows): // the first
		case err != nil:
			return err
		case newest.SHA256 == next.SHA256 && newest.Parent == next.Parent &&
			newest.Author == next.Author && field.FormatTime(newest.Time) == at:
			next = newest // the answer was lost and the draft sent again
			return nil
		}
		if draft.Parent != newest.SHA256 {
			return &Conflict{Draft: draft, Newest: newest}
		}
		next.N = newest.N + 1
		if next.Time, err = field.ParseTime(at); err != nil { // as it will be read back
			return err
		}
		_, err = tx.ExecContext(ctx, d.statement("revision_insert"), next.Job, next.N, next.SHA256,
			next.Parent, next.Author, at, next.Bytes)
		return err
	})
	if err != nil {
		return Revision{}, err
	}
	return next, nil
}

func (d *database) Newest(ctx context.Context, job field.ID) (Revision, error) {
	r, err := scanRevision(d.read.QueryRowContext(ctx, d.statement("revision_newest"), job))
	return r, notFound(err)
}

func (d *database) Revision(ctx context.Context, job field.ID, n int) (Revision, error) {
	r, err := scanRevision(d.read.QueryRowContext(ctx, d.statement("revision_get"), job, n))
	return r, notFound(err)
}

func (d *database) History(ctx context.Context, job field.ID) ([]Revision, error) {
	return list(ctx, d.read, d.dialect, scanRevision, "revision_list", job)
}

func (d *database) PutBlob(ctx context.Context, b []byte) (string, error) {
	if n := len(b); n == 0 || n > MaxBlob {
		return "", tooLong("file", n, MaxBlob)
	}
	hash := Hash(b)
	err := d.within(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, d.statement("blob_insert"), hash, b)
		return err
	})
	if err != nil {
		return "", err
	}
	return hash, nil
}

func (d *database) Blob(ctx context.Context, sha256 string) ([]byte, error) {
	var b []byte
	if err := d.read.QueryRowContext(ctx, d.statement("blob_get"), sha256).Scan(&b); err != nil {
		return nil, notFound(err)
	}
	if got := Hash(b); got != sha256 {
		return nil, fmt.Errorf("blob %s is damaged: its bytes have the hash %s", sha256, got)
	}
	return b, nil
}

func tooLong(what string, n, most int) error {
	return where.Error{Came: strconv.Itoa(n) + " bytes",
		Expected: "a " + what + " of 1 to " + strconv.Itoa(most) + " bytes"}
}

// maxName is the most bytes of a name of a job or a person.
const maxName = 1000

// plainText refuses what not every database can keep to the letter.
func plainText(path, s string) error {
	switch {
	case len(s) > maxName:
		return where.Error{Path: path, Came: strconv.Itoa(len(s)) + " bytes", Expected: "at most " + strconv.Itoa(maxName)}
	case !utf8.ValidString(s) || strings.ContainsRune(s, 0):
		return where.Error{Path: path, Came: strconv.Quote(s), Expected: "text in UTF-8 without a zero byte"}
	}
	return nil
}

package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strconv"

	"legwork/field"
	"legwork/where"
)

// database is a Store over database/sql. read and write may be one pool.
type database struct {
	read, write *sql.DB
}

func (d *database) Close() error { return errors.Join(d.read.Close(), d.write.Close()) }

// querier is a pool or a transaction.
type querier interface {
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// within runs f in a transaction and commits it when f returns nil.
func (d *database) within(ctx context.Context, f func(tx *sql.Tx) error) error {
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
	return d.within(ctx, func(tx *sql.Tx) error {
		created := field.FormatTime(j.Created)
		if _, err := tx.ExecContext(ctx, statement("job_insert"), j.ID, j.Name, created); err != nil {
			return err
		}
		there, err := getJob(ctx, tx, j.ID)
		if err == nil && (there.Name != j.Name || field.FormatTime(there.Created) != created) {
			err = fmt.Errorf("job %s: %w: %q", j.ID, ErrJobTaken, there.Name)
		}
		return err
	})
}

func getJob(ctx context.Context, q querier, id field.ID) (Job, error) {
	j, err := scanJob(q.QueryRowContext(ctx, statement("job_get"), id))
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
	return list(ctx, d.read, scanJob, "job_list")
}

// list gathers all rows of a statement.
func list[T any](ctx context.Context, db *sql.DB, scan func(scanner) (T, error), name string, args ...any) ([]T, error) {
	rows, err := db.QueryContext(ctx, statement(name), args...)
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
	next := Revision{Job: draft.Job, N: 1, SHA256: hashOf(draft.Bytes), Parent: draft.Parent,
		Author: draft.Author, Time: draft.Time, Bytes: draft.Bytes}
	at := field.FormatTime(draft.Time)
	err := d.within(ctx, func(tx *sql.Tx) error {
		if _, err := getJob(ctx, tx, draft.Job); err != nil {
			return err
		}
		newest, err := scanRevision(tx.QueryRowContext(ctx, statement("revision_newest"), draft.Job))
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
		_, err = tx.ExecContext(ctx, statement("revision_insert"), next.Job, next.N, next.SHA256,
			next.Parent, next.Author, at, next.Bytes)
		return err
	})
	if err != nil {
		return Revision{}, err
	}
	return next, nil
}

func (d *database) Newest(ctx context.Context, job field.ID) (Revision, error) {
	r, err := scanRevision(d.read.QueryRowContext(ctx, statement("revision_newest"), job))
	return r, notFound(err)
}

func (d *database) Revision(ctx context.Context, job field.ID, n int) (Revision, error) {
	r, err := scanRevision(d.read.QueryRowContext(ctx, statement("revision_get"), job, n))
	return r, notFound(err)
}

func (d *database) History(ctx context.Context, job field.ID) ([]Revision, error) {
	return list(ctx, d.read, scanRevision, "revision_list", job)
}

func (d *database) PutBlob(ctx context.Context, b []byte) (string, error) {
	if n := len(b); n == 0 || n > MaxBlob {
		return "", tooLong("file", n, MaxBlob)
	}
	hash := hashOf(b)
	err := d.within(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, statement("blob_insert"), hash, b)
		return err
	})
	if err != nil {
		return "", err
	}
	return hash, nil
}

func (d *database) Blob(ctx context.Context, sha256 string) ([]byte, error) {
	var b []byte
	if err := d.read.QueryRowContext(ctx, statement("blob_get"), sha256).Scan(&b); err != nil {
		return nil, notFound(err)
	}
	if got := hashOf(b); got != sha256 {
		return nil, fmt.Errorf("blob %s is damaged: its bytes have the hash %s", sha256, got)
	}
	return b, nil
}

func tooLong(what string, n, most int) error {
	return where.Error{Came: strconv.Itoa(n) + " bytes",
		Expected: "a " + what + " of 1 to " + strconv.Itoa(most) + " bytes"}
}

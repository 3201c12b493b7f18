package store

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"hash"
	"io"
	"time"

	"legwork/field"
)

// page is how many events are in memory at once.
const page = 1000

func (d *database) Export(ctx context.Context, w io.Writer, made time.Time) (Contents, error) {
	// All is read in one transaction: the store as it was at one instant, while
	// others go on writing. SQLite's transactions are all of that kind.
	var as *sql.TxOptions
	if d.dialect == onPostgres {
		as = &sql.TxOptions{Isolation: sql.LevelRepeatableRead, ReadOnly: true}
	}
	tx, err := d.read.BeginTx(ctx, as)
	if err != nil {
		return Contents{}, err
	}
	defer tx.Rollback()
	x := &exporter{tx: tx, d: d.dialect, zip: zip.NewWriter(w),
		manifest: manifest{Schema: archiveSchema, Made: field.FormatTime(made)}, contents: Contents{Made: made}}
	if err := x.all(ctx); err != nil {
		return Contents{}, err
	}
	return x.contents, x.zip.Close()
}

type exporter struct {
	tx       *sql.Tx
	d        dialect
	zip      *zip.Writer
	manifest manifest
	contents Contents
}

func (x *exporter) all(ctx context.Context) error {
	jobs, err := list(ctx, x.tx, x.d, scanJob, "job_list")
	if err != nil {
		return err
	}
	for _, j := range jobs {
		if err := x.job(ctx, j); err != nil {
			return err
		}
	}
	hashes, err := list(ctx, x.tx, x.d, scanText, "blob_list")
	if err != nil {
		return err
	}
	for _, h := range hashes {
		var b []byte
		if err := x.tx.QueryRowContext(ctx, x.d.statement("blob_get"), h).Scan(&b); err != nil {
			return err
		}
		if err := x.file(blobPath(h), zip.Store, b); err != nil {
			return err
		}
		x.contents.Blobs++
	}
	b, err := json.MarshalIndent(x.manifest, "", " ")
	if err != nil {
		return err
	}
	out, err := x.zip.Create(manifestName)
	if err != nil {
		return err
	}
	_, err = out.Write(append(b, '\n'))
	return err
}

func scanText(row scanner) (s string, err error) { return s, row.Scan(&s) }

func (x *exporter) job(ctx context.Context, j Job) error {
	b, err := json.Marshal(archivedJob{j.ID, j.Name, field.FormatTime(j.Created)})
	if err != nil {
		return err
	}
	if err := x.file(jobPath(j.ID, "job.json"), zip.Deflate, append(b, '\n')); err != nil {
		return err
	}
	x.contents.Jobs++
	history, err := list(ctx, x.tx, x.d, scanRevision, "revision_list", j.ID)
	if err != nil {
		return err
	}
	var lines []byte
	for _, r := range history {
		if r, err = scanRevision(x.tx.QueryRowContext(ctx, x.d.statement("revision_get"), j.ID, r.N)); err != nil {
			return err
		}
		if err := x.file(revisionPath(j.ID, r.N), zip.Deflate, r.Bytes); err != nil {
			return err
		}
		b, err := json.Marshal(archive(r))
		if err != nil {
			return err
		}
		lines = append(append(lines, b...), '\n')
		x.contents.Revisions++
	}
	if err := x.file(jobPath(j.ID, "revisions.jsonl"), zip.Deflate, lines); err != nil {
		return err
	}
	if err := x.events(ctx, j.ID); err != nil {
		return err
	}
	disputed, err := list(ctx, x.tx, x.d, scanBytes, "disputed_list", j.ID)
	if err != nil {
		return err
	}
	x.contents.Disputed += len(disputed)
	return x.file(jobPath(j.ID, "disputed.jsonl"), zip.Deflate, joined(disputed))
}

func scanBytes(row scanner) (b []byte, err error) { return b, row.Scan(&b) }

func joined(lines [][]byte) []byte {
	var b bytes.Buffer
	for _, l := range lines {
		b.Write(l)
		b.WriteByte('\n')
	}
	return b.Bytes()
}

// events writes a job's events as they are kept, in order of arrival.
func (x *exporter) events(ctx context.Context, job field.ID) error {
	out, err := x.open(jobPath(job, "events.jsonl"), zip.Deflate)
	if err != nil {
		return err
	}
	var last int64
	for {
		some, err := list(ctx, x.tx, x.d, func(row scanner) (b []byte, err error) { return b, row.Scan(&last, &b) },
			"event_since", job, last, page)
		if err != nil {
			return err
		}
		if _, err := out.Write(joined(some)); err != nil {
			return err
		}
		x.contents.Events += len(some)
		if len(some) < page {
			break
		}
	}
	x.close(out)
	return nil
}

// entry is a file under way.
type entry struct {
	name string
	to   io.Writer
	sum  hash.Hash
	n    int64
}

func (e *entry) Write(b []byte) (int, error) {
	e.sum.Write(b)
	e.n += int64(len(b))
	return e.to.Write(b)
}

func (x *exporter) open(name string, method uint16) (*entry, error) {
	// No time of change: the same store gives the same bytes.
	to, err := x.zip.CreateHeader(&zip.FileHeader{Name: name, Method: method})
	return &entry{name: name, to: to, sum: sha256.New()}, err
}

func (x *exporter) close(e *entry) {
	x.manifest.Files = append(x.manifest.Files, manifestFile{e.name, e.n, hex.EncodeToString(e.sum.Sum(nil))})
}

func (x *exporter) file(name string, method uint16, b []byte) error {
	e, err := x.open(name, method)
	if err != nil {
		return err
	}
	if _, err := e.Write(b); err != nil {
		return err
	}
	x.close(e)
	return nil
}

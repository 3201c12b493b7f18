package store

import (
	"archive/zip"
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"legwork/field"
	"legwork/where"
)

func (d *database) Import(ctx context.Context, r io.ReaderAt, size int64) (Contents, error) {
	a, err := openArchive(r, size)
	if err != nil {
		return Contents{}, err
	}
	err = d.within(ctx, func(tx *sql.Tx) error { return a.into(ctx, d, tx) })
	if err != nil {
		return Contents{}, err
	}
	return a.contents, nil
}

// opened is an archive whose names, lengths and manifest agree; the bytes are
// held against their hashes as they are read.
type opened struct {
	files    map[string]*zip.File
	listed   map[string]manifestFile
	jobs     []field.ID
	contents Contents
}

func fault(path, came, expected string) error {
	return where.Error{Path: path, Came: came, Expected: expected}
}

func openArchive(r io.ReaderAt, size int64) (*opened, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, fault("", err.Error(), "an archive as legwork store export writes it")
	}
	if len(z.File) > maxFiles {
		return nil, fault("", strconv.Itoa(len(z.File))+" files", "at most "+strconv.Itoa(maxFiles))
	}
	a := &opened{files: map[string]*zip.File{}, listed: map[string]manifestFile{}}
	total := uint64(0)
	for _, f := range z.File {
		most, err := mostOf(f.Name)
		if err != nil {
			return nil, err
		}
		if a.files[f.Name] != nil {
			return nil, fault(f.Name, "a second file of this name", "each name once")
		}
		total += f.UncompressedSize64
		if f.UncompressedSize64 > uint64(most) || total > maxTotal {
			return nil, fault(f.Name, strconv.FormatUint(f.UncompressedSize64, 10)+" bytes",
				"at most "+strconv.FormatInt(most, 10)+", all together at most "+strconv.FormatInt(maxTotal, 10))
		}
		a.files[f.Name] = f
	}
	return a, a.readManifest()
}

// readManifest holds that the manifest names all files and no others.
func (a *opened) readManifest() error {
	f := a.files[manifestName]
	if f == nil {
		return fault(manifestName, "nothing", "the list of all files")
	}
	b, err := whole(f)
	if err != nil {
		return err
	}
	var m manifest
	if err := strict(b, &m, manifestName); err != nil {
		return err
	}
	if m.Schema != archiveSchema {
		return fault(manifestName+": schema", strconv.Quote(m.Schema), archiveSchema)
	}
	if a.contents.Made, err = field.ParseTime(m.Made); err != nil {
		return err
	}
	for _, l := range m.Files {
		f := a.files[l.Name]
		switch _, twice := a.listed[l.Name]; {
		case f == nil || l.Name == manifestName:
			return fault(manifestName, strconv.Quote(l.Name)+", which is not there", "only files of the archive")
		case twice:
			return fault(manifestName, strconv.Quote(l.Name)+" a second time", "each name once")
		case uint64(l.Bytes) != f.UncompressedSize64 || !IsHash(l.SHA256):
			return fault(l.Name, strconv.FormatUint(f.UncompressedSize64, 10)+" bytes", fmt.Sprintf("%d bytes with a SHA-256, as the manifest says", l.Bytes))
		}
		a.listed[l.Name] = l
	}
	for _, name := range slices.Sorted(maps.Keys(a.files)) {
		if _, ok := a.listed[name]; !ok && name != manifestName {
			return fault(name, "a file that the manifest does not name", "only files of the manifest")
		}
		id, ok := strings.CutPrefix(name, "jobs/")
		if !ok {
			continue
		}
		id, rest, _ := strings.Cut(id, "/")
		if a.files[jobPath(field.ID(id), "job.json")] == nil {
			return fault(name, "a file of a job that has no job.json", "every job with its job.json")
		}
		if rest == "job.json" {
			a.jobs = append(a.jobs, field.ID(id))
		}
	}
	return nil
}

// whole reads a file that is not larger than it says.
func whole(f *zip.File) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, broken(f.Name, err)
	}
	defer r.Close()
	b, err := io.ReadAll(io.LimitReader(r, int64(f.UncompressedSize64)+1))
	if err != nil {
		return nil, broken(f.Name, err)
	}
	if uint64(len(b)) != f.UncompressedSize64 {
		return nil, fault(f.Name, "more bytes than it says", strconv.FormatUint(f.UncompressedSize64, 10)+" bytes")
	}
	return b, nil
}

func broken(name string, err error) error {
	return fault(name, err.Error(), "a file that can be unpacked")
}

func strict(b []byte, v any, name string) error {
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	err := d.Decode(v)
	if err == nil && d.More() {
		err = errors.New("something after the end")
	}
	if err != nil {
		return fault(name, err.Error(), "as docs/formats/archive.md says")
	}
	return nil
}

// read is a file of the manifest, held against its hash.
func (a *opened) read(name string) ([]byte, error) {
	f := a.files[name]
	if f == nil {
		return nil, fault(name, "nothing", "this file")
	}
	b, err := whole(f)
	if err != nil {
		return nil, err
	}
	return b, a.judge(name, Hash(b))
}

func (a *opened) judge(name, got string) error {
	if want := a.listed[name].SHA256; got != want {
		return fault(name, "bytes with the hash "+got, "bytes with the hash "+want)
	}
	return nil
}

// into brings all of it into a store, or nothing.
func (a *opened) into(ctx context.Context, d *database, tx *sql.Tx) error {
	a.contents = Contents{Made: a.contents.Made, Jobs: len(a.jobs)}
	read := 1 // the manifest
	for _, id := range a.jobs {
		n, err := a.job(ctx, d, tx, id)
		if err != nil {
			return err
		}
		read += n
	}
	// What is disputed comes after all that it may dispute.
	for _, kind := range []struct {
		name  string
		count *int
	}{{"events.jsonl", &a.contents.Events}, {"disputed.jsonl", &a.contents.Disputed}} {
		for _, id := range a.jobs {
			n, err := a.events(ctx, d, tx, id, kind.name)
			if err != nil {
				return err
			}
			*kind.count += n
			read++
		}
	}
	for _, name := range slices.Sorted(maps.Keys(a.listed)) {
		hash, ok := strings.CutPrefix(name, "blobs/")
		if !ok {
			continue
		}
		b, err := a.read(name)
		if err != nil {
			return err
		}
		if got := Hash(b); got != hash || len(b) == 0 {
			return fault(name, "bytes with the hash "+got, "bytes with the hash of its name")
		}
		if _, err := tx.ExecContext(ctx, d.statement("blob_insert"), hash, b); err != nil {
			return err
		}
		a.contents.Blobs++
		read++
	}
	if read != len(a.files) {
		return fault("", strconv.Itoa(len(a.files)-read)+" files that nothing names", "only revisions that revisions.jsonl lists")
	}
	return nil
}

// job enters a job and its revisions; n counts the files read.
func (a *opened) job(ctx context.Context, d *database, tx *sql.Tx, id field.ID) (n int, err error) {
	name := jobPath(id, "job.json")
	b, err := a.read(name)
	if err != nil {
		return 0, err
	}
	var j archivedJob
	if err := strict(b, &j, name); err != nil {
		return 0, err
	}
	created, err := field.ParseTime(j.Created)
	if err != nil || j.ID != id {
		return 0, fault(name, strings.TrimSpace(string(b)), "the job "+string(id)+" with the instant of its making")
	}
	if err := plainText(name, j.Name); err != nil {
		return 0, err
	}
	if err := d.createJob(ctx, tx, Job{j.ID, j.Name, created}); err != nil {
		return 0, err
	}
	name = jobPath(id, "revisions.jsonl")
	history, err := a.read(name)
	if err != nil {
		return 0, err
	}
	parent := ""
	for line := range bytes.Lines(history) {
		var r archivedRevision
		if err := strict(line, &r, name); err != nil {
			return 0, err
		}
		a.contents.Revisions++
		n++
		if r.N != n || r.Parent != parent {
			return 0, fault(name, strings.TrimSpace(string(line)), fmt.Sprintf("revision %d after the hash %q", n, parent))
		}
		parent = r.SHA256
		if err := a.revision(ctx, d, tx, id, r); err != nil {
			return 0, err
		}
	}
	return n + 2, nil
}

func (a *opened) revision(ctx context.Context, d *database, tx *sql.Tx, id field.ID, r archivedRevision) error {
	name := revisionPath(id, r.N)
	b, err := a.read(name)
	if err != nil {
		return err
	}
	if Hash(b) != r.SHA256 || len(b) == 0 {
		return fault(name, "bytes with the hash "+Hash(b), "bytes with the hash "+r.SHA256+", as revisions.jsonl says")
	}
	if _, err := field.ParseTime(r.Time); err != nil {
		return err
	}
	if err := plainText(name+": author", r.Author); err != nil {
		return err
	}
	there, err := scanRevision(tx.QueryRowContext(ctx, d.statement("revision_get"), id, r.N))
	switch {
	case errors.Is(err, sql.ErrNoRows):
		_, err = tx.ExecContext(ctx, d.statement("revision_insert"), id, r.N, r.SHA256, r.Parent, r.Author, r.Time, b)
		return err
	case err != nil:
		return err
	case archive(there) != r:
		return fault(name, "another revision of this number is in the store", "the revision "+there.SHA256+", which is there, or a store without it")
	}
	return nil
}

// events enters a file of events of a job, one at a time.
func (a *opened) events(ctx context.Context, d *database, tx *sql.Tx, id field.ID, kind string) (n int, err error) {
	name := jobPath(id, kind)
	f := a.files[name]
	if f == nil {
		return 0, fault(name, "nothing", "this file")
	}
	if _, err := d.holdJob(ctx, tx, id); err != nil {
		return 0, err
	}
	r, err := f.Open()
	if err != nil {
		return 0, broken(name, err)
	}
	defer r.Close()
	sum := sha256.New()
	lines := bufio.NewScanner(io.TeeReader(io.LimitReader(r, int64(f.UncompressedSize64)+1), sum))
	lines.Buffer(nil, field.MaxEvent+1)
	for lines.Scan() {
		n++
		at := name + ", line " + strconv.Itoa(n)
		e, err := field.Decode(lines.Bytes(), at)
		if err != nil {
			return 0, err
		}
		if e.Job != id {
			return 0, fault(at, "an event of the job "+string(e.Job), "an event of the job "+string(id))
		}
		ack, err := d.appendOne(ctx, tx, e, true)
		if err != nil {
			return 0, err
		}
		if ack.Refused != nil && !ack.Kept {
			return 0, *ack.Refused
		}
	}
	if err := lines.Err(); err != nil {
		return 0, broken(name, err)
	}
	return n, a.judge(name, hex.EncodeToString(sum.Sum(nil)))
}

package store

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"legwork/field"
	"legwork/where"
)

// furnished fills a store with one of everything: two jobs, a history, events,
// a disputed one, photos.
func furnished(t *testing.T, s Store) (jobs []field.ID) {
	t.Helper()
	src := seed(20)
	for i, name := range []string{"oak", "elm"} {
		job, phone := newID(t, src), newID(t, src)
		jobs = append(jobs, job)
		if err := s.CreateJob(ctx, Job{job, name, noon}); err != nil {
			t.Fatal(err)
		}
		parent := ""
		for n := range 3 {
			r, err := s.SaveRevision(ctx, Draft{Job: job, Parent: parent, Bytes: fmt.Appendf(nil, "name: %s\r\nn: %d\n", name, n), Author: "Ana", Time: noon})
			if err != nil {
				t.Fatal(err)
			}
			parent = r.SHA256
		}
		var all []field.Event
		for n := range 4 + i {
			all = append(all, note(newID(t, src), job, phone, n+1, fmt.Sprint(name, n)))
		}
		other := all[1]
		other.Body = []byte(`{"text":"another story"}`)
		mustAppend(t, s, append(all, other)...)
		if _, err := s.PutBlob(ctx, []byte("photo of "+name+"\x00\xff")); err != nil {
			t.Fatal(err)
		}
	}
	return jobs
}

func export(t *testing.T, s Store) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := s.Export(ctx, &b, noon); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func take(s Store, b []byte) (Contents, error) {
	return s.Import(ctx, bytes.NewReader(b), int64(len(b)))
}

// wholeStore is what furnished puts in, counted by hand.
var wholeStore = Contents{Made: noon, Jobs: 2, Revisions: 6, Events: 9, Disputed: 2, Blobs: 2}

func testArchive(t *testing.T, fresh func(t *testing.T) Store) {
	from := fresh(t)
	jobs := furnished(t, from)
	b := export(t, from)
	// Through both databases and back the bytes are the same.
	sqlite := openDir(t, t.TempDir())
	defer sqlite.Close()
	for range 2 { // the second time changes nothing
		if got, err := take(sqlite, b); err != nil || got != wholeStore {
			t.Fatalf("got %+v, %v; want %+v", got, err, wholeStore)
		}
	}
	if !bytes.Equal(export(t, sqlite), b) {
		t.Error("the archive of what was imported differs")
	}
	if got, err := take(from, b); err != nil || got != wholeStore || !bytes.Equal(export(t, from), b) {
		t.Errorf("into the store that it is from: %+v, %v", got, err)
	}
	for i, job := range jobs {
		got, err := sqlite.EventsSince(ctx, job, 0, 100)
		want, errW := from.EventsSince(ctx, job, 0, 100)
		if err != nil || errW != nil || len(got) != 4+i || len(want) != 4+i {
			t.Fatalf("%d events, %v, %v", len(got), err, errW)
		}
		for n := range got {
			if got[n].Cursor != want[n].Cursor || got[n].ID != want[n].ID {
				t.Errorf("event %d: %+v, want %+v", n, got[n], want[n])
			}
		}
	}
	// A store that went on by itself: its own stays, what differs is refused.
	busy := fresh(t)
	if err := busy.CreateJob(ctx, Job{jobs[1], "elm", noon}); err != nil {
		t.Fatal(err)
	}
	if _, err := busy.SaveRevision(ctx, Draft{Job: jobs[1], Bytes: []byte("name: other\n"), Author: "Ben", Time: noon}); err != nil {
		t.Fatal(err)
	}
	var at where.Error
	if _, err := take(busy, b); !errors.As(err, &at) || !strings.Contains(at.Came, "another revision") {
		t.Errorf("another history: got %v", err)
	}
	if there, err := busy.Jobs(ctx); err != nil || len(there) != 1 {
		t.Errorf("a refused archive left %d jobs, %v; want the one that was there", len(there), err)
	}
}

// repacked is an archive with its files changed: nil takes one away. Manifest
// and hashes follow unless the change is of the manifest.
func repacked(t testing.TB, b []byte, change map[string][]byte, twice string) []byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, f := range z.File {
		if files[f.Name], err = whole(f); err != nil {
			t.Fatal(err)
		}
	}
	delete(files, manifestName)
	maps.Copy(files, change)
	m := manifest{Schema: archiveSchema, Made: field.FormatTime(noon)}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	put := func(name string, b []byte) {
		e, err := w.Create(name)
		if err == nil {
			_, err = e.Write(b)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if files[name] == nil || name == manifestName {
			continue
		}
		put(name, files[name])
		m.Files = append(m.Files, manifestFile{name, int64(len(files[name])), Hash(files[name])})
	}
	if twice != "" {
		put(twice, files[twice])
	}
	list, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	if own, ok := change[manifestName]; ok {
		list = own
	}
	if list != nil {
		put(manifestName, list)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// bomb says that it is small and unpacks to more.
func bomb(t *testing.T) []byte {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	e, err := w.Create(manifestName)
	if err == nil {
		_, err = e.Write(bytes.Repeat([]byte{' '}, 100<<10))
	}
	if err = errors.Join(err, w.Close()); err != nil {
		t.Fatal(err)
	}
	// The uncompressed size stands in the central directory, 24 bytes in.
	b := out.Bytes()
	at := bytes.LastIndex(b, []byte("PK\x01\x02")) + 24
	copy(b[at:], []byte{10, 0, 0, 0})
	return b
}

func TestHostileArchives(t *testing.T) {
	from := openDir(t, t.TempDir())
	defer from.Close()
	jobs := furnished(t, from)
	b := export(t, from)
	oak, src := jobs[0], seed(21)
	photo := Hash([]byte("photo of oak\x00\xff"))
	foreign := note(newID(t, src), jobs[1], newID(t, src), 1, "whose?")
	line, err := foreign.Canonical()
	if err != nil {
		t.Fatal(err)
	}
	one := func(name string, text string) []byte {
		return repacked(t, b, map[string][]byte{name: []byte(text)}, "")
	}
	for _, tt := range []struct {
		name    string
		archive []byte
		says    string
	}{
		{"no archive", []byte("oak"), "an archive as legwork store export"},
		{"cut short", b[:len(b)-30], "an archive as legwork store export"},
		{"a path that leads out", one("jobs/../../etc/passwd", "x"), "only what an archive holds"},
		{"an absolute path", one("/etc/passwd", "x"), "only what an archive holds"},
		{"a path of another system", one(`blobs\..\x`, "x"), "only what an archive holds"},
		{"a job of a forged id", one("jobs/------------------------------------/job.json", "{}"), "only what an archive holds"},
		{"a name twice", repacked(t, b, nil, blobPath(photo)), "each name once"},
		{"no manifest", repacked(t, b, map[string][]byte{manifestName: nil}, ""), "the list of all files"},
		{"a manifest of another kind", one(manifestName, `{"schema":"archive/9"}`), "archive/1"},
		{"a manifest with more in it", one(manifestName, `{"schema":"archive/1","extra":1}`), "unknown field"},
		{"a manifest that names nothing", one(manifestName, `{"schema":"archive/1","made":"2026-05-04T12:00:00.000Z"}`), "only files of the manifest"},
		{"a blob of another hash", one(blobPath(photo), "phot0"), "the hash of its name"},
		{"a document of another hash", one(revisionPath(oak, 2), "name: changed\n"), "as revisions.jsonl says"},
		{"a revision left out", repacked(t, b, map[string][]byte{revisionPath(oak, 2): nil}, ""), "expected this file"},
		{"a revision that nothing lists", one(revisionPath(oak, 9), "name: x\n"), "files that nothing names"},
		{"a history that skips", one(jobPath(oak, "revisions.jsonl"), `{"n":2,"sha256":"","parent":"","author":"","time":""}`+"\n"), "revision 1 after"},
		{"an event of another job", one(jobPath(oak, "events.jsonl"), string(line)+"\n"), "an event of the job"},
		{"an event that is none", one(jobPath(oak, "events.jsonl"), "{}\n"), "the member"},
		{"an event without end", one(jobPath(oak, "events.jsonl"), strings.Repeat("x", field.MaxEvent+10)), "too long"},
		{"another job under this id", one(jobPath(oak, "job.json"), `{"id":"`+string(jobs[1])+`","name":"x","created":"2026-05-04T12:00:00.000Z"}`), "the job " + string(oak)},
		{"a job without job.json", repacked(t, b, map[string][]byte{jobPath(oak, "job.json"): nil}, ""), "every job with its job.json"},
		{"a document that is too large", one(revisionPath(oak, 1), strings.Repeat("x", MaxDocument+1)), "at most 4194304"},
		{"a file that unpacks to more than it says", bomb(t), "manifest.json"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			s := openDir(t, dir)
			defer s.Close()
			_, err := take(s, tt.archive)
			var one where.Error
			var many where.Errors
			if !errors.As(err, &one) && !errors.As(err, &many) || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %v, want %q", err, tt.says)
			}
			if jobs, err := s.Jobs(ctx); err != nil || len(jobs) > 0 {
				t.Errorf("%d jobs are left, %v", len(jobs), err)
			}
		})
	}
	// A byte of a stored photo flipped, with nothing else changed.
	flipped := bytes.Replace(b, []byte("photo of oak"), []byte("photo of oax"), 1)
	s := openDir(t, t.TempDir())
	defer s.Close()
	if _, err := take(s, flipped); err == nil || bytes.Equal(flipped, b) {
		t.Error("took a flipped byte")
	}
}

func FuzzImport(f *testing.F) {
	dir := f.TempDir()
	from, err := Open(dir)
	if err != nil {
		f.Fatal(err)
	}
	defer from.Close()
	if err := from.CreateJob(ctx, Job{newID(f, seed(22)), "oak", noon}); err != nil {
		f.Fatal(err)
	}
	var b bytes.Buffer
	if _, err := from.Export(ctx, &b, noon); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add(b.Bytes()[:b.Len()/2])
	f.Fuzz(func(t *testing.T, b []byte) {
		_, err := take(from, b)
		var one where.Error
		var many where.Errors
		if err != nil && !errors.As(err, &one) && !errors.As(err, &many) && !errors.Is(err, ErrJobTaken) {
			t.Fatalf("no word for a person: %v", err)
		}
	})
}

// A copy made while phones send is a whole store: all that was acknowledged
// before it began is in it, and nothing is there in half.
func TestBackupWhileWriting(t *testing.T) {
	dir, src := t.TempDir(), seed(23)
	s := openDir(t, dir)
	defer s.Close()
	job, phone := newID(t, src), newID(t, src)
	if err := s.CreateJob(ctx, Job{job, "oak", noon}); err != nil {
		t.Fatal(err)
	}
	var before []field.Event
	for n := range 20 {
		before = append(before, note(newID(t, src), job, phone, n+1, "x"))
	}
	mustAppend(t, s, before...)
	stop, ended := make(chan bool), make(chan error)
	go func() {
		for n := 20; ; n++ {
			select {
			case <-stop:
				ended <- nil
				return
			default:
				id, err := field.NewID(noon, src)
				if err == nil {
					_, err = s.Append(ctx, []field.Event{note(id, job, phone, n+1, "y")})
				}
				if err != nil {
					<-stop
					ended <- err
					return
				}
			}
		}
	}()
	time.Sleep(20 * time.Millisecond)
	copies := t.TempDir()
	file := filepath.Join(copies, "legwork.db")
	err := Backup(ctx, dir, file)
	var archived bytes.Buffer
	_, errX := s.Export(ctx, &archived, noon)
	close(stop)
	if err := errors.Join(err, errX, <-ended); err != nil {
		t.Fatal(err)
	}
	for name, open := range map[string]func(t *testing.T, dir string) Store{
		"backup": func(t *testing.T, _ string) Store { return openDir(t, copies) },
		"export": func(t *testing.T, dir string) Store {
			s := openDir(t, dir)
			if _, err := take(s, archived.Bytes()); err != nil {
				t.Fatal(err)
			}
			return s
		},
	} {
		t.Run(name, func(t *testing.T) {
			c := open(t, t.TempDir())
			defer c.Close()
			got, err := c.EventsSince(ctx, job, 0, 1<<30)
			if err != nil || len(got) < len(before) {
				t.Fatalf("%d events, %v; want %d or more", len(got), err, len(before))
			}
			for i, e := range got {
				if e.Cursor != int64(i+1) || i < len(before) && e.ID != before[i].ID {
					t.Fatalf("event %d: %+v", i, e)
				}
			}
		})
	}
	if err := Backup(ctx, dir, file); !errors.Is(err, os.ErrExist) {
		t.Errorf("over a file that is there: %v", err)
	}
	if left, err := os.ReadDir(copies); err != nil || slices.ContainsFunc(left, func(e os.DirEntry) bool { return strings.Contains(e.Name(), "backup") }) {
		t.Errorf("left behind: %v, %v", left, err)
	}
	if err := Backup(ctx, t.TempDir(), filepath.Join(copies, "other.db")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("of a folder without a store: %v", err)
	}
}

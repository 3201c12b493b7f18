package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"legwork/field"
	"legwork/where"

	"pgregory.net/rapid"
)

var (
	ctx  = context.Background()
	noon = time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)
)

// newID makes ids from a seeded source.
func newID(t interface{ Fatal(...any) }, src *rand.ChaCha8) field.ID {
	id, err := field.NewID(noon, src)
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func seed(n byte) *rand.ChaCha8 { return rand.NewChaCha8([32]byte{n}) }

// note is the n-th event of a device.
func note(id, job, device field.ID, n int, words string) field.Event {
	var clock field.HLC
	return field.Event{ID: id, Job: job, Device: device, Seq: int64(n), V: 1, Kind: field.Note,
		HLC: clock.Next(noon.Add(time.Duration(n) * time.Second)), Body: fmt.Appendf(nil, `{"text":%q}`, words)}
}

// testStore is what every database must do. open opens the store of a folder,
// again after it was closed.
func testStore(t *testing.T, open func(t *testing.T, dir string) Store) {
	fresh := func(t *testing.T) Store {
		s := open(t, t.TempDir())
		t.Cleanup(func() {
			if err := s.Close(); err != nil {
				t.Error(err)
			}
		})
		return s
	}
	withJob := func(t *testing.T) (Store, field.ID) {
		s := fresh(t)
		job := newID(t, seed(1))
		if err := s.CreateJob(ctx, Job{job, "118 Quillfeather Lane", noon}); err != nil {
			t.Fatal(err)
		}
		return s, job
	}
	t.Run("jobs", func(t *testing.T) { testJobs(t, fresh(t)) })
	t.Run("revisions", func(t *testing.T) { s, job := withJob(t); testRevisions(t, s, job) })
	t.Run("two editors", func(t *testing.T) { s, job := withJob(t); testTwoEditors(t, s, job) })
	t.Run("events", func(t *testing.T) { s, job := withJob(t); testEvents(t, s, job) })
	t.Run("disputed events", func(t *testing.T) { s, job := withJob(t); testDisputed(t, s, job) })
	t.Run("many phones at once", func(t *testing.T) { s, job := withJob(t); testPhones(t, s, job) })
	t.Run("any order of arrival", func(t *testing.T) { testArrival(t, fresh(t)) })
	t.Run("blobs", func(t *testing.T) { testBlobs(t, fresh(t)) })
	t.Run("archive", func(t *testing.T) { testArchive(t, fresh) })
	t.Run("two programs at once", func(t *testing.T) { testTwoPrograms(t, open) })
	t.Run("closed and opened", func(t *testing.T) { testReopen(t, open) })
}

func testJobs(t *testing.T, s Store) {
	src := seed(2)
	a, b := Job{newID(t, src), "oak", noon}, Job{newID(t, src), "elm", noon.Add(time.Hour)}
	for _, j := range []Job{b, a, b} { // the second time changes nothing
		if err := s.CreateJob(ctx, j); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.CreateJob(ctx, Job{a.ID, "ash", noon}); !errors.Is(err, ErrJobTaken) {
		t.Errorf("another job of the same id: got %v, want %v", err, ErrJobTaken)
	}
	var at where.Error
	if err := s.CreateJob(ctx, Job{"../oak", "oak", noon}); !errors.As(err, &at) {
		t.Errorf("forged id: got %v, want where.Error", err)
	}
	for name, text := range map[string]string{"zero byte": "o\x00k", "not UTF-8": "o\xffk", "too long": strings.Repeat("o", 1001)} {
		if err := s.CreateJob(ctx, Job{newID(t, src), text, noon}); !errors.As(err, &at) {
			t.Errorf("name with %s: got %v, want where.Error", name, err)
		}
	}
	if got, err := s.Job(ctx, a.ID); err != nil || got != a {
		t.Errorf("got %v, %v; want %v", got, err, a)
	}
	if _, err := s.Job(ctx, newID(t, src)); !errors.Is(err, ErrNotFound) {
		t.Errorf("no such job: got %v", err)
	}
	want := []Job{a, b}
	slices.SortFunc(want, func(x, y Job) int { return strings.Compare(string(x.ID), string(y.ID)) })
	got, err := s.Jobs(ctx)
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("got %v, %v; want %v", got, err, want)
	}
}

func testRevisions(t *testing.T, s Store, job field.ID) {
	if _, err := s.Newest(ctx, job); !errors.Is(err, ErrNotFound) {
		t.Errorf("before the first: got %v, want %v", err, ErrNotFound)
	}
	first := Draft{Job: job, Bytes: []byte("# Ω\r\nname: oak  \n\n"), Author: "Ana", Time: noon}
	one, err := s.SaveRevision(ctx, first)
	if err != nil {
		t.Fatal(err)
	}
	// printf '# Ω\r\nname: oak  \n\n' | sha256sum
	const sum = "8a845fc6cead0d81380a078a111ff8afe23882db2f0698c789af2facaf52e953"
	if one.N != 1 || one.SHA256 != sum || one.Parent != "" || one.Author != "Ana" || !one.Time.Equal(noon) {
		t.Errorf("first: got %+v", one)
	}
	second := Draft{Job: job, Parent: one.SHA256, Bytes: []byte("name: elm\n"), Author: "Ben", Time: noon.Add(time.Hour)}
	two, err := s.SaveRevision(ctx, second)
	if err != nil || two.N != 2 || two.Parent != one.SHA256 {
		t.Fatalf("second: got %+v, %v", two, err)
	}
	if again, err := s.SaveRevision(ctx, second); err != nil || again.N != 2 {
		t.Errorf("sent again: got %+v, %v", again, err)
	}
	back := Draft{Job: job, Parent: two.SHA256, Bytes: first.Bytes, Author: "Ana", Time: noon.Add(2 * time.Hour)}
	if three, err := s.SaveRevision(ctx, back); err != nil || three.N != 3 || three.SHA256 != one.SHA256 {
		t.Errorf("back to the first text: got %+v, %v", three, err)
	}
	for n, want := range map[int][]byte{1: first.Bytes, 2: second.Bytes, 3: first.Bytes} {
		if r, err := s.Revision(ctx, job, n); err != nil || !bytes.Equal(r.Bytes, want) {
			t.Errorf("revision %d: got %q, %v; want %q", n, r.Bytes, err, want)
		}
	}
	if _, err := s.Revision(ctx, job, 4); !errors.Is(err, ErrNotFound) {
		t.Errorf("revision 4: got %v, want %v", err, ErrNotFound)
	}
	history, err := s.History(ctx, job)
	if err != nil || len(history) != 3 {
		t.Fatalf("history: got %d, %v; want 3", len(history), err)
	}
	for i, r := range history {
		if r.N != i+1 || r.Bytes != nil {
			t.Errorf("history: got %+v at %d", r, i)
		}
	}
	stranger := newID(t, seed(9))
	if _, err := s.SaveRevision(ctx, Draft{Job: stranger, Bytes: []byte("x")}); !errors.Is(err, ErrNotFound) {
		t.Errorf("unknown job: got %v, want %v", err, ErrNotFound)
	}
	for name, b := range map[string][]byte{"empty": nil, "too long": make([]byte, MaxDocument+1)} {
		var at where.Error
		if _, err := s.SaveRevision(ctx, Draft{Job: job, Parent: one.SHA256, Bytes: b}); !errors.As(err, &at) {
			t.Errorf("%s: got %v, want where.Error", name, err)
		}
	}
}

// The second editor is told; nothing of his is written and nothing overwritten.
func testTwoEditors(t *testing.T, s Store, job field.ID) {
	base, err := s.SaveRevision(ctx, Draft{Job: job, Bytes: []byte("v: 0\n"), Author: "Ana", Time: noon})
	if err != nil {
		t.Fatal(err)
	}
	const editors = 8
	var saved, told sync.Map
	var wait sync.WaitGroup
	for i := range editors {
		wait.Go(func() {
			text := fmt.Sprintf("v: %d\n", i+1)
			r, err := s.SaveRevision(ctx, Draft{Job: job, Parent: base.SHA256, Bytes: []byte(text),
				Author: fmt.Sprint("editor ", i), Time: noon})
			var c *Conflict
			switch {
			case err == nil:
				saved.Store(text, r)
			case errors.As(err, &c):
				told.Store(i, c)
			default:
				t.Error(err)
			}
		})
	}
	wait.Wait()
	var winner Revision
	saved.Range(func(_, r any) bool {
		if winner.N != 0 {
			t.Error("two editors saved onto one parent")
		}
		winner = r.(Revision)
		return true
	})
	n := 0
	told.Range(func(_, c any) bool {
		n++
		if got := c.(*Conflict).Newest; got.SHA256 != winner.SHA256 || !bytes.Equal(got.Bytes, winner.Bytes) {
			t.Errorf("told of %+v, want %+v", got, winner)
		}
		return true
	})
	if n != editors-1 {
		t.Errorf("%d editors were told, want %d", n, editors-1)
	}
	if newest, err := s.Newest(ctx, job); err != nil || newest.N != 2 || newest.SHA256 != winner.SHA256 {
		t.Errorf("newest: got %+v, %v; want %+v", newest, err, winner)
	}
	var c *Conflict
	if _, err := s.SaveRevision(ctx, Draft{Job: job, Bytes: []byte("v: x\n")}); !errors.As(err, &c) {
		t.Errorf("a first revision where there is one: got %v, want a conflict", err)
	}
}

func mustAppend(t interface {
	Helper()
	Fatal(...any)
}, s Store, events ...field.Event) []Ack {
	t.Helper()
	acks, err := s.Append(ctx, events)
	if err != nil {
		t.Fatal(err)
	}
	return acks
}

func testEvents(t *testing.T, s Store, job field.ID) {
	src := seed(3)
	phone := newID(t, src)
	var sent []field.Event
	for i := range 5 {
		sent = append(sent, note(newID(t, src), job, phone, i+1, fmt.Sprint("note ", i)))
	}
	for i, a := range mustAppend(t, s, sent[:3]...) {
		if a.ID != sent[i].ID || a.Cursor != int64(i+1) || a.Refused != nil {
			t.Errorf("event %d: got %+v", i, a)
		}
	}
	// Everything again, with two new ones: the old ones keep their places.
	for i, a := range mustAppend(t, s, sent...) {
		if a.Cursor != int64(i+1) || a.Refused != nil {
			t.Errorf("event %d, second time: got %+v", i, a)
		}
	}
	got, err := s.EventsSince(ctx, job, 0, 100)
	if err != nil || len(got) != 5 {
		t.Fatalf("got %d events, %v; want 5", len(got), err)
	}
	for i, e := range got {
		have, errH := e.Hash()
		want, errW := sent[i].Hash()
		if have != want || errH != nil || errW != nil || e.Cursor != int64(i+1) {
			t.Errorf("event %d: got %+v, want %+v", i, e, sent[i])
		}
	}
	if page, err := s.EventsSince(ctx, job, 2, 2); err != nil || len(page) != 2 || page[0].Cursor != 3 || page[1].Cursor != 4 {
		t.Errorf("two after the second: got %+v, %v", page, err)
	}
	if rest, err := s.EventsSince(ctx, job, 5, 100); err != nil || len(rest) != 0 {
		t.Errorf("after the last: got %+v, %v", rest, err)
	}
	// A foreign job and a spoiled body are refused; the one between is kept.
	foreign := note(newID(t, src), newID(t, src), phone, 6, "whose?")
	good := note(newID(t, src), job, phone, 7, "kept")
	spoiled := note(newID(t, src), job, phone, 8, "")
	spoiled.Body = []byte(`{"text":`)
	acks := mustAppend(t, s, foreign, good, spoiled)
	if acks[0].Refused == nil || acks[0].Refused.Path != "job" || acks[0].Cursor != 0 {
		t.Errorf("foreign job: got %+v", acks[0])
	}
	if acks[1].Refused != nil || acks[1].Cursor != 6 {
		t.Errorf("good one: got %+v", acks[1])
	}
	if acks[2].Refused == nil || acks[2].Cursor != 0 {
		t.Errorf("spoiled body: got %+v", acks[2])
	}
}

func testDisputed(t *testing.T, s Store, job field.ID) {
	src := seed(4)
	id, phone := newID(t, src), newID(t, src)
	first, other := note(id, job, phone, 1, "35 in-lb"), note(id, job, phone, 1, "45 in-lb")
	mustAppend(t, s, first)
	for range 2 { // kept once, refused each time
		a := mustAppend(t, s, other)[0]
		if a.Refused == nil || a.Refused.Path != "id" || !a.Kept || a.Cursor != 0 {
			t.Errorf("same id, other body: got %+v", a)
		}
	}
	// In one batch with itself, too.
	id2 := newID(t, src)
	acks := mustAppend(t, s, note(id2, job, phone, 2, "a"), note(id2, job, phone, 2, "b"))
	if acks[0].Refused != nil || acks[1].Refused == nil {
		t.Errorf("both in one batch: got %+v", acks)
	}
	record, err := s.EventsSince(ctx, job, 0, 100)
	if err != nil || len(record) != 2 || !bytes.Equal(record[0].Body, first.Body) {
		t.Errorf("record: got %+v, %v", record, err)
	}
	disputed, err := s.Disputed(ctx, job)
	if err != nil || len(disputed) != 2 || !bytes.Equal(disputed[0].Body, other.Body) {
		t.Errorf("disputed: got %+v, %v", disputed, err)
	}
}

// Every phone sends all events of the day, in its own order, at the same time.
func testPhones(t *testing.T, s Store, job field.ID) {
	src := seed(5)
	phone := newID(t, src)
	var day []field.Event
	for i := range 40 {
		day = append(day, note(newID(t, src), job, phone, i+1, fmt.Sprint(i)))
	}
	var wait sync.WaitGroup
	for p := range 6 {
		wait.Go(func() {
			mine := slices.Clone(day)
			rand.New(seed(byte(p))).Shuffle(len(mine), func(i, j int) { mine[i], mine[j] = mine[j], mine[i] })
			for batch := range slices.Chunk(mine, 7) {
				acks, err := s.Append(ctx, batch)
				if err != nil {
					t.Error(err)
					return
				}
				for _, a := range acks {
					if a.Refused != nil || a.Cursor == 0 {
						t.Errorf("got %+v", a)
					}
				}
			}
		})
	}
	wait.Wait()
	checkOnce(t, s, job, day)
}

// checkOnce holds that each event is in the record exactly once, with places
// counted from 1 without a gap.
func checkOnce(t interface {
	Fatal(...any)
	Errorf(string, ...any)
}, s Store, job field.ID, want []field.Event) {
	got, err := s.EventsSince(ctx, job, 0, 1<<30)
	if err != nil {
		t.Fatal(err)
	}
	times := map[field.ID]int{}
	for i, e := range got {
		times[e.ID]++
		if e.Cursor != int64(i+1) {
			t.Errorf("event %d has the place %d", i+1, e.Cursor)
		}
	}
	for _, e := range want {
		if times[e.ID] != 1 {
			t.Errorf("event %s is there %d times", e.ID, times[e.ID])
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d events, want %d", len(got), len(want))
	}
}

func testArrival(t *testing.T, s Store) {
	src := seed(6)
	rapid.Check(t, func(t *rapid.T) {
		job, phone := newID(t, src), newID(t, src)
		if err := s.CreateJob(ctx, Job{job, "oak", noon}); err != nil {
			t.Fatal(err)
		}
		var all []field.Event
		for i := range rapid.IntRange(1, 6).Draw(t, "events") {
			all = append(all, note(newID(t, src), job, phone, i+1, fmt.Sprint(i)))
		}
		twice := rapid.Permutation(append(slices.Clone(all), all...)).Draw(t, "order")
		for batch := range slices.Chunk(twice, rapid.IntRange(1, len(twice)).Draw(t, "batch")) {
			mustAppend(t, s, batch...)
		}
		checkOnce(t, s, job, all)
		record, err := s.EventsSince(ctx, job, 0, 100)
		if err != nil {
			t.Fatal(err)
		}
		slices.SortFunc(record, func(a, b Arrived) int { return field.Compare(a.Event, b.Event) })
		for i, e := range record {
			if e.ID != all[i].ID {
				t.Fatalf("sorted: %s at %d, want %s", e.ID, i, all[i].ID)
			}
		}
	})
}

func testBlobs(t *testing.T, s Store) {
	photo := []byte("\xff\xd8\xff\x00 no text")
	hash, err := s.PutBlob(ctx, photo)
	if err != nil || hash != Hash(photo) {
		t.Fatalf("got %s, %v", hash, err)
	}
	if again, err := s.PutBlob(ctx, photo); err != nil || again != hash {
		t.Errorf("second time: got %s, %v", again, err)
	}
	// FIPS 180-2, appendix B.1: the SHA-256 of "abc".
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	if got, err := s.PutBlob(ctx, []byte("abc")); err != nil || got != abc {
		t.Errorf("abc: got %s, %v; want %s", got, err, abc)
	}
	if got, err := s.Blob(ctx, hash); err != nil || !bytes.Equal(got, photo) {
		t.Errorf("got %q, %v", got, err)
	}
	if _, err := s.Blob(ctx, strings.Repeat("0", 64)); !errors.Is(err, ErrNotFound) {
		t.Errorf("unknown hash: got %v, want %v", err, ErrNotFound)
	}
	for name, b := range map[string][]byte{"empty": {}, "too long": make([]byte, MaxBlob+1)} {
		var at where.Error
		if _, err := s.PutBlob(ctx, b); !errors.As(err, &at) {
			t.Errorf("%s: got %v, want where.Error", name, err)
		}
	}
}

// The demo server and a command may hold one folder open together: a read lock
// that cannot be raised would fail here at once.
func testTwoPrograms(t *testing.T, open func(t *testing.T, dir string) Store) {
	dir, src := t.TempDir(), seed(8)
	job, phone := newID(t, src), newID(t, src)
	programs := []Store{open(t, dir), open(t, dir)}
	if err := programs[0].CreateJob(ctx, Job{job, "oak", noon}); err != nil {
		t.Fatal(err)
	}
	var all []field.Event
	for i := range 80 {
		all = append(all, note(newID(t, src), job, phone, i+1, fmt.Sprint(i)))
	}
	var wait sync.WaitGroup
	for _, s := range programs {
		defer s.Close()
		wait.Go(func() {
			for _, e := range all {
				if _, err := s.Append(ctx, []field.Event{e}); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wait.Wait()
	checkOnce(t, programs[1], job, all)
}

func testReopen(t *testing.T, open func(t *testing.T, dir string) Store) {
	dir, src := t.TempDir(), seed(7)
	job, event := newID(t, src), field.Event{}
	s := open(t, dir)
	if err := s.CreateJob(ctx, Job{job, "oak", noon}); err != nil {
		t.Fatal(err)
	}
	event = note(newID(t, src), job, newID(t, src), 1, "kept")
	mustAppend(t, s, event)
	saved, err := s.SaveRevision(ctx, Draft{Job: job, Bytes: []byte("name: oak\n"), Author: "Ana", Time: noon})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = open(t, dir)
	defer s.Close()
	checkOnce(t, s, job, []field.Event{event})
	if r, err := s.Newest(ctx, job); err != nil || r.SHA256 != saved.SHA256 || !r.Time.Equal(saved.Time) {
		t.Errorf("got %+v, %v; want %+v", r, err, saved)
	}
}

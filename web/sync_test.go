package web_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"legwork/field"
	"legwork/store"
	"legwork/web"
)

var shift = time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)

// crew makes events of one device.
type crew struct {
	t   testing.TB
	src *rand.ChaCha8
	job field.ID
	id  field.ID
	hlc field.HLC
	n   int64
}

func newCrew(t testing.TB, seed byte, job field.ID) *crew {
	p := &crew{t: t, src: rand.NewChaCha8([32]byte{seed}), job: job}
	p.id = p.newID()
	return p
}

func (p *crew) newID() field.ID {
	id, err := field.NewID(shift, p.src)
	if err != nil {
		p.t.Fatal(err)
	}
	return id
}

func (p *crew) note(words string) field.Event {
	p.n++
	p.hlc = p.hlc.Next(shift)
	return field.Event{ID: p.newID(), Job: p.job, Device: p.id, Seq: p.n, HLC: p.hlc, Kind: field.Note, V: 1,
		Body: fmt.Appendf(nil, `{"text":%q,"by":"Ana"}`, words)}
}

func asLines(t testing.TB, events ...field.Event) string {
	var b strings.Builder
	for _, e := range events {
		c, err := e.Canonical()
		if err != nil {
			t.Fatal(err)
		}
		b.Write(append(c, '\n'))
	}
	return b.String()
}

// syncSite is a site over a store with one job.
func syncSite(t testing.TB, record func(store.Store) web.Record) (http.Handler, store.Store, field.ID) {
	s, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	job := newCrew(t, 1, "").newID()
	if err := s.CreateJob(t.Context(), store.Job{ID: job, Name: "oak", Created: shift}); err != nil {
		t.Fatal(err)
	}
	h, err := web.Handler(web.Options{Record: record(s), Now: func() time.Time { return shift },
		Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	if err != nil {
		t.Fatal(err)
	}
	return h, s, job
}

func whole(s store.Store) web.Record { return s }

func send(h http.Handler, method, path, body string) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest(method, "http://localhost"+path, strings.NewReader(body)))
	return w
}

type synced struct {
	Acks []struct {
		Line    int
		ID      field.ID
		Cursor  int64
		Kept    bool
		Refused []struct{ Path, Came, Expected string }
	}
	Events []struct {
		Cursor int64
		Event  json.RawMessage
	}
	Next    int64
	More    bool
	Refused []struct{ Path, Came, Expected string }
}

func readSync(t testing.TB, w *httptest.ResponseRecorder) (out synced) {
	if err := json.Unmarshal(w.Body.Bytes(), &out); err != nil {
		t.Fatalf("%v: %s", err, w.Body)
	}
	return out
}

// A phone hands in a batch twice and out of order; another fetches it in pages.
func TestSync(t *testing.T) {
	h, _, job := syncSite(t, whole)
	p := newCrew(t, 2, job)
	a, b, c := p.note("a"), p.note("b"), p.note("c")
	events := "/sync/jobs/" + string(job) + "/events"
	for _, tt := range []struct {
		name, batch string
		cursors     []int64
	}{
		{"the last first", asLines(t, c), []int64{1}},
		{"all", asLines(t, a, b, c), []int64{2, 3, 1}},
		{"all again, without the last end of line", strings.TrimSpace(asLines(t, a, b, c)), []int64{2, 3, 1}},
	} {
		got := readSync(t, send(h, "POST", events, tt.batch))
		if len(got.Acks) != len(tt.cursors) {
			t.Fatalf("%s: %+v", tt.name, got)
		}
		for i, want := range tt.cursors {
			if got.Acks[i].Cursor != want || got.Acks[i].Line != i+1 || got.Acks[i].Refused != nil {
				t.Errorf("%s: line %d: %+v, want cursor %d", tt.name, i+1, got.Acks[i], want)
			}
		}
	}
	first := readSync(t, send(h, "GET", events+"?since=0&limit=2", ""))
	if len(first.Events) != 2 || first.Next != 2 || !first.More {
		t.Errorf("first page: %+v", first)
	}
	last := readSync(t, send(h, "GET", events+"?since=2&limit=2", ""))
	if want := strings.TrimSpace(asLines(t, b)); len(last.Events) != 1 || last.Next != 3 || last.More || string(last.Events[0].Event) != want {
		t.Errorf("last page: %+v, want %s", last, want)
	}
}

// What is wrong with one line hinders no other and is said plainly.
func TestSyncRefusesLines(t *testing.T) {
	h, s, job := syncSite(t, whole)
	p := newCrew(t, 3, job)
	good, other := p.note("good"), newCrew(t, 4, newCrew(t, 5, "").newID()).note("whose?")
	if w := send(h, "POST", "/sync/jobs/"+string(job)+"/events", asLines(t, good)); w.Code != 200 {
		t.Fatal(w.Body)
	}
	forged, story, ahead, bare := p.note("x"), good, p.note("x"), p.note("x")
	forged.ID = "../../etc/passwd"
	story.Body = []byte(`{"text":"another story","by":"Ben"}`)
	ahead.HLC = ahead.HLC.Next(shift.Add(25 * time.Hour))
	bare.Body = []byte(`{"text":"no name"}`)
	for _, tt := range []struct {
		name, line, path, expected string
		kept                       bool
	}{
		{"another job", asLines(t, other), "job", "the job of the address", false},
		{"a forged id", asLines(t, forged), "id", "a version 7 UUID", false},
		{"an id that is taken", asLines(t, story), "id", "a new id for a new event", true},
		{"a clock a day ahead", asLines(t, ahead), "hlc", "at most 24 h after", false},
		{"a body without a name", asLines(t, bare), "by", "", false},
		{"no JSON", "oak\n", "", "a JSON value", false},
		{"an empty line", "\n", "", "", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			fresh := p.note("beside it")
			got := readSync(t, send(h, "POST", "/sync/jobs/"+string(job)+"/events", tt.line+asLines(t, fresh)))
			if len(got.Acks) != 2 || got.Acks[1].Cursor == 0 {
				t.Fatalf("the other line: %+v", got)
			}
			a := got.Acks[0]
			if a.Cursor != 0 || a.Kept != tt.kept || len(a.Refused) == 0 || a.Refused[0].Path != tt.path || !strings.Contains(a.Refused[0].Expected, tt.expected) {
				t.Errorf("got %+v", a)
			}
		})
	}
	if d, err := s.Disputed(t.Context(), job); err != nil || len(d) != 1 {
		t.Errorf("disputed: %v, %v; want the other story", d, err)
	}
}

// What is wrong with a request is said with its status; nothing is kept.
func TestSyncRefusesRequests(t *testing.T) {
	h, s, job := syncSite(t, whole)
	here := "/sync/jobs/" + string(job)
	p := newCrew(t, 6, job)
	var crowd strings.Builder
	for range 1001 {
		crowd.WriteString(asLines(t, p.note("x")))
	}
	hash := store.Hash([]byte("photo"))
	for _, tt := range []struct {
		name, method, path, body string
		status                   int
		says                     string
	}{
		{"a job that is not here", "POST", "/sync/jobs/" + string(p.newID()) + "/events", "", 404, "a job of this server"},
		{"no id of a job", "GET", "/sync/jobs/%2e%2e%2fetc/events", "", 400, "a version 7 UUID"},
		{"too many events", "POST", here + "/events", crowd.String(), 413, "at most 1000"},
		{"too many bytes", "POST", here + "/events", strings.Repeat(" ", 8<<20+1), 413, "at most 8388608 bytes"},
		{"a cursor in words", "GET", here + "/events?since=all", "", 400, "a whole number from 0"},
		{"too many at once", "GET", here + "/events?limit=1001", "", 400, "from 1 to 1000"},
		{"a photo of another hash", "PUT", "/sync/files/" + hash, "phot0", 400, "bytes with the hash " + hash},
		{"no hash", "PUT", "/sync/files/..%2f..%2fx", "photo", 400, "64 lower-case"},
		{"an empty photo", "PUT", "/sync/files/" + store.Hash(nil), "", 400, "a file of 1 to"},
		{"a photo that is too large", "PUT", "/sync/files/" + hash, strings.Repeat("x", store.MaxBlob+1), 413, "at most 33554432"},
		{"no such photo", "GET", "/sync/files/" + hash, "", 404, "the hash of a file"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := send(h, tt.method, tt.path, tt.body)
			if w.Code != tt.status || !strings.Contains(w.Body.String(), tt.says) || !strings.Contains(w.Body.String(), `"schema":"sync/1"`) {
				t.Errorf("got %d %s, want %d with %q", w.Code, w.Body, tt.status, tt.says)
			}
		})
	}
	if got, err := s.EventsSince(t.Context(), job, 0, 10); err != nil || len(got) != 0 {
		t.Errorf("kept %d events, %v", len(got), err)
	}
}

func TestSyncFiles(t *testing.T) {
	h, _, _ := syncSite(t, whole)
	photo := "\xff\xd8\xff\x00<script>"
	at := "/sync/files/" + store.Hash([]byte(photo))
	for range 2 {
		if w := send(h, "PUT", at, photo); w.Code != 200 {
			t.Fatalf("%d: %s", w.Code, w.Body)
		}
	}
	w := send(h, "GET", at, "")
	if w.Body.String() != photo || w.Header().Get("Content-Type") != "application/octet-stream" || w.Header().Get("Content-Disposition") != "attachment" {
		t.Errorf("got %q, %v", w.Body, w.Header())
	}
}

// gone is a store whose database went away.
type gone struct{ store.Store }

func (gone) Append(context.Context, []field.Event) ([]store.Ack, error) {
	return nil, errors.New("password of the database")
}

// When the database is gone nothing is acknowledged, and its words stay inside.
func TestSyncWithoutDatabase(t *testing.T) {
	h, _, job := syncSite(t, func(s store.Store) web.Record { return gone{s} })
	w := send(h, "POST", "/sync/jobs/"+string(job)+"/events", asLines(t, newCrew(t, 7, job).note("x")))
	if w.Code != 503 || w.Header().Get("Retry-After") == "" || strings.Contains(w.Body.String(), "password") || readSync(t, w).Acks != nil {
		t.Errorf("got %d: %s", w.Code, w.Body)
	}
}

// FuzzSync sends any bytes as a batch: every line is answered, and what is
// acknowledged is in the store.
func FuzzSync(f *testing.F) {
	h, s, job := syncSite(f, whole)
	p := newCrew(f, 8, job)
	one := asLines(f, p.note("x"))
	f.Add([]byte(one))
	f.Add([]byte(one + "\n" + one))
	f.Add([]byte(strings.Replace(one, "note", "photo", 1)))
	f.Fuzz(func(t *testing.T, batch []byte) {
		got := readSync(t, send(h, "POST", "/sync/jobs/"+string(job)+"/events", string(batch)))
		if want := bytes.Count(bytes.TrimSuffix(batch, []byte{'\n'}), []byte{'\n'}) + 1; len(got.Acks) != want && len(got.Refused) == 0 {
			t.Fatalf("%d answers to %d lines", len(got.Acks), want)
		}
		for _, a := range got.Acks {
			if (a.Cursor > 0) == (len(a.Refused) > 0) {
				t.Fatalf("neither acknowledged nor refused: %+v", a)
			}
			if a.Cursor > 0 {
				if e, err := s.EventsSince(t.Context(), job, a.Cursor-1, 1); err != nil || len(e) != 1 || e[0].ID != a.ID {
					t.Fatalf("%+v is not there: %v, %v", a, e, err)
				}
			}
		}
	})
}

// The server's clock is set back ten years and on again: nothing that was kept
// changes, what is made meanwhile is refused with the reason and is taken once
// the clock is right.
func TestSyncClockJumps(t *testing.T) {
	s, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	now := shift
	h, err := web.Handler(web.Options{Record: s, Now: func() time.Time { return now }, Log: slog.New(slog.DiscardHandler)})
	if err != nil {
		t.Fatal(err)
	}
	job := newCrew(t, 1, "").newID()
	if err := s.CreateJob(t.Context(), store.Job{ID: job, Name: "oak", Created: shift}); err != nil {
		t.Fatal(err)
	}
	c := newCrew(t, 9, job)
	first, second := c.note("first"), c.note("second")
	for _, tt := range []struct {
		name   string
		now    time.Time
		cursor int64 // of the second event; 0 when refused
	}{
		{"set back", shift.AddDate(-10, 0, 0), 0},
		{"right", shift, 2},
		{"ahead", shift.AddDate(10, 0, 0), 2},
	} {
		now = shift
		if got := readSync(t, send(h, "POST", "/sync/jobs/"+string(job)+"/events", asLines(t, first))); got.Acks[0].Cursor != 1 {
			t.Fatalf("%s: first: %+v", tt.name, got)
		}
		now = tt.now
		got := readSync(t, send(h, "POST", "/sync/jobs/"+string(job)+"/events", asLines(t, second)))
		if a := got.Acks[0]; a.Cursor != tt.cursor || (tt.cursor == 0) != (len(a.Refused) > 0) {
			t.Errorf("%s: %+v", tt.name, a)
		}
		if page := readSync(t, send(h, "GET", "/sync/jobs/"+string(job)+"/events", "")); page.Events[0].Cursor != 1 {
			t.Errorf("%s: %+v", tt.name, page)
		}
	}
}

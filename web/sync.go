package web

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strconv"
	"time"

	"legwork/field"
	"legwork/store"
	"legwork/where"
)

// Record is what devices (sync/1, docs/formats/sync.md) and editors ask of the
// store.
type Record interface {
	Job(ctx context.Context, id field.ID) (store.Job, error)
	Append(ctx context.Context, events []field.Event) ([]store.Ack, error)
	EventsSince(ctx context.Context, job field.ID, cursor int64, limit int) ([]store.Arrived, error)
	Disputed(ctx context.Context, job field.ID) ([]field.Event, error)
	PutBlob(ctx context.Context, b []byte) (string, error)
	Blob(ctx context.Context, sha256 string) ([]byte, error)
	Newest(ctx context.Context, job field.ID) (store.Revision, error)
	SaveRevision(ctx context.Context, d store.Draft) (store.Revision, error)
}

// Limits of one request. A day of a crew is some hundred events of a kilobyte.
const (
	maxUpload  = 8 << 20          // bytes of a batch
	maxBatch   = 1000             // events of a batch, and of an answer
	uploads    = 8                // bodies in memory at once; others wait
	uploadTime = 60 * time.Second // for a body to arrive
)

// syncing answers devices. They get JSON, never a page.
type syncing struct {
	record Record
	now    func() time.Time
	fault  func(r *http.Request, err error)
	slots  chan struct{}
}

func (s *site) syncRoutes(mux *http.ServeMux) {
	y := &syncing{record: s.Record, now: s.Now, slots: make(chan struct{}, uploads)}
	y.fault = func(r *http.Request, err error) {
		s.Log.ErrorContext(r.Context(), "not synced", "address", r.URL.Path, "error", err)
	}
	mux.Handle("POST /sync/jobs/{job}/events", y.answer(y.postEvents))
	mux.Handle("GET /sync/jobs/{job}/events", y.answer(y.getEvents))
	mux.Handle("GET /sync/jobs/{job}/disputed", y.answer(y.getDisputed))
	mux.Handle("PUT /sync/files/{sha256}", y.answer(y.putFile))
	mux.Handle("GET /sync/files/{sha256}", y.answer(y.getFile))
}

// refusal is a whole request that is refused; nothing of it was kept.
type refusal struct {
	status int
	why    where.Error
}

func (r refusal) Error() string { return r.why.Error() }

func refuse(status int, path, came, expected, try string) error {
	return refusal{status, where.Error{Path: path, Came: came, Expected: expected, Try: try}}
}

// told is a where.Error for a device.
type told struct {
	Path     string `json:"path,omitempty"`
	Came     string `json:"came"`
	Expected string `json:"expected"`
	Try      string `json:"try,omitempty"`
}

func tell(e where.Error) told { return told{e.Path, e.Came, e.Expected, e.Try} }

// tellAll is every fault of an error of package field.
func tellAll(err error) []told {
	var many where.Errors
	var one where.Error
	switch {
	case errors.As(err, &many):
	case errors.As(err, &one):
		many = where.Errors{one}
	default:
		many = where.Errors{{Came: err.Error()}}
	}
	var out []told
	for _, e := range many {
		out = append(out, tell(e))
	}
	return out
}

// answer is the one place that turns errors into status and JSON. What is none
// of ours comes from the database: nothing was kept, and the device tries again.
func (y *syncing) answer(h func(w http.ResponseWriter, r *http.Request) (any, error)) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		out, err := h(w, r)
		var no refusal
		switch {
		case err == nil && out == nil:
			return // written already
		case err == nil:
			writeSync(w, http.StatusOK, out)
		case errors.As(err, &no):
			writeSync(w, no.status, syncRefused{"sync/1", []told{tell(no.why)}})
		default:
			y.fault(r, err)
			w.Header().Set("Retry-After", "5")
			writeSync(w, http.StatusServiceUnavailable, syncRefused{"sync/1", []told{{
				Came: "the database does not answer", Expected: "a later try; nothing of this request is acknowledged"}}})
		}
	})
}

func writeSync(w http.ResponseWriter, status int, v any) {
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(v) // a device that has gone asks again
}

type (
	syncRefused struct {
		Schema  string `json:"schema"`
		Refused []told `json:"refused"`
	}
	syncAcks struct {
		Schema string    `json:"schema"`
		Acks   []syncAck `json:"acks"`
	}
	// syncAck answers one line of a batch.
	syncAck struct {
		Line    int      `json:"line"`
		ID      field.ID `json:"id,omitempty"`
		Cursor  int64    `json:"cursor,omitempty"`
		Refused []told   `json:"refused,omitempty"`
		Kept    bool     `json:"kept,omitempty"`
	}
	syncEvents struct {
		Schema string      `json:"schema"`
		Events []syncEvent `json:"events"`
		Next   int64       `json:"next"`
		More   bool        `json:"more"`
	}
	syncEvent struct {
		Cursor int64       `json:"cursor"`
		Event  field.Event `json:"event"`
	}
	syncDisputed struct {
		Schema string        `json:"schema"`
		Events []field.Event `json:"events"`
	}
	syncFile struct {
		Schema string `json:"schema"`
		SHA256 string `json:"sha256"`
	}
)

// job is the job of the address; an id that is none and one that is not here are
// told apart.
func (y *syncing) job(r *http.Request) (field.ID, error) {
	id, err := field.ParseID(r.PathValue("job"))
	if e, ok := err.(where.Error); ok {
		return "", refuse(http.StatusBadRequest, "job", e.Came, e.Expected, "")
	}
	if _, err := y.record.Job(r.Context(), id); errors.Is(err, store.ErrNotFound) {
		return "", refuse(http.StatusNotFound, "job", string(id), "a job of this server", "")
	} else if err != nil {
		return "", err
	}
	return id, nil
}

// body reads a body of at most so many bytes, while few others are in memory.
// The caller calls done when it has no more use for the bytes.
func (y *syncing) body(w http.ResponseWriter, r *http.Request, most int64) (b []byte, done func(), err error) {
	done = func() {}
	if r.ContentLength > most {
		return nil, done, tooLarge(r.ContentLength, most)
	}
	select {
	case y.slots <- struct{}{}:
		done = func() { <-y.slots }
	case <-r.Context().Done():
		return nil, done, r.Context().Err()
	}
	// Not every ResponseWriter of a test has a deadline.
	_ = http.NewResponseController(w).SetReadDeadline(time.Now().Add(uploadTime))
	b, err = io.ReadAll(http.MaxBytesReader(w, r.Body, most))
	var over *http.MaxBytesError
	switch {
	case errors.As(err, &over):
		return nil, done, tooLarge(most+1, most)
	case err != nil:
		return nil, done, refuse(http.StatusBadRequest, "", "a body that broke off: "+err.Error(), "the whole body", "send it again")
	}
	return b, done, nil
}

func tooLarge(came, most int64) error {
	return refuse(http.StatusRequestEntityTooLarge, "", strconv.FormatInt(came, 10)+" bytes or more",
		"at most "+strconv.FormatInt(most, 10)+" bytes", "send less at a time")
}

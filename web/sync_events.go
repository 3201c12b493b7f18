package web

import (
	"bytes"
	"net/http"
	"net/url"
	"strconv"

	"legwork/field"
	"legwork/where"
)

// postEvents takes a batch of events, one a line, and answers each. What is
// acknowledged is on disk.
func (y *syncing) postEvents(w http.ResponseWriter, r *http.Request) (any, error) {
	job, err := y.job(r)
	if err != nil {
		return nil, err
	}
	src, done, err := y.body(w, r, maxUpload)
	defer done()
	if err != nil {
		return nil, err
	}
	lines := bytes.Split(bytes.TrimSuffix(src, []byte{'\n'}), []byte{'\n'})
	if len(lines) > maxBatch {
		return nil, refuse(http.StatusRequestEntityTooLarge, "", strconv.Itoa(len(lines))+" events", "at most "+strconv.Itoa(maxBatch), "send less at a time")
	}
	acks := make([]syncAck, len(lines))
	var events []field.Event
	var at []int // line of each event
	for i, line := range lines {
		acks[i].Line = i + 1
		e, err := y.readEvent(line, job)
		acks[i].ID = e.ID
		if err != nil {
			acks[i].Refused = tellAll(err)
			continue
		}
		events, at = append(events, e), append(at, i)
	}
	kept, err := y.record.Append(r.Context(), events)
	if err != nil {
		return nil, err
	}
	for i, a := range kept {
		ack := &acks[at[i]]
		ack.Cursor, ack.Kept = a.Cursor, a.Kept
		if a.Refused != nil {
			ack.Refused = []told{tell(*a.Refused)}
		}
	}
	return syncAcks{"sync/1", acks}, nil
}

// readEvent reads a line of a batch for a job.
func (y *syncing) readEvent(line []byte, job field.ID) (field.Event, error) {
	e, err := field.Decode(line, "upload")
	if err != nil {
		return e, err
	}
	if e.Job != job {
		return e, where.Error{Path: "job", Came: string(e.Job), Expected: "the job of the address, " + string(job)}
	}
	if err := e.Believable(y.now()); err != nil {
		return e, err
	}
	_, err = field.DecodeBody(e.Kind, e.Body, "body")
	return e, err
}

// getEvents gives what arrived after a cursor.
func (y *syncing) getEvents(_ http.ResponseWriter, r *http.Request) (any, error) {
	job, err := y.job(r)
	if err != nil {
		return nil, err
	}
	since, err := wholeOf(r.URL.Query(), "since", 0, 0, 1<<53-1)
	if err != nil {
		return nil, err
	}
	limit, err := wholeOf(r.URL.Query(), "limit", 200, 1, maxBatch)
	if err != nil {
		return nil, err
	}
	// One more than asked for tells whether there is more.
	came, err := y.record.EventsSince(r.Context(), job, since, int(limit)+1)
	if err != nil {
		return nil, err
	}
	out := syncEvents{Schema: "sync/1", Events: []syncEvent{}, Next: since}
	for _, a := range came {
		if len(out.Events) == int(limit) {
			out.More = true
			break
		}
		out.Events = append(out.Events, syncEvent{a.Cursor, a.Event})
		out.Next = a.Cursor
	}
	return out, nil
}

// wholeOf reads a whole number of an address; absent, it is usual.
func wholeOf(q url.Values, name string, usual, least, most int64) (int64, error) {
	if !q.Has(name) {
		return usual, nil
	}
	n, err := strconv.ParseInt(q.Get(name), 10, 64)
	if err != nil || n < least || n > most {
		return 0, refuse(http.StatusBadRequest, name, strconv.Quote(q.Get(name)),
			"a whole number from "+strconv.FormatInt(least, 10)+" to "+strconv.FormatInt(most, 10), "")
	}
	return n, nil
}

func (y *syncing) getDisputed(_ http.ResponseWriter, r *http.Request) (any, error) {
	job, err := y.job(r)
	if err != nil {
		return nil, err
	}
	events, err := y.record.Disputed(r.Context(), job)
	if err != nil {
		return nil, err
	}
	return syncDisputed{"sync/1", append([]field.Event{}, events...)}, nil
}

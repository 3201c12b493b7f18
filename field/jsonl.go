package field

import (
	"bytes"
	"strconv"
	"time"

	"legwork/where"
)

// MaxAhead is how far a clock of an event may be ahead of ours and still be
// believed; farther ahead it would drag every later clock along.
const MaxAhead = 24 * time.Hour

// ReadLines reads a file of events, one a line, all of one job. It stops at no
// fault but tells all, as where.Errors. A last line without its end was cut
// short in writing and never acknowledged: it is given back as cut and is no
// event.
func ReadLines(src []byte, file string, job ID) (events []Event, cut []byte, err error) {
	var errs where.Errors
	n := 0
	for len(src) > 0 {
		n++
		line, rest, whole := bytes.Cut(src, []byte{'\n'})
		if !whole {
			return events, line, errs.OrNil()
		}
		src = rest
		if len(bytes.TrimSpace(line)) == 0 {
			continue
		}
		e, err := Decode(line, file)
		if err == nil {
			err = e.Belongs(job)
		}
		for _, x := range faults(err) {
			x.File, x.Line = file, n
			errs = append(errs, x)
		}
		if err == nil {
			events = append(events, e)
		}
	}
	return events, nil, errs.OrNil()
}

// Belongs refuses an event of another job.
func (e Event) Belongs(job ID) error {
	if e.Job == job {
		return nil
	}
	return where.Error{Path: "job", Came: quote(string(e.Job)), Expected: quote(string(job)) + ", the id of this job",
		Try: "an event never moves to another job; make a new one"}
}

// Believable refuses an event whose id or clock lies more than a day ahead of
// now: a clock set wrong, or a forged id.
func (e Event) Believable(now time.Time) error {
	for _, c := range []struct {
		path, came string
		at         time.Time
	}{{"id", string(e.ID), e.ID.Time()}, {"hlc", e.HLC.String(), e.HLC.Time()}} {
		if c.at.After(now.Add(MaxAhead)) {
			return where.Error{Path: c.path, Came: quote(c.came) + ", made at " + FormatTime(c.at),
				Expected: "an instant at most " + strconv.Itoa(int(MaxAhead.Hours())) + " h after " + FormatTime(now), Try: "set the clock of the device"}
		}
	}
	return nil
}

// faults are the faults that an error of this package carries.
func faults(err error) where.Errors {
	switch e := err.(type) {
	case nil:
		return nil
	case where.Errors:
		return e
	case where.Error:
		return where.Errors{e}
	}
	return where.Errors{{Came: err.Error()}}
}

package desk

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"legwork/field"
	"legwork/web"
	"legwork/working"
)

// The steps show what the record says: nothing at first; a reading inside and
// one outside its limits; an event told in two ways.
func TestWorkAgainstTheRecord(t *testing.T) {
	s := open(t)
	id := enter(t, s, houseFile(t, "quillfeather"))
	d := New(s)
	src := rand.NewChaCha8([32]byte{1})
	newID := func() field.ID {
		id, err := field.NewID(today, src)
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	device, clock, n := newID(), field.HLC{}, int64(0)
	tell := func(event field.ID, kind field.Kind, body string) {
		t.Helper()
		n++
		clock = clock.Next(today)
		acks, err := s.Append(t.Context(), []field.Event{{ID: event, Job: id, Device: device, Seq: n, HLC: clock, Kind: kind, V: 1, Body: []byte(body)}})
		if err != nil || acks[0].Cursor == 0 && !acks[0].Kept {
			t.Fatal(acks, err)
		}
	}
	step := func(name string) (web.Work, web.WorkStep) {
		t.Helper()
		w, err := d.Work(t.Context(), string(id))
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(w.Steps, func(s web.WorkStep) bool { return s.ID == name })
		if i < 0 {
			t.Fatalf("no step %s", name)
		}
		return w, w.Steps[i]
	}
	w, first := step("service-voltage")
	if w.Next != w.Steps[0].ID || len(w.MakeDead) == 0 || len(w.Troubles) > 0 {
		t.Errorf("at first: next %q, %d lines of making dead, troubles %v", w.Next, len(w.MakeDead), w.Troubles)
	}
	if first.Build || len(first.StaysLive) == 0 || first.Status != field.Locked || first.Mark() != "" || len(first.Readings) == 0 || first.Readings[0].Read != "" {
		t.Errorf("at first: %+v", first)
	}
	// 120 V nominal; ANSI C84.1 range A ends at 126 V, and 95 V is below any range.
	const measured = `{"step":"service-voltage","reading":%q,"value":{"value":%v,"unit":"V"},"instrument":{"name":"meter 7","calibrated":"2026-01-10"},"by":"Ana"}`
	reading := func(id string) web.WorkReading {
		t.Helper()
		_, s := step("service-voltage")
		i := slices.IndexFunc(s.Readings, func(r web.WorkReading) bool { return r.Says == s.Expect[id] })
		if i < 0 {
			t.Fatalf("no reading %s in %v", id, s.Expect)
		}
		return s.Readings[i]
	}
	tell(newID(), field.Measurement, fmt.Sprintf(measured, "L1-N", 120.4))
	tell(newID(), field.Measurement, fmt.Sprintf(measured, "L2-N", 95))
	if r := reading("L1-N"); r.Read != "120.4 V" || r.Verdict != working.OK {
		t.Errorf("L1-N: %+v", r)
	}
	if r := reading("L2-N"); r.Read != "95 V" || r.Verdict != working.Stop {
		t.Errorf("L2-N: %+v", r)
	}
	twice := newID()
	tell(twice, field.Note, `{"text":"dog in the yard","by":"Ana"}`)
	tell(twice, field.Note, `{"text":"no dog","by":"Ana"}`)
	tell(newID(), field.StepDone, `{"step":"of-another-plan","by":"Ana"}`)
	if w, _ := step("service-voltage"); len(w.Troubles) != 2 {
		t.Errorf("troubles: %v, want the two stories and the unknown step", w.Troubles)
	}
}

// Every house has steps to build and to energize, each with what stays live.
func TestWorkOfAllHouses(t *testing.T) {
	s := open(t)
	if err := MoveIn(t.Context(), s, today); err != nil {
		t.Fatal(err)
	}
	jobs, err := s.Jobs(t.Context())
	if err != nil || len(jobs) != 7 {
		t.Fatal(len(jobs), err)
	}
	for _, j := range jobs {
		w, err := New(s).Work(t.Context(), string(j.ID))
		if err != nil {
			t.Errorf("%s: %v", j.Name, err)
		}
		build, energize := 0, 0
		for _, s := range w.Steps {
			if s.Build {
				build++
			} else {
				energize++
			}
			if s.Title == "" || s.Why == "" || s.Basis == "" || len(s.StaysLive) == 0 {
				t.Errorf("%s, %s: %+v", j.Name, s.ID, s)
			}
		}
		if build == 0 || energize == 0 {
			t.Errorf("%s: %d steps to build, %d to energize", j.Name, build, energize)
		}
	}
}

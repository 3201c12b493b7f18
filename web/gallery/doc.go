// Package gallery holds specimen data for every page: full, empty, very long
// and failing. Pages are judged by eye over it, and the browser tests walk it.
//
// Everything in it is invented. Findings are worked on a sheet like real ones,
// so that what is shown adds up; rules of the code are not applied here.
package gallery

import (
	"context"
	"fmt"
	"time"

	"legwork/web"
	"legwork/where"
	"legwork/working"
)

// Rooms are the rooms of the gallery; now is the instant that ages are told
// against.
func Rooms(now time.Time) []web.Room {
	return []web.Room{
		{Name: "full", Says: "a job as one meets it", Desk: full(now), Jobs: []string{"invented-lane"}},
		{Name: "empty", Says: "nothing stated yet", Desk: empty(), Jobs: []string{"new"}},
		{Name: "long", Says: "names and lists longer than anybody wishes", Desk: long(now), Jobs: []string{"long"}},
		{Name: "failing", Says: "faults in the document, and of the program", Desk: failing(now), Jobs: []string{"stops", "faulty", "broken"}},
	}
}

// specimen is one job with all its pages.
type specimen struct {
	job    web.Job
	survey web.Survey
	plan   web.Plan
	proof  web.Proof
	sheets []web.Sheet
	work   web.Work
	// err is what every page but the survey answers, when set.
	err error
}

// desk is a desk of specimens.
type desk []specimen

func (d desk) find(id string) (specimen, error) {
	for _, s := range d {
		if s.job.ID == id {
			return s, nil
		}
	}
	return specimen{}, web.ErrNotFound
}

func (d desk) Jobs(context.Context) ([]web.Job, error) {
	var all []web.Job
	for _, s := range d {
		all = append(all, s.job)
	}
	return all, nil
}

func (d desk) Job(_ context.Context, id string) (web.Job, error) {
	s, err := d.find(id)
	return s.job, err
}

func (d desk) Survey(_ context.Context, id string) (web.Survey, error) {
	s, err := d.find(id)
	return s.survey, err
}

func (d desk) Plan(_ context.Context, id string) (web.Plan, error) {
	s, err := d.find(id)
	if err == nil {
		err = s.err
	}
	return s.plan, err
}

func (d desk) Proof(_ context.Context, id string, e working.Edition) (web.Proof, error) {
	s, err := d.find(id)
	if err == nil {
		err = s.err
	}
	if e != 0 {
		s.proof.Edition = e
	}
	return s.proof, err
}

func (d desk) Sheets(_ context.Context, id string) ([]web.Sheet, error) {
	s, err := d.find(id)
	if err == nil {
		err = s.err
	}
	return s.sheets, err
}

func (d desk) Work(_ context.Context, id string) (web.Work, error) {
	s, err := d.find(id)
	if err == nil {
		err = s.err
	}
	return s.work, err
}

func empty() desk {
	return desk{{
		job:   web.Job{ID: "new", Name: "New job", Edition: 2023},
		proof: web.Proof{Edition: 2023},
	}}
}

func failing(now time.Time) desk {
	faults := where.Errors{
		{File: "faulty.yaml", Line: 4, Col: 20, Path: "runs.output.length", Came: `"180" has no unit`, Expected: "a length with its unit", Try: "write 180 ft or 55 m"},
		{File: "faulty.yaml", Line: 7, Col: 5, Path: "panels.MP.busbr", Came: `unknown key "busbr"`, Expected: "one of busbar, feed, main, spaces", Try: "busbar is nearest"},
	}
	const source = "version: 1\nname: 9 Faulty Road\nruns:\n  output: {length: 180}\npanels:\n  MP:\n    busbr: 200 A\n"
	stops := full(now)[0]
	stops.job.ID, stops.job.Name = "stops", "31 Overfull Court"
	stops.proof = stopped()
	stops.job.Tally, stops.job.Missing = web.TallyOf(stops.proof.Findings), 2
	return desk{
		stops,
		{
			job:    web.Job{ID: "faulty", Name: "9 Faulty Road", Faults: faults, Changed: now.Add(-26 * time.Hour)},
			survey: web.Survey{File: "faulty.yaml", Source: []byte(source), Faults: faults},
			err:    faults,
		},
		{
			job: web.Job{ID: "broken", Name: "4 Broken Wharf", Tally: web.Tally{working.OK: 12}, Changed: now.Add(-3 * time.Minute)},
			err: fmt.Errorf("one-line diagram: no symbol for %q", "windmill"),
		},
	}
}

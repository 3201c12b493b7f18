package web

import (
	"net/http"

	"legwork/field"
	"legwork/working"
)

// Work is what is done on site: the procedure in words against the record.
type Work struct {
	MakeDead []string // the order of making it dead before a hand goes in
	Steps    []WorkStep
	Next     string   // id of the first step that is neither done nor passed
	Troubles []string // what is wrong with the record itself
}

// WorkStep is one step with how far it is.
type WorkStep struct {
	field.Spoken
	ID, Place string
	N         int // counts from 1 in the whole procedure
	Build     bool
	Hold      bool
	Open      bool // the page shows it in full: it is held, or next
	Status    field.Status
	Readings  []WorkReading
	Missing   []string              // what the record still wants
	Wrong     []field.SpokenPattern // what the readings taken may mean
	Decision  string                // at a hold point, "" before
}

// WorkReading is a reading to take, with what was read.
type WorkReading struct {
	Says    string // what, where, expected value, limits
	Read    string // "120.4 V", "" before
	Verdict working.Verdict
}

// Live is what stays live in this step; the page shows it first.
func (s WorkStep) Live() []string { return s.StaysLive }

// Mark is the verdict whose shape stands for a status: a held step is a stop,
// one that is done is ok; open and locked ones have none.
func (s WorkStep) Mark() working.Verdict {
	switch s.Status {
	case field.Held:
		return working.Stop
	case field.PassedWithReason:
		return working.Look
	case field.Done, field.Passed:
		return working.OK
	}
	return ""
}

type workPage struct {
	Head
	Work
	Phases []workPhase
	Done   int
	All    int
}

// workPhase is a run of steps of one phase; phases may come back.
type workPhase struct {
	Name  string
	Steps []WorkStep
}

func (o room) getBuild(w http.ResponseWriter, r *http.Request) error {
	return o.getWork(w, r, "Build", true)
}

func (o room) getEnergize(w http.ResponseWriter, r *http.Request) error {
	return o.getWork(w, r, "Energize", false)
}

func (o room) getWork(w http.ResponseWriter, r *http.Request, stage string, build bool) error {
	j, err := o.jobOf(r)
	if err != nil {
		return err
	}
	work, err := o.desk.Work(r.Context(), j.ID)
	if err != nil {
		return err
	}
	p := workPage{Head: o.head(r, j, stage), Work: work}
	for _, s := range work.Steps {
		if s.Build != build {
			continue
		}
		p.All++
		s.Open = s.Status == field.Held || s.ID == work.Next
		switch s.Status {
		case field.Done, field.Passed, field.PassedWithReason:
			p.Done++
		}
		if n := len(p.Phases); n == 0 || p.Phases[n-1].Name != s.Phase {
			p.Phases = append(p.Phases, workPhase{Name: s.Phase})
		}
		last := &p.Phases[len(p.Phases)-1]
		last.Steps = append(last.Steps, s)
	}
	return o.render(w, "work", p)
}

package fixes

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"legwork/job"
	"legwork/plan"
	"legwork/quantity"
	"legwork/rules"
	"legwork/site"
	"legwork/working"
)

// Most edits that one fix combines, candidates judged, and fixes told a stop.
const (
	mostEdits = 3
	mostTries = 6000
	mostFixes = 8
)

// Fix is a set of edits that leaves no stop.
type Fix struct {
	working.Fix
	Edits []Edit
	Plant *site.Plant // the plant as it would be
	Cures []string    // ids of the findings
}

// Refusal is an edit that cures a stop but not the plan: what still refuses it.
type Refusal struct {
	Title string
	Cures []string
	By    []working.Finding
}

// Result is what a search found.
type Result struct {
	Fixes    []Fix
	Refused  []Refusal
	Tried    int
	Complete bool // false where the bound or the context ended the search
}

// Options of a search.
type Options struct {
	Work     *Work                  // nil takes the invented table
	Progress func(tried, found int) // may be nil
}

// Search looks for what cures the stops of a plan under its adopted edition, or
// under the given one. Where no set of three edits cures them all, it cures one
// stop at a time, and says in the notes which stay.
func Search(ctx context.Context, doc *job.Document, p *plan.Plan, e working.Edition, o Options) (*Result, error) {
	s := &search{doc: doc, dec: p.Decisions, edition: e, work: o.Work, progress: o.Progress, ctx: ctx}
	if s.work == nil {
		s.work = InventedWork()
	}
	first, err := s.judge(nil)
	if err != nil {
		return nil, err
	}
	s.before = first.stops
	if len(s.before) == 0 {
		return &Result{Complete: true}, nil
	}
	s.base = first
	c := &Case{Doc: doc, Decisions: p.Decisions, Plant: first.plant, Edition: e, Stops: s.before,
		judge: func(edits ...Edit) []working.Finding {
			r, err := s.judge(edits)
			if err != nil {
				return s.before
			}
			return r.stops
		}}
	for _, w := range Ways() {
		s.edits = append(s.edits, w.Propose(c)...)
	}
	slices.SortStableFunc(s.edits, func(a, b Edit) int { return s.byWork([]Edit{a}, []Edit{b}) })
	s.sweep(len(s.before))
	if len(s.result.Fixes) == 0 {
		s.sweep(1)
	}
	slices.SortStableFunc(s.result.Fixes, func(a, b Fix) int { return s.byWork(a.Edits, b.Edits) })
	s.result.Tried, s.result.Complete = s.tried, !s.ended
	return &s.result, ctx.Err()
}

// Attach hangs fixes on the findings that they cure, the least work first.
func (r *Result) Attach(found []working.Finding) {
	for i := range found {
		for _, x := range r.Fixes {
			if len(found[i].Fixes) < mostFixes && slices.Contains(x.Cures, found[i].ID()) {
				found[i].Fixes = append(found[i].Fixes, x.For(found[i]))
			}
		}
	}
}

// For is the fix as one finding tells it, with the margin that the finding's
// place has afterwards.
func (x Fix) For(f working.Finding) working.Fix {
	out := x.Fix
	for _, after := range rules.Find(f.Rule).Check(x.Plant, f.Edition) {
		if after.Place == f.Place && after.Test != nil {
			out.Margin = after.Margin()
		}
	}
	return out
}

type search struct {
	ctx      context.Context
	doc      *job.Document
	dec      job.Decisions
	edition  working.Edition
	work     *Work
	progress func(int, int)
	edits    []Edit
	before   []working.Finding
	base     judged
	tried    int
	ended    bool
	result   Result
}

type judged struct {
	plant *site.Plant
	stops []working.Finding
	looks []working.Finding
	asks  []working.Missing
}

// judge runs all rules on the job with edits.
func (s *search) judge(edits []Edit) (judged, error) {
	d := draft(s.doc, s.dec)
	for _, e := range edits {
		e.Apply(d)
	}
	plant, err := site.Resolve(d.Doc, *d.Decisions)
	if err != nil {
		return judged{}, err
	}
	out := judged{plant: plant}
	for _, f := range rules.Check(plant, s.edition) {
		switch {
		case f.NotCovered || f.Existing:
		case f.Verdict == working.Stop:
			out.stops = append(out.stops, f)
		case f.Verdict == working.Ask && !f.Unconfirmed():
			out.asks = append(out.asks, f.Missing...)
		case f.Verdict == working.Look:
			out.looks = append(out.looks, f)
		}
	}
	return out, nil
}

// sweep tries all edits, singly and combined, the small sets first. A set that
// holds a fix already is no better.
func (s *search) sweep(cured int) {
	for size := 1; size <= mostEdits; size++ {
		s.choose(nil, 0, size, cured)
	}
}

func (s *search) choose(set []Edit, from, more, cured int) {
	if more == 0 {
		s.try(set, cured)
		return
	}
	for i := from; i < len(s.edits) && !s.ended; i++ {
		e := s.edits[i]
		if slices.ContainsFunc(set, func(o Edit) bool { return o.Slot == e.Slot }) {
			continue
		}
		s.choose(append(slices.Clip(set), e), i+1, more-1, cured)
	}
}

func (s *search) try(set []Edit, cured int) {
	if s.holdsFix(set) {
		return
	}
	if s.tried >= mostTries || s.ctx.Err() != nil {
		s.ended = true
		return
	}
	s.tried++
	if s.progress != nil && s.tried%64 == 0 {
		s.progress(s.tried, len(s.result.Fixes))
	}
	after, err := s.judge(set)
	if err != nil {
		return // the edits contradict each other
	}
	cures := gone(s.before, after.stops)
	fresh := gone(after.stops, s.before)
	switch {
	case len(cures) >= cured && len(fresh) == 0:
		s.found(set, after, cures)
	case len(set) == 1 && len(cures) > 0 && !s.refused(set[0].Title):
		s.result.Refused = append(s.result.Refused, Refusal{Title: set[0].Title, Cures: cures, By: after.stops})
	}
}

func (s *search) refused(title string) bool {
	return slices.ContainsFunc(s.result.Refused, func(r Refusal) bool { return r.Title == title })
}

// holdsFix reports whether a fix found before is part of a set.
func (s *search) holdsFix(set []Edit) bool {
	return slices.ContainsFunc(s.result.Fixes, func(x Fix) bool {
		return !slices.ContainsFunc(x.Edits, func(e Edit) bool {
			return !slices.ContainsFunc(set, func(o Edit) bool { return o.Title == e.Title })
		})
	})
}

func (s *search) found(set []Edit, after judged, cures []string) {
	var titles, touches []string
	for _, e := range set {
		titles = append(titles, e.Title)
		for _, t := range e.Touches {
			if !slices.Contains(touches, t) {
				touches = append(touches, t)
			}
		}
	}
	w := s.work.of(set)
	x := Fix{Edits: set, Plant: after.plant, Cures: cures, Fix: working.Fix{Title: strings.Join(titles, "; "),
		Hours: quantity.Snap(w.Hours), Material: quantity.Snap(w.Material), Outage: w.Outage, Permit: w.Permit, SecondVisit: w.SecondVisit, Touches: touches}}
	for _, m := range after.asks {
		same := func(o working.Missing) bool { return o.Path == m.Path }
		if !slices.ContainsFunc(s.base.asks, same) && !slices.ContainsFunc(x.Asks, same) {
			x.Asks = append(x.Asks, m)
		}
	}
	var notes []string
	if len(after.stops) > 0 {
		notes = append(notes, "leaves "+strings.Join(gone(after.stops, nil), ", "))
	}
	if looks := gone(after.looks, s.base.looks); len(looks) > 0 {
		notes = append(notes, "look at "+strings.Join(looks, ", "))
	}
	x.Notes = strings.Join(notes, "; ")
	s.result.Fixes = append(s.result.Fixes, x)
}

// gone lists the findings of a that b does not have.
func gone(a, b []working.Finding) []string {
	var out []string
	for _, f := range a {
		if !slices.ContainsFunc(b, func(o working.Finding) bool { return o.ID() == f.ID() }) {
			out = append(out, f.ID())
		}
	}
	return out
}

// byWork compares by price of the work, then by title, so that the order never
// changes.
func (s *search) byWork(a, b []Edit) int {
	x, y := s.work.price(s.work.of(a)), s.work.price(s.work.of(b))
	switch {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return strings.Compare(titlesOf(a), titlesOf(b))
}

func titlesOf(edits []Edit) string {
	var out []string
	for _, e := range edits {
		out = append(out, e.Title)
	}
	return fmt.Sprint(out)
}

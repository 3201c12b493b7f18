package desk

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"legwork/fixes"
	"legwork/job"
	"legwork/plan"
	"legwork/rules"
	"legwork/sheets"
	"legwork/store"
	"legwork/web"
	"legwork/where"
	"legwork/working"
)

// work is all that was worked out of one revision. What takes long is done when
// first asked for.
type work struct {
	doc    *job.Document // nil when it could not be read
	plan   *plan.Plan    // nil when there are faults
	faults where.Errors

	guard  sync.Mutex
	judged map[working.Edition][]working.Finding
	cured  map[working.Edition][]working.Finding // judged, with what would cure each stop
	drawn  []web.Sheet
}

// shelf keeps work by the hash of its revision.
type shelf struct {
	guard sync.Mutex
	works map[string]*work
	order []string // oldest first
}

// room is how many revisions stay on the shelf: the jobs of a firm in a year,
// at some hundred kilobytes each.
const room = 256

func (s *shelf) of(rev store.Revision) (*work, error) {
	s.guard.Lock()
	defer s.guard.Unlock()
	if w := s.works[rev.SHA256]; w != nil {
		return w, nil
	}
	w, err := read(rev.Bytes)
	if err != nil {
		return nil, err
	}
	if s.works == nil {
		s.works = map[string]*work{}
	}
	s.works[rev.SHA256] = w
	s.order = append(s.order, rev.SHA256)
	if len(s.order) > room {
		delete(s.works, s.order[0])
		s.order = s.order[1:]
	}
	return w, nil
}

// read parses and plans. Faults of the document are kept, not returned.
func read(src []byte) (*work, error) {
	w := &work{judged: map[working.Edition][]working.Finding{}, cured: map[working.Edition][]working.Finding{}}
	doc, err := job.Parse("", src)
	if err != nil {
		var many where.Errors
		var one where.Error
		switch {
		case errors.As(err, &many):
			w.faults = many
		case errors.As(err, &one):
			w.faults = where.Errors{one}
		default:
			return nil, err
		}
		return w, nil
	}
	w.doc = doc
	if w.plan, err = plan.Fill(doc); err != nil {
		w.faults = where.Errors{{Came: err.Error(), Expected: "decisions that agree with the facts"}}
	}
	return w, nil
}

// edition is the adopted edition, 0 while it is not known.
func (w *work) edition() working.Edition { return w.plan.Plant.Edition.Or(0) }

// findings judges the plan under an edition; none while no edition is known.
func (w *work) findings(e working.Edition) []working.Finding {
	if e == 0 {
		return nil
	}
	w.guard.Lock()
	defer w.guard.Unlock()
	f, ok := w.judged[e]
	if !ok {
		f = rules.Check(w.plan.Plant, e)
		w.judged[e] = f
	}
	return f
}

// withFixes are the findings with what would cure each stop. The search is
// bounded and ends well within a second; a plan without a stop has none.
func (w *work) withFixes(ctx context.Context, e working.Edition) ([]working.Finding, error) {
	found := w.findings(e)
	if !slices.ContainsFunc(found, func(f working.Finding) bool { return f.Verdict == working.Stop && !f.Existing }) {
		return found, nil
	}
	w.guard.Lock()
	defer w.guard.Unlock()
	if w.cured[e] == nil {
		r, err := fixes.Search(ctx, w.doc, w.plan, e, fixes.Options{})
		if err != nil {
			return nil, err
		}
		with := slices.Clone(found)
		r.Attach(with)
		w.cured[e] = with
	}
	return w.cured[e], nil
}

// asked is every fact that a finding or the plan waits for, by its path.
func (w *work) asked() map[string]working.Missing {
	out := map[string]working.Missing{}
	if w.plan == nil {
		return out
	}
	for _, m := range w.missing(w.edition()) {
		out[m.Path] = m
	}
	for _, m := range w.plan.Open {
		out[m.Path] = m
	}
	return out
}

// missing lists the facts that findings wait for, each once; what is to be
// confirmed on site stands apart.
func (w *work) missing(e working.Edition) []working.Missing {
	if e == 0 {
		return []working.Missing{w.plan.Plant.Edition.Ask}
	}
	var out []working.Missing
	seen := map[string]bool{}
	for _, f := range w.findings(e) {
		if f.Unconfirmed() {
			continue
		}
		for _, m := range f.Missing {
			if !seen[m.Path] {
				seen[m.Path] = true
				out = append(out, m)
			}
		}
	}
	return out
}

// head fills in what the document says of itself.
func (w *work) head(h *web.Job) {
	h.Faults = w.faults
	if w.doc != nil {
		h.Name, h.Invented, h.About = w.doc.Name, w.doc.Invented, w.doc.Site.Climate.Value
	}
	if w.plan == nil {
		return
	}
	p := w.plan.Plant
	if n := len(p.Units); n > 0 {
		h.Plant = counted(n, "unit", "units")
		if b := len(p.Branches); b > 0 {
			h.Plant += " on " + counted(b, "branch", "branches")
		}
	}
	h.Edition = w.edition()
	found := w.findings(h.Edition)
	h.Tally = web.TallyOf(found)
	h.Missing = len(w.missing(h.Edition))
	h.Line = sheets.Line(p, found)
}

// sheets draws the set once.
func (w *work) sheets() ([]web.Sheet, error) {
	w.guard.Lock()
	defer w.guard.Unlock()
	if w.drawn != nil {
		return w.drawn, nil
	}
	all := sheets.All()
	scenes, err := sheets.Draw(sheets.From(w.plan), all)
	if err != nil {
		return nil, fmt.Errorf("sheets: %w", err)
	}
	answers := map[string]string{}
	for _, s := range all {
		answers[s.Number] = s.Answers
	}
	for _, s := range scenes {
		number, _, _ := strings.Cut(s.Number, ".") // E-603.2 is the second page of E-603
		w.drawn = append(w.drawn, web.Sheet{Answers: answers[number], Scene: s})
	}
	return w.drawn, nil
}

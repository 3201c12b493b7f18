package ctproof

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"legwork/meter"
)

// FaultPrior is the chance of one mistake. No public counts exist; 1 % each is
// the metering reference's choice, and evidence swamps it.
const FaultPrior = .01

// SharedCause is how much likelier a second mistake of one cause is than one of
// its own: whoever misreads one arrow misreads two. Judgement.
const SharedCause = 10

// explanation is one way in which the channels of a side may be wired.
type explanation struct {
	faults []meter.Fault // none: as planned
	prior  float64       // logarithm, not normalized
	second float64       // chance of the second mistake given the first, 1 for fewer
	refs   refs
	arrow  bool // comes from misread arrows
}

// sceptic is the logarithm of a prior that no untested belief enters: every single
// mistake is as likely as none, and so is every further mistake on top of the
// explanation that leads.
func (e explanation) sceptic(leading explanation) float64 {
	if len(e.faults) < 2 {
		return 0
	}
	if len(leading.faults) == 1 {
		for _, f := range e.faults {
			if f.Name == leading.faults[0].Name {
				return 0
			}
		}
	}
	return math.Log(e.second)
}

func (e explanation) name() string {
	if len(e.faults) == 0 {
		return "ok"
	}
	var names []string
	for _, f := range e.faults {
		names = append(names, f.Name)
	}
	return strings.Join(names, "+")
}

func (e explanation) cure() string {
	var cures []string
	for _, f := range e.faults {
		cures = append(cures, f.Cure)
	}
	if len(cures) == 0 {
		return "nothing to move"
	}
	return strings.Join(cures, "; and ")
}

// response is one K with the explanations that share it.
type response struct {
	rows []meter.Row
	jaws []jaw
	of   []explanation
	log  float64 // prior of all of them
}

// prior is the logarithm of the sum of the explanations' priors.
func (r *response) prior() float64 {
	sum := math.Inf(-1)
	for _, e := range r.of {
		sum = add(sum, e.prior)
	}
	return sum
}

// library is all responses of a kind of site, made once.
type library struct{ grid, prod []*response }

type kind struct {
	sys               meter.System
	windows, branches int
}

var libraries sync.Map // kind to *library; a pure function remembered

func libraryOf(s Site) *library {
	k := kind{s.System, s.Windows, s.Branches}
	if l, ok := libraries.Load(k); ok {
		return l.(*library)
	}
	l := &library{
		grid: responses(k, meter.GridFaults(), func(w *meter.Wiring) []meter.Placement { return w.Grid }),
		prod: responses(k, meter.ProductionFaults(k.windows, k.branches), func(w *meter.Wiring) []meter.Placement { return w.Prod }),
	}
	got, _ := libraries.LoadOrStore(k, l)
	return got.(*library)
}

// responses lists none, each single mistake and each pair that can be there at
// once, gathered by K.
func responses(k kind, faults []meter.Fault, side func(*meter.Wiring) []meter.Placement) []*response {
	var out []*response
	byK := map[string]*response{}
	put := func(prior, second float64, fs ...meter.Fault) {
		w := meter.Right(k.sys, k.windows, k.branches).With(fs...)
		channels := side(w)
		e := explanation{faults: fs, prior: math.Log(prior), second: second, refs: refsOf(channels)}
		for _, f := range fs {
			e.arrow = e.arrow || f.Cause == "arrow"
		}
		rows := w.Rows(channels)
		jaws := make([]jaw, len(channels))
		var key strings.Builder
		for i, r := range rows {
			jaws[i] = jawOf(channels[i])
			if r.L1 == 0 && r.L2 == 0 && zero(r.PV) {
				jaws[i] = shut
			}
			fmt.Fprintf(&key, "%.5f %.5f %.5f %v|", r.L1+0, r.L2+0, r.PV, jaws[i])
		}
		id := strings.ReplaceAll(key.String(), "-0.00000", "+0.00000")
		r, ok := byK[id]
		if !ok {
			r = &response{rows: rows, jaws: jaws}
			byK[id] = r
			out = append(out, r)
		}
		r.of = append(r.of, e)
	}
	put(1, 1)
	for i, f := range faults {
		put(FaultPrior, 1, f)
		for _, g := range faults[i+1:] {
			if !f.Apart(g) {
				continue
			}
			second := FaultPrior
			if f.Cause != "" && f.Cause == g.Cause {
				second *= SharedCause
			}
			put(FaultPrior*second, second, f, g)
		}
	}
	for _, r := range out {
		r.log = r.prior()
	}
	return out
}

func zero(ks []complex128) bool {
	for _, k := range ks {
		if k != 0 {
			return false
		}
	}
	return true
}

func jawOf(p meter.Placement) jaw {
	switch p.Lead {
	case meter.OpenJaw.Lead:
		return open
	case meter.NotLatched.Lead:
		return notLatched
	}
	return shut
}

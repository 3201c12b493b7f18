package ctproof

import (
	"encoding/json"
	"math"
	"sort"

	"legwork/meter"
)

// Verdict says how far the proof of one side has come.
type Verdict string

// The verdicts.
const (
	Settled       Verdict = "settled"       // one class stands out, by evidence
	Open          Verdict = "open"          // a named next state can split what is left
	CannotTell    Verdict = "cannot-tell"   // no state can, only eyes
	Contradiction Verdict = "contradiction" // no explanation fits the readings
)

// Stop is the probability at which a class settles a side. It must also reach
// Sceptic with every single mistake as likely as none, so that no prior settles what
// no reading has tested. The rate of error among what is settled is measured by the
// study in docs/studies/ctproof.md.
const (
	Stop    = .98
	Sceptic = .90
)

// Most classes and names that an answer holds.
const (
	mostClasses = 8
	mostFaults  = 6
	ruled       = 1e-3 // sceptic's probability below which a mistake is out
	leastShare  = .05  // of its class, for an explanation to be named
)

// Factor is one K; it prints as a number, or as [re, im] where it makes vars.
type Factor complex128

// MarshalJSON rounds to four decimals.
func (f Factor) MarshalJSON() ([]byte, error) {
	r := func(x float64) float64 { return math.Round(x*1e4)/1e4 + 0 }
	if re, im := r(real(complex128(f))), r(imag(complex128(f))); im != 0 {
		return json.Marshal([2]float64{re, im})
	}
	return json.Marshal(r(real(complex128(f))))
}

// Class is all explanations with one response: they read alike in every state.
type Class struct {
	P float64 `json:"p"`
	// Faults names the explanations, likeliest first; + joins mistakes that are
	// there together.
	Faults   []string                     `json:"faults"`
	Response map[string]map[string]Factor `json:"response"`
	// Cures says what the hand has to do, one for each of Faults where they differ.
	Cures []string `json:"cures"`
}

// Side is the answer for the grid or the production channels.
type Side struct {
	Verdict Verdict `json:"verdict"`
	Classes []Class `json:"classes"`
}

// Next is the state to try next.
type Next struct {
	State   string  `json:"state"`
	Why     string  `json:"why"`
	Minutes float64 `json:"minutes"`
	// Caution is what to know before it is set up.
	Caution string `json:"-"`
	// Bits is the information expected of it.
	Bits float64 `json:"-"`
}

// RuledOut is a single mistake that a state has ruled out.
type RuledOut struct {
	Side  string `json:"side"` // grid or production: some mistakes have one name
	Fault string `json:"fault"`
	State string `json:"state"`
}

// Answer is what the evidence says so far.
type Answer struct {
	Grid       Side
	Production Side
	Next       *Next // nil when nothing is left that a state could split
	RuledOut   []RuledOut
	Refused    []Refusal
}

// Answer judges all states taken so far.
func (p *Proof) Answer() Answer {
	j := p.judge()
	out := Answer{Refused: p.refused, RuledOut: p.ruledOut(j)}
	out.Grid = side(j.grid, "G")
	if out.Grid.Verdict == Settled && !p.legTested() {
		out.Grid.Verdict = Open
	}
	out.Production = Side{Verdict: CannotTell, Classes: []Class{}}
	if p.site.Windows > 0 {
		out.Production = side(j.prod, "P")
	}
	out.Next = p.next(j, &out)
	if strange(j.misfitG, p.figures) {
		out.Grid.Verdict = Contradiction
	}
	if p.site.Windows > 0 && strange(j.misfitP, p.figureP) {
		out.Production.Verdict = Contradiction
	}
	return out
}

// legTested says that a known load was on one leg: PV and 240 V loads tell nothing of
// which leg a CT is on, and how a house drifts is no proof of it.
func (p *Proof) legTested() bool {
	for _, s := range p.states {
		if s.L1.W > 0 || s.L2.W > 0 {
			return true
		}
	}
	return false
}

// strange says that squared residuals of n figures are beyond what the best
// explanation allows: more than 5.5 standard deviations by the cube root of
// Wilson and Hilferty, one in 50 million.
//
// Source: E. B. Wilson, M. M. Hilferty, The distribution of chi-square, 1931.
func strange(squares float64, n int) bool {
	if n == 0 {
		return false
	}
	k := 2. / 9 / float64(n)
	return (math.Cbrt(squares/float64(n))-1+k)/math.Sqrt(k) > 5.5
}

// side lists classes and says whether one stands out; Open is refined by next.
func side(ws []weighed, prefix string) Side {
	s := Side{Verdict: Open, Classes: []Class{}}
	for _, w := range ws {
		if len(s.Classes) == mostClasses || w.p < 1e-6 && len(s.Classes) > 0 {
			break
		}
		s.Classes = append(s.Classes, w.class(prefix))
	}
	if len(ws) > 0 && ws[0].p >= Stop && ws[0].sceptic >= Sceptic {
		s.Verdict = Settled
	}
	return s
}

func (w weighed) class(prefix string) Class {
	c := Class{P: math.Round(w.p*1e6) / 1e6, Response: map[string]map[string]Factor{}, Cures: []string{}}
	order := make([]int, len(w.of))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return w.each[order[a]] > w.each[order[b]] })
	said := map[string]bool{}
	for n, i := range order {
		if n == mostFaults || n > 0 && w.each[i] < leastShare*w.p {
			break
		}
		e := w.of[i]
		c.Faults = append(c.Faults, e.name())
		if cure := e.cure(); !said[cure] {
			said[cure] = true
			c.Cures = append(c.Cures, cure)
		}
	}
	for i, row := range w.rows {
		named := map[string]Factor{}
		for source, k := range row.Named() {
			named[source] = Factor(k)
		}
		c.Response[prefix+string(rune('1'+i))] = named
	}
	return c
}

// ruledOut lists the single mistakes that are out, and the state that told most
// against each.
func (p *Proof) ruledOut(j joint) []RuledOut {
	var out []RuledOut
	for _, side := range []struct {
		name   string
		grid   bool
		left   []weighed
		faults []meter.Fault
	}{
		{"grid", true, j.grid, meter.GridFaults()},
		{"production", false, j.prod, meter.ProductionFaults(p.site.Windows, p.site.Branches)},
	} {
		state := map[string]string{}
		single := func(r *response, s string) {
			for _, e := range r.of {
				if len(e.faults) == 1 {
					state[e.name()] = s
				}
			}
		}
		for _, d := range p.dropped {
			if d.grid == side.grid {
				single(d.r, d.state)
			}
		}
		for _, w := range side.left {
			if w.sceptic < ruled && len(w.steps) > 0 {
				single(w.response, p.against(w.steps, side.left[0].steps))
			}
		}
		for _, f := range side.faults {
			if s, ok := state[f.Name]; ok {
				out = append(out, RuledOut{side.name, f.Name, s})
			}
		}
	}
	return out
}

// against is the state in which a course of scores fell furthest behind the best.
func (p *Proof) against(steps, best []float64) string {
	state, worst, behind := "", 0., 0.
	for i := range steps {
		if i >= len(best) || i >= len(p.states) {
			break
		}
		d := steps[i] - best[i]
		if d-behind < worst || state == "" {
			state, worst = p.states[i].Reading.State, d-behind
		}
		behind = d
	}
	return state
}

package field

import (
	"legwork/quantity"
	"legwork/working"
)

// Reading is a value as an instrument showed it.
type Reading struct {
	Value float64       // in Unit
	Unit  quantity.Unit // base unit of the quantity
	// Over says that the display showed more than its range ends at, "OL": the
	// quantity is at least Value.
	Over bool
}

// Judgment is what a set of readings says about a step.
type Judgment struct {
	Verdict  working.Verdict            // the worst of the readings; OK for a step without any
	Readings map[string]working.Verdict // by id of the Expect
	Patterns []Pattern                  // what the picture means
}

// Passes reports whether the readings let the step pass by themselves.
func (j Judgment) Passes() bool { return j.Verdict == working.OK || j.Verdict == working.Look }

// Judge holds readings, by id of the Expect, against the limits of a step. A
// reading that was not taken, or in another unit, is Ask.
func Judge(s Step, readings map[string]Reading) Judgment {
	j := Judgment{Verdict: working.OK, Readings: map[string]working.Verdict{}}
	for _, x := range s.Expect {
		v := working.Ask
		if r, ok := readings[x.ID]; ok {
			v = x.judge(r)
		}
		j.Readings[x.ID] = v
		j.Verdict = working.Worse(j.Verdict, v)
	}
	if j.Verdict != working.OK {
		for _, p := range s.Patterns {
			if p.Fits(readings) {
				j.Patterns = append(j.Patterns, p)
			}
		}
	}
	return j
}

func (x Expect) judge(r Reading) working.Verdict {
	if r.Unit != x.Unit {
		return working.Ask
	}
	v := x.Judge(term(r.Value, x.Unit))
	if r.Over && v != working.Stop && (x.Stop.High != nil || x.Look.High != nil) {
		return working.Ask // somewhere above: no upper limit can be proved by it
	}
	return v
}

// measured is a quantity of any unit.
type measured struct {
	value float64
	unit  quantity.Unit
}

func (m measured) Float() float64      { return m.value }
func (m measured) Unit() quantity.Unit { return m.unit }

// term wraps a reading for the limits of Expect.
func term(v float64, u quantity.Unit) working.Term {
	return working.Of(measured{v, u}, "", working.Origin{Kind: working.Given})
}

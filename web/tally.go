package web

import "legwork/working"

// verdicts from the one to act on first to the one to leave alone, as every
// page lists them.
var verdicts = []working.Verdict{working.Stop, working.Ask, working.Look, working.OK}

// Tally counts findings by verdict.
type Tally map[working.Verdict]int

// TallyOf counts findings; those not covered count nowhere, nor does what is still
// to be confirmed on site.
func TallyOf(findings []working.Finding) Tally {
	t := Tally{}
	for _, f := range findings {
		if !f.NotCovered && !f.Unconfirmed() {
			t[f.Verdict]++
		}
	}
	return t
}

// Of is the count of one verdict.
func (t Tally) Of(v working.Verdict) int { return t[v] }

// All is the count of all verdicts together.
func (t Tally) All() int {
	n := 0
	for _, c := range t {
		n += c
	}
	return n
}

// Worst is the worst verdict counted, "" when there is none.
func (t Tally) Worst() working.Verdict {
	for _, v := range verdicts {
		if t[v] > 0 {
			return v
		}
	}
	return ""
}

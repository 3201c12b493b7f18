package rules

import (
	"legwork/site"
	"legwork/working"
)

// Terminals is the terminal-temperature test of a conductor.
var Terminals = Rule{
	ID:    "terminals",
	Title: "Terminals stay within their mark at 125 % of the current",
	Why: "A conductor may run hotter than the lug that holds it; the table column of " +
		"the cooler end, without any factor, has to cover 125 % of the current.",
	Clauses: working.Clauses{
		2017: "110.14(C), 690.8(B)(1)",
		2020: "110.14(C), 690.8(B)(1)",
		2023: "110.14(C), 690.8(B)(1)",
	},
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On:    onRun(nil, func(_ *site.Plant, r *site.Run, w *working.Sheet) working.Verdict { return terminalsHold(r, w) }),
}

func terminalsHold(r *site.Run, w *working.Sheet) working.Verdict {
	c := r.Conductors
	i := circuitCurrent(w, largestCircuit(r))
	need := continuous(w, "I_125", i)
	return w.AtLeast(terminalAmpacity(w, r, wire{size: w.Fact("size", c.Size), metal: w.Fact("metal", c.Material)}, deviceOf(w, r)), need)
}

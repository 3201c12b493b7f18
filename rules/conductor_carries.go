package rules

import (
	"legwork/site"
	"legwork/working"
)

// ConductorCarries is the conditions-of-use test of a conductor.
var ConductorCarries = Rule{
	ID:    "conductor-carries",
	Title: "Conductor carries the current where it runs",
	Why: "Heat from the air and from its neighbors takes capacity away; the hottest " +
		"stretch decides. The 125 % of continuous current is not counted here. A raceway of up to 24 in is not adjusted for " +
		"its neighbors; a short stretch that is hotter than the rest may be passed over: 10 ft or 10 % of the rest, whichever is less.",
	Clauses: working.Clauses{
		2017: "690.8(B)(2), 310.15(A)(2), (B)(2)(a), (B)(3)(a), (B)(3)(c)",
		2020: "690.8(B)(2), 310.14(A)(2), 310.15(B)(1), (B)(2), (C)(1)",
		2023: "690.8(B)(2), 310.14(A)(2), 310.15(B)(1), (B)(2), (C)(1)",
	},
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On:    onRun(nil, func(_ *site.Plant, r *site.Run, w *working.Sheet) working.Verdict { return carries(r, w) }),
}

func carries(r *site.Run, w *working.Sheet) working.Verdict {
	i := circuitCurrent(w, largestCircuit(r))
	return w.AtLeast(correctedAmpacity(w, r, wireOf(w, r.Conductors), i), i)
}

package rules

import (
	"legwork/site"
	"legwork/working"
)

// BranchCurrent is the continuous-load limit of the branch breaker.
var BranchCurrent = Rule{
	ID:    "branch-current",
	Title: "Branch current within 80 % of its breaker",
	Why: "Units run at full output for hours; a breaker that is not rated for 100 % " +
		"trips on a hot afternoon when it carries more than 80 % of its rating.",
	Clauses: working.Clauses{
		2017: "690.8(A)(3), 690.9(B)",
		2020: "690.8(A)(1)(e), 690.9(B)",
		2023: "690.8(A)(1), 690.9(B)",
	},
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onBranch(nil, func(_ *site.Plant, b *site.Branch, w *working.Sheet) working.Verdict {
		i := groupCurrent(w, "I", "current of branch "+b.ID, b.Groups(), nil)
		breaker := w.Fact("I_b", b.Breaker.Rating)
		limit := w.Let("I_max", breaker.Over(working.Num(1.25)), "what the breaker may carry for hours")
		return w.AtMost(i, limit)
	}),
}

package rules

import (
	"legwork/site"
	"legwork/working"
)

// BranchBreaker is the largest breaker that trunk cable and listing allow.
var BranchBreaker = Rule{
	ID:    "branch-breaker",
	Title: "Branch breaker no larger than trunk cable and listing allow",
	Why: "The breaker is all that protects the trunk cable and the units' internal " +
		"wiring; their listing names the largest one.",
	Clauses: working.Clauses{2017: "110.3(B), 690.9(A)", 2020: "110.3(B), 690.9(A)", 2023: "110.3(B), 690.9(A)"},
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onBranch(func(_ *site.Plant, b *site.Branch) bool { return len(b.Units) > 0 },
		func(_ *site.Plant, b *site.Branch, w *working.Sheet) working.Verdict {
			breaker := w.Fact("I_b", b.Breaker.Rating)
			limits := []working.Term{w.Fact("I_trunk", b.Units[0].Inverter.Trunk.Rating)}
			for i, g := range b.Groups() {
				sym := "I_list"
				if len(b.Groups()) > 1 {
					sym += subscript(i)
				}
				limits = append(limits, w.Fact(sym, g.Inverter.LargestBreaker))
			}
			limit := w.Let("I_max", working.Least(limits[0], limits[1:]...), "smallest of what trunk and listing allow")
			return w.AtMost(breaker, limit)
		}),
}

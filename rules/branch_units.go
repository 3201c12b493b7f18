package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// BranchUnits is the listing limit on the number of units.
var BranchUnits = Rule{
	ID:    "branch-units",
	Title: "No more units on the branch than the listing allows",
	Why: "The listing limits how many units one trunk may feed, whatever the sum of " +
		"their currents; a longer branch is used outside its listing.",
	Clauses: working.Clauses{2017: "110.3(B)", 2020: "110.3(B)", 2023: "110.3(B)"},
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onBranch(nil, func(_ *site.Plant, b *site.Branch, w *working.Sheet) working.Verdict {
		n := w.Fact("n", working.State(quantity.Count(len(b.Units)), "units on branch "+b.ID, working.Origin{Kind: working.Computed, Path: "decisions.branches." + b.ID}))
		// Of several models the one with the lowest limit governs.
		limits := []working.Term{}
		for i, g := range b.Groups() {
			sym := "n_max"
			if len(b.Groups()) > 1 {
				sym += subscript(i)
			}
			limits = append(limits, w.Fact(sym, g.Inverter.UnitsPer20A))
		}
		if len(limits) == 0 {
			w.Note("branch %s has no units", b.ID)
			return w.AtMost(n, n)
		}
		limit := limits[0]
		if len(limits) > 1 {
			limit = w.Let("n_max", working.Least(limits[0], limits[1:]...), "lowest limit of the models on it")
		}
		return w.AtMost(n, limit)
	}),
}

package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// BusbarTwo is the condition of the 120 % sum that there is but one other source.
var BusbarTwo = Rule{
	ID:    "busbar-two",
	Title: "One source beside the utility for the 120 % sum",
	Why: "The clause speaks of two sources, the utility and one other. Several source " +
		"breakers side by side at the far end pass with many inspectors, but no text says so.",
	Clauses: working.Clauses{
		2017: "705.12(B)(2)(3)(b)",
		2020: "705.12(B)(3)(2)",
		2023: "705.12(B)(2)",
	},
	Mark:  "2017 seen; 2020 and 2023 seen in part",
	Gives: []working.Verdict{working.OK, working.Look},
	On: onBus(takes(byOpposite), func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		n := w.Fact("n", working.State(quantity.Count(len(b.Entries())), "breakers through which sources enter", working.Origin{Kind: working.Computed, Path: "plan"}))
		if w.AtMost(n, working.Num(1)) == working.Stop {
			w.Note("gather the sources in one combiner, or ask the department before they are drawn side by side")
			return working.Look
		}
		return working.OK
	}),
}

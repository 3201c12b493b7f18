package rules

import (
	"fmt"

	"legwork/site"
	"legwork/working"
)

// BusbarSum is the rule for a combiner: all breakers but the main.
var BusbarSum = Rule{
	ID:    "busbar-sum",
	Title: "All breakers but the main, and the main itself, within the busbar",
	Why: "When every breaker on the bar together stays within it, no mix of sources and " +
		"loads can overload it. Meter, gateway and surge breakers count.",
	Clauses: working.Clauses{
		2017: "705.12(B)(2)(3)(c)",
		2020: "705.12(B)(3)(3)",
		2023: "705.12(B)(3)",
	},
	Mark:  "2017 seen; 2020 and 2023 seen in part",
	Gives: []working.Verdict{working.OK, working.Look, working.Ask, working.Stop},
	On: onBus(takes(bySum), func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		var all []working.Term
		for i, d := range b.Breakers {
			all = append(all, w.Fact(fmt.Sprintf("I_%d", i+1), d.Rating))
		}
		sum := w.Let("I_sum", working.Sum("A", all...), "all breakers on the bar")
		// The device that protects the bar stands outside the sum, but must not be
		// larger than the bar either.
		most := w.Let("I_max", working.Greatest(sum, w.Fact("I_up", b.Protection())), "larger of the sum and what protects the bar")
		return w.NearIsLook(w.AtMost(most, w.Fact("I_bus", b.Rating)))
	}),
}

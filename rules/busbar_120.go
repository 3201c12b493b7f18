package rules

import (
	"legwork/site"
	"legwork/working"
)

// Busbar120 is the far-end breaker rule for a panel fed from one end.
var Busbar120 = Rule{
	ID:    "busbar-120",
	Title: "Main plus 125 % of the source within 120 % of the busbar",
	Why: "With sources at both ends no point of the bar carries both in full; a " +
		"breaker moved along the bar undoes that, hence the label.",
	Clauses: working.Clauses{
		2017: "705.12(B)(2)(3)(b)",
		2020: "705.12(B)(3)(2)",
		2023: "705.12(B)(2)",
	},
	Mark:  "2017 seen; 2020 and 2023 seen in part",
	Gives: []working.Verdict{working.OK, working.Look, working.Ask, working.Stop},
	On: onBus(takes(byOpposite), func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		return mainPlusSource(w, b, 1.20)
	}),
}

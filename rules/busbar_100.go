package rules

import (
	"legwork/site"
	"legwork/working"
)

// Busbar100 is the plain sum: it holds wherever the breakers sit.
var Busbar100 = Rule{
	ID:    "busbar-100",
	Title: "Main plus 125 % of the source within the busbar",
	Why:   "When all that can flow in fits the bar, no breaker position can overload it.",
	Clauses: working.Clauses{
		2017: "705.12(B)(2)(3)(a)",
		2020: "705.12(B)(3)(1)",
		2023: "705.12(B)(1)",
	},
	Mark:  "2017 seen; 2020 and 2023 seen in part",
	Gives: []working.Verdict{working.OK, working.Look, working.Ask, working.Stop},
	On: onBus(takes(byHundred), func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		return mainPlusSource(w, b, 1)
	}),
}

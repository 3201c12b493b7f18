package rules

import (
	"legwork/site"
	"legwork/working"
)

// BusbarCenter is the rule for a center-fed panel of a dwelling.
var BusbarCenter = Rule{
	ID:    "busbar-center",
	Title: "Center-fed: main plus 125 % of the source within 120 % of the busbar",
	Why: "A main in the middle splits the bar; a source at one end meets only half of " +
		"the loads, so the bar is held to 120 %, and only one end may be used.",
	Clauses: working.Clauses{
		2017: "705.12(B)(2)(3)(d)",
		2020: "705.12(B)(3)(4)",
		2023: "705.12(B)(4)",
	},
	Mark:  "2017 seen; 2020 and 2023 seen in part; \"not both ends\" for 2020 and 2023 from memory",
	Gives: []working.Verdict{working.OK, working.Look, working.Ask, working.Stop},
	On: onBus(takes(byCenter), func(p *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		return mainPlusSource(w, b, 1.20, w.Fact("use", p.Occupancy))
	}),
}

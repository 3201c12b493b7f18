package rules

import (
	"legwork/site"
	"legwork/working"
)

// MainLoad holds a new main against the calculated load.
var MainLoad = Rule{
	ID:    "main-load",
	Title: "New main holds the calculated load",
	Why:   "A smaller main that cures the busbar must still carry the house.",
	Clauses: working.Clauses{
		2017: "230.79, Article 220",
		2020: "230.79, Article 220",
		2023: "230.79, Article 220",
	},
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onService(func(_ *site.Plant, b *site.Bus) bool { return changed(b) },
		func(p *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
			return w.AtLeast(w.Fact("I_main", b.Main), w.Fact("I_load", p.Service.LoadCalculated))
		}),
}

package rules

import (
	"legwork/site"
	"legwork/working"
)

// PanelBreakers refuses panels for which no listed breaker is made.
var PanelBreakers = Rule{
	ID:    "panel-breakers",
	Title: "Listed breakers are made for this panel",
	Why:   "For some old panels no listed breaker is made any more: nothing may be added to them.",
	Clauses: working.Clauses{
		2017: "110.3(B)",
		2020: "110.3(B)",
		2023: "110.3(B)",
	},
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onBus(func(_ *site.Plant, b *site.Bus) bool {
		return b.AsksBreaker && (b.Change == nil || !b.Change.Panel)
	}, func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		return no(w, "none made", b.NoBreaker)
	}),
}

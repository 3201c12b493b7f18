package rules

import (
	"legwork/job"
	"legwork/site"
	"legwork/working"
)

// BusbarBefore judges a busbar as it stood before this job.
var BusbarBefore = Rule{
	ID:    "busbar-before",
	Title: "Busbar as it was before this job",
	Why: "A violation that was there before is named apart from what the plan adds, so that " +
		"nobody is blamed for it and nobody builds on it unknowing.",
	Clauses: working.Clauses{
		2017: "705.12(B)(2)(3)",
		2020: "705.12(B)(3)",
		2023: "705.12(B)",
	},
	Mark:  "2017 seen; 2020 and 2023 seen in part",
	Gives: []working.Verdict{working.OK, working.Look, working.Ask, working.Stop},
	On: onto(func(p *site.Plant) []*site.Bus { return p.Buses },
		func(b *site.Bus) string { return b.ID + "/bus" },
		func(*site.Bus) bool { return true },
		func(_ *site.Plant, b *site.Bus) bool {
			return b.Kind == site.PanelBus && !changed(b) && len(b.Groups()) > 0 && len(b.ExistingSources()) > 0
		},
		func(p *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
			src := groupCurrent(w, "I_src", "output current of the sources that were there", nil, b.ExistingSources())
			sum := w.Let("I_sum", w.Fact("I_main", b.Protection()).Plus(src.Times(1.25)), "all that can reach one point of the bar")
			limit := w.Fact("I_bus", b.Rating)
			if !(b.Feed.Value == job.FeedCenter && p.Occupancy.Value == job.Other) {
				limit = w.Let("I_max", limit.Times(1.20), "what the bar may be offered with the source at its far end")
			}
			return w.NearIsLook(w.AtMost(sum, limit))
		}),
}

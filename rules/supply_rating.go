package rules

import (
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// SupplyRating holds the sources ahead of the main against the service.
var SupplyRating = Rule{
	ID:    "supply-rating",
	Title: "Sources ahead of the main within the service",
	Why: "What the sources deliver flows through the service conductors, which nothing " +
		"but the utility's fuse protects.",
	Clauses: working.Clauses{
		2017: "705.12(A)",
		2020: "705.11(A)",
		2023: "705.11(A), (B)",
	},
	Mark:  "2017, 2020 and the minimum of 2023 seen; the sum of 2023 as in 2020",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onTap(func(p *site.Plant, _ *site.Bus, w *working.Sheet) working.Verdict {
		service := w.Fact("I_sv", p.Service.Rating)
		if w.Edition < 2020 { // ratings of the devices against the service
			return w.AtMost(working.Sum("A", deviceRatings(p, w)...), service)
		}
		var groups []site.Group
		var existing []*site.Source
		for _, b := range tapped(p) {
			groups, existing = append(groups, b.Groups()...), append(existing, b.ExistingSources()...)
		}
		limit := service
		if c := p.Service.Conductors; c != nil {
			size, metal := w.Fact("size", c.Size), w.Fact("metal", c.Material)
			limit = w.Let("I_max", working.Least(service, w.Cell("A", "service conductors, 75 °C column", tables.AmpacityOf(c.Size.Value, c.Material.Value, 75), size, metal)), "smaller of the two")
		}
		return w.AtMost(groupCurrent(w, "I_out", "output current of all sources ahead of the main", groups, existing), limit)
	}),
}

// tapped are the buses that are joined ahead of the main.
func tapped(p *site.Plant) []*site.Bus {
	var out []*site.Bus
	for _, b := range p.Buses {
		if b.Up != nil && b.Up.Supply != nil {
			out = append(out, b)
		}
	}
	return out
}

func deviceRatings(p *site.Plant, w *working.Sheet) []working.Term {
	var out []working.Term
	for i, b := range tapped(p) {
		out = append(out, w.Fact("I_f"+subscript(i), b.Up.Device.Rating))
	}
	return out
}

package rules

import (
	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// MainMinimum is the least rating of a dwelling's service disconnect.
var MainMinimum = Rule{
	ID:    "main-minimum",
	Title: "Service disconnect of a dwelling at least 100 A",
	Why: "A smaller main would make room on the busbar, but a one-family dwelling's " +
		"service disconnect may not be rated below 100 A.",
	Clauses: working.Clauses{2017: "230.79(C)", 2020: "230.79(C)", 2023: "230.79(C)"},
	Mark:    "seen in tables of load calculation",
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onService(func(p *site.Plant, _ *site.Bus) bool { return !p.Occupancy.Known || p.Occupancy.Value == job.Dwelling },
		func(p *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
			least := working.Of(quantity.Amps(100), "least rating for a one-family dwelling", working.Origin{Kind: working.Table, Clause: "230.79(C)"})
			v := w.AtLeast(w.Fact("I_main", b.Main), w.Let("I_min", least).Needs(w.Fact("use", p.Occupancy)))
			if v == working.Stop {
				w.Note("a few departments read the 100 A as the rating of the equipment, not of the breaker: only with their written answer")
			}
			return v
		}),
}

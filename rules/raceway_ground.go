package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// RacewayGround is a metal raceway in place of a ground wire.
var RacewayGround = Rule{
	ID:    "raceway-ground",
	Title: "Raceway may be the equipment ground",
	Why: "EMT, rigid and intermediate metal conduit are grounds themselves, so a missing wire is no " +
		"fault. Flexible metal is one only behind a small breaker and for 6 ft.",
	Clauses: working.Clauses{2017: "250.118(2) to (6)", 2020: "250.118(2) to (6)", 2023: "250.118(A)(2) to (6)"},
	Mark:    "from memory",
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onRun(func(_ *site.Plant, r *site.Run) bool { return !r.Conductors.HasGround && racewayGrounds(r) },
		func(_ *site.Plant, r *site.Run, w *working.Sheet) working.Verdict {
			c := r.Conductors
			kind := w.Fact("raceway", c.Raceway)
			if c.Raceway.Value.Row().EquipmentGround == tables.GroundYes {
				return w.Is(w.Fact("is a ground", working.State(true, "listed as an equipment ground", working.Origin{Kind: working.Table, Path: "raceway-kinds", Mark: "from memory"}).Term().Needs(kind)), "yes")
			}
			most, trade := quantity.Amps(20), kind
			if c.Raceway.Value == tables.LFMC {
				trade = w.Fact("trade size", c.Trade)
				if c.Trade.Value >= quantity.Trade3_4 {
					most = 60
				}
			}
			limit := working.Of(most, "largest breaker for a flexible ground", working.Origin{Kind: working.Table, Path: "raceway-kinds", Mark: "from memory"}).Needs(trade)
			if v := w.AtMost(deviceOf(w, r), w.Let("I_flex", limit)); v != working.OK {
				return v
			}
			w.Note("only with fittings listed for grounding, and not where it has to flex after installation")
			return w.AtMost(w.Fact("L", r.Length), working.Of(quantity.Feet(6), "longest flexible ground", working.Origin{Kind: working.Table, Path: "raceway-kinds", Mark: "from memory"}))
		}),
}

package rules

import (
	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// TapToFuses is the way from the tap to the first overcurrent device.
var TapToFuses = Rule{
	ID:    "tap-to-fuses",
	Title: "Fuses close to the tap, or where the conductors enter",
	Why: "Between tap and fuses nothing but the utility clears a fault; that stretch is " +
		"kept short or out of the house. The editions say so in different ways.",
	Clauses: working.Clauses{
		2017: "705.31",
		2020: "705.11(C)",
		2023: "705.11(F), 230.70, 230.91",
	},
	Mark:  "2017 and 2023 seen; 2020 inside seen in part, outside from memory",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onTap(func(p *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		t := b.Up.Supply
		switch {
		case w.Edition >= 2023:
			w.Note("no length in feet stands in this edition; 10 ft is the limit of 2017, 2020 and, as reported, 2026")
			return w.Is(w.Fact("place", atEntrance(t)), entrance)
		case w.Edition >= 2020 && t.Outside.Known && t.Outside.Value:
			w.Fact("outside", t.Outside)
			return yes(w, "switch outside", t.DisconnectOutside)
		case w.Edition >= 2020 && !t.Outside.Known:
			return yes(w, "outside", t.Outside)
		}
		if t.Limiters.Known && t.Limiters.Value && (w.Edition < 2020 || p.Occupancy.Known && p.Occupancy.Value != job.Dwelling) {
			return yes(w, "limiters", t.Limiters)
		}
		most := quantity.Feet(10)
		if w.Edition >= 2020 && p.Occupancy.Known && p.Occupancy.Value != job.Dwelling {
			most = 16.5
		}
		limit := working.Of(most, "limit of the clause", working.Origin{Kind: working.Table, Clause: map[working.Edition]string{2017: "705.31", 2020: "705.11(C)"}[w.Edition]})
		if w.Edition >= 2020 {
			limit = limit.Needs(w.Fact("use", p.Occupancy))
		}
		return w.AtMost(w.Fact("L", t.Length), w.Let("L_max", limit))
	}),
}

const entrance = "outside, or nearest to where the conductors enter"

func atEntrance(t *site.SupplyTap) working.Fact[string] {
	out := working.Fact[string]{Value: entrance, Known: true, Means: "where the PV disconnect hangs", From: t.DisconnectOutside.From, Ask: t.DisconnectOutside.Ask}
	switch {
	case !t.DisconnectOutside.Known:
		out.Known = false
	case t.DisconnectOutside.Value:
	case !t.Nearest.Known:
		out.Known, out.From, out.Ask = false, t.Nearest.From, t.Nearest.Ask
	case !t.Nearest.Value:
		out.Value, out.From = "deep inside", t.Nearest.From
	}
	return out
}

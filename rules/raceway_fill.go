package rules

import (
	"fmt"

	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// RacewayFill is the room that the conductors take in their raceway.
var RacewayFill = Rule{
	ID:    "raceway-fill",
	Title: "Conductors fit the raceway",
	Why: "A crowded raceway damages insulation in the pull and holds the heat. Grounds " +
		"and neutrals take room too. A raceway of up to 24 in may be filled to 60 %.",
	Clauses: working.Clauses{2017: "Chapter 9, table 1, note 4", 2020: "Chapter 9, table 1, note 4", 2023: "Chapter 9, table 1, note 4"},
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onRun(nil, func(_ *site.Plant, r *site.Run, w *working.Sheet) working.Verdict {
		c := r.Conductors
		var parts []working.Term
		n := 0
		for i, k := range r.Wires() {
			n += k.Count
			size, ins := w.Fact("size "+k.Use, k.Size), k.Insulation.Term()
			area := w.Cell("a"+subscript(i), fmt.Sprintf("area of one %s conductor", k.Use), tables.ConductorAreaOf(k.Insulation.Value, k.Size.Value), size, ins)
			parts = append(parts, area.Times(float64(k.Count)))
		}
		fill := w.Let("a_sum", working.Sum("in²", parts...), "all conductors")
		count := working.State(quantity.Count(n), "conductors", working.Origin{Kind: working.Computed})
		kind, trade := w.Fact("raceway", c.Raceway), w.Fact("trade size", c.Trade)
		room := w.Cell("a_max", "room at the fill allowed for so many", tables.FillRoomOf(c.Raceway.Value, c.Trade.Value, n, nipple(r)), kind, trade, count.Term(), w.Fact("L", r.Length))
		return w.AtMost(fill, room)
	}),
}

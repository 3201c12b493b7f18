package rules

import (
	"fmt"

	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// RacewayJam is the wedging of three conductors in a bend.
var RacewayJam = Rule{
	ID:    "raceway-jam",
	Title: "Three conductors do not wedge in a bend",
	Why: "Three conductors of nearly a third of the raceway's diameter can line up and jam in a bend. " +
		"With four or more it hardly happens. A hint of the code, no limit.",
	Clauses: working.Clauses{
		2017: "Chapter 9, table 1, informational note 2",
		2020: "Chapter 9, table 1, informational note 2",
		2023: "Chapter 9, table 1, informational note 2",
	},
	Mark:  "from memory",
	Gives: []working.Verdict{working.OK, working.Look, working.Ask},
	On: onRun(func(_ *site.Plant, r *site.Run) bool { return conductorCount(r) == 3 },
		func(_ *site.Plant, r *site.Run, w *working.Sheet) working.Verdict {
			c := r.Conductors
			var parts []working.Term
			for i, k := range r.Wires() {
				d := w.Cell("d"+subscript(i), fmt.Sprintf("diameter of one %s conductor", k.Use), cellInInches(tables.ConductorDiameterOf(k.Insulation.Value, k.Size.Value)), w.Fact("size "+k.Use, k.Size), k.Insulation.Term())
				parts = append(parts, d.Times(float64(k.Count)))
			}
			mean := w.Let("d", working.Sum("in", parts...).Over(working.Num(3)), "mean diameter")
			inside := w.Cell("D", "inside diameter of the raceway", cellInInches(tables.RacewayDiameterOf(c.Raceway.Value, c.Trade.Value)), w.Fact("raceway", c.Raceway), w.Fact("trade size", c.Trade))
			ratio := w.Let("ratio", inside.Over(mean), "raceway to conductor")
			if ratio.Known() && quantity.Compare(ratio.Float(), 2.8) < 0 {
				return w.AtMost(ratio, working.Num(2.8))
			}
			v := w.AtLeast(ratio, working.Num(3.2))
			if v == working.Stop {
				return working.Look
			}
			return v
		}),
}

func conductorCount(r *site.Run) int {
	n := 0
	for _, k := range r.Wires() {
		n += k.Count
	}
	return n
}

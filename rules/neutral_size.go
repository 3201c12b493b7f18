package rules

import (
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// NeutralSize is the neutral of a PV output.
var NeutralSize = Rule{
	ID:    "neutral-size",
	Title: "Neutral of the PV output no smaller than the equipment ground",
	Why: "It carries only the meter and gateway, so it may be thinner than the lines; but it must " +
		"bring back a fault to neutral as the ground would.",
	Clauses: working.Clauses{2017: "705.95(B)", 2020: "705.28(C)", 2023: "705.28(C)"},
	Mark:    "2020 and 2023 from memory",
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onRun(func(_ *site.Plant, r *site.Run) bool {
		return r.Conductors.HasNeutral && r.Circuits[0].Kind == site.OutputCircuit
	}, func(_ *site.Plant, r *site.Run, w *working.Sheet) working.Verdict {
		c := r.Conductors
		device, mat := deviceOf(w, r), w.Fact("metal", c.Material)
		need := w.Cell("G_min", "area of the ground that the table asks for", tables.EquipmentGroundOf(largestDevice(r).Rating.Value, c.Material.Value), device, mat)
		have := w.Cell("N", "area of the neutral", tables.CircularMilsOf(c.Neutral.Value), w.Fact("neutral", c.Neutral))
		return w.AtLeast(have, need)
	}),
}

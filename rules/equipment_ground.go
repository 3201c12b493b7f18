package rules

import (
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// EquipmentGround is the size of the equipment grounding conductor.
var EquipmentGround = Rule{
	ID:    "equipment-ground",
	Title: "Equipment ground large enough for its breaker",
	Why: "A fault must return enough current to trip the breaker at once; the largest " +
		"breaker of the circuits in the raceway decides.",
	Clauses: working.Clauses{2017: "250.122(A), (C)", 2020: "250.122(A), (C)", 2023: "250.122(A), (C)"},
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onRun(func(_ *site.Plant, r *site.Run) bool { return r.Conductors.HasGround || !racewayGrounds(r) },
		func(_ *site.Plant, r *site.Run, w *working.Sheet) working.Verdict {
			c := r.Conductors
			device := deviceOf(w, r)
			mat := w.Fact("metal", c.GroundMaterial)
			need := w.Cell("G_min", "area that the table asks for", tables.EquipmentGroundOf(largestDevice(r).Rating.Value, c.GroundMaterial.Value), device, mat)
			size := w.Fact("ground", c.Ground)
			have := w.Cell("G", "area of the ground", tables.CircularMilsOf(c.Ground.Value), size)
			return w.AtLeast(have, need)
		}),
}

// racewayGrounds tells whether the raceway itself is the equipment ground
// (250.118), so that a missing wire is no fault.
func racewayGrounds(r *site.Run) bool {
	return r.Conductors.Raceway.Known && r.Conductors.Raceway.Value.Row().EquipmentGround == tables.GroundYes
}

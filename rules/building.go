package rules

import (
	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// buildings lists the panels that stand in a separate building, fed by a feeder.
func buildings(p *site.Plant) []*site.Bus {
	var out []*site.Bus
	for _, b := range p.Buses {
		if b.Building != "" && b.Up != nil && b.Up.Run != nil {
			out = append(out, b)
		}
	}
	return out
}

func onBuilding(what string, check func(*site.Bus, *working.Sheet) working.Verdict) Subject {
	return onto(buildings, func(b *site.Bus) string { return b.ID + "/" + what },
		func(*site.Bus) bool { return false }, nil,
		func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict { return check(b, w) })
}

// BuildingGround is the equipment ground of a feeder to a separate building.
var BuildingGround = Rule{
	ID:    "building-ground",
	Title: "Feeder to a separate building brings an equipment ground",
	Why: "Without it a fault in the building returns over the neutral or the earth, and no breaker trips. " +
		"Old three-wire feeders may stay only under the exception for what was there, with no other metal between the buildings.",
	Clauses: working.Clauses{2017: "250.32(B)(1)", 2020: "250.32(B)(1)", 2023: "250.32(B)(1)"},
	Mark:    "from memory",
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onBuilding("ground", func(b *site.Bus, w *working.Sheet) working.Verdict {
		c := b.Up.Run.Conductors
		has := working.State(c.HasGround || racewayGrounds(b.Up.Run), "wire or raceway as equipment ground", working.Origin{Kind: working.Computed}).Term()
		if !c.HasGround {
			has = has.Needs(w.Fact("raceway", c.Raceway))
		}
		return w.Is(w.Fact("ground", has), "yes")
	}),
}

// BuildingElectrode is the grounding electrode of a separate building.
var BuildingElectrode = Rule{
	ID:    "building-electrode",
	Title: "Separate building has its electrode, with a conductor large enough",
	Why: "Each building that a feeder serves has its own connection to earth for lightning and crossed lines; " +
		"the equipment ground stays what trips the breaker. A sole rod takes no more than 6 AWG copper, a " +
		"sole concrete-encased electrode no more than 4 AWG.",
	Clauses: working.Clauses{2017: "250.32(A), (E), 250.66", 2020: "250.32(A), (E), 250.66", 2023: "250.32(A), (E), 250.66"},
	Mark:    "seen in part",
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onBuilding("electrode", func(b *site.Bus, w *working.Sheet) working.Verdict {
		c, e := b.Up.Run.Conductors, b.Electrode
		kind, mat := w.Fact("electrode", e.Kind), w.Fact("its metal", e.Material)
		need := w.Cell("G_min", "area that the table asks for", tables.ElectrodeConductorOf(c.Size.Value, c.Material.Value, e.Material.Value),
			w.Fact("size", c.Size), w.Fact("metal", c.Material), mat, kind)
		if most, ok := mostForElectrode(e.Kind.Value, e.Material.Value); ok && need.Known() {
			need = w.Let("G_need", working.Least(need, w.Cell("G_sole", "most for this kind of electrode alone", tables.CircularMilsOf(most))), "smaller of the two")
		}
		return w.AtLeast(w.Cell("G", "area of its conductor", tables.CircularMilsOf(e.Size.Value), w.Fact("conductor", e.Size)), need)
	}),
}

// mostForElectrode is the largest conductor that a sole electrode asks for
// (250.66(A), (B)).
func mostForElectrode(k job.ElectrodeKind, m site.Material) (quantity.Size, bool) {
	switch {
	case k == job.Rods && m == tables.Aluminum:
		return quantity.AWG4, true
	case k == job.Rods:
		return quantity.AWG6, true
	case k == job.ConcreteEncased && m == tables.Copper:
		return quantity.AWG4, true
	}
	return quantity.NoSize, false
}

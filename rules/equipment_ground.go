package rules

import (
	"strings"

	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// EquipmentGround is the size of the equipment grounding conductor.
var EquipmentGround = Rule{
	ID:    "equipment-ground",
	Title: "Equipment ground large enough for its breaker",
	Why: "A fault must return enough current to trip the breaker at once; the largest " +
		"breaker of the circuits in the raceway decides. Where line conductors were made larger than " +
		"the thinnest with sufficient ampacity, as for voltage, the ground grows with them; heat and " +
		"bundling are part of sufficient ampacity and raise nothing. 690.45 frees PV circuits of that: in 2017 " +
		"only source and output circuits of the modules, from 2020 all of the PV system, but never a feeder that serves " +
		"loads too. The ground need not be larger than the circuit's own conductors.",
	Clauses: working.Clauses{2017: "250.122(A), (B), (C), 690.45", 2020: "250.122(A), (B), (C), 690.45", 2023: "250.122(A), (B), (C), 690.45"},
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onRun(func(_ *site.Plant, r *site.Run) bool { return r.Conductors.HasGround || !racewayGrounds(r) },
		func(_ *site.Plant, r *site.Run, w *working.Sheet) working.Verdict {
			c := r.Conductors
			device := deviceOf(w, r)
			mat := w.Fact("metal", c.GroundMaterial)
			need := w.Cell("G_min", "area that the table asks for", tables.EquipmentGroundOf(largestDevice(r).Rating.Value, c.GroundMaterial.Value), device, mat)
			need = grown(w, r, need)
			if line, err := tables.CircularMils(c.Size.Value); !c.Size.Known || err == nil && need.Known() && line.Float() < need.Float() {
				own := w.Cell("A_line", "area of a line conductor", tables.CircularMilsOf(c.Size.Value), w.Fact("size", c.Size))
				need = w.Let("G_need", working.Least(need, own), "no larger than the circuit's own conductors")
			}
			have := w.Cell("G", "area of the ground", tables.CircularMilsOf(c.Ground.Value), w.Fact("ground", c.Ground))
			v := w.AtLeast(have, need)
			if lack := need.Float() - have.Float(); v == working.Stop && lack < 0.01*need.Float() {
				w.Note("short by %s of %s: strictly the next size; show it to the inspector", working.Figure(lack, "cmil"), strings.TrimSuffix(need.String(), " cmil"))
			}
			return v
		}),
}

// grown raises the ground in the proportion in which the line conductors are
// larger than need be (250.122(B)).
func grown(w *working.Sheet, r *site.Run, need working.Term) working.Term {
	least, unknown := leastSize(w.Edition, r)
	free := w.Edition >= 2020 && !feedsLoads(r)
	switch {
	case free && (unknown != nil || least >= r.Conductors.Size.Value):
		return need
	case free:
		w.Note("690.45: a circuit of the PV system, so %s in place of %s raises nothing", r.Conductors.Size.Value, least)
		return need
	case unknown != nil:
		for _, m := range unknown {
			need = need.Needs(w.Fact("least size", working.Fact[quantity.Size]{Means: "thinnest conductor with sufficient ampacity", From: working.Origin{Kind: working.Computed}, Ask: m}))
		}
		return need
	case least >= r.Conductors.Size.Value:
		return need
	}
	c := r.Conductors
	thin := w.Fact("least size", working.State(least, "thinnest conductor with sufficient ampacity", working.Origin{Kind: working.Computed}))
	was := w.Cell("A_least", "its area", tables.CircularMilsOf(least), thin)
	is := w.Cell("A_line", "area of a line conductor", tables.CircularMilsOf(c.Size.Value), w.Fact("size", c.Size))
	return w.Let("G_up", is.Over(was).By(need), "raised with the line conductors")
}

// feedsLoads tells a feeder, which serves loads too, from a circuit of the PV
// system.
func feedsLoads(r *site.Run) bool {
	for _, c := range r.Circuits {
		if c.Kind == site.FeederCircuit {
			return true
		}
	}
	return false
}

// leastSize is the thinnest conductor, up to the one in the run, that carries the
// current, suits the terminals and is protected by the breaker; or what is not
// known about it.
func leastSize(e working.Edition, r *site.Run) (least quantity.Size, unknown []working.Missing) {
	installed := r.Conductors.Size
	if !installed.Known {
		return 0, []working.Missing{installed.Ask}
	}
	for s := quantity.AWG14; s < installed.Value; s++ {
		thin, wires := *r, *r.Conductors
		wires.Size.Value = s
		thin.Conductors = &wires
		worst := working.Verdict("")
		for _, test := range []func(*site.Run, *working.Sheet) working.Verdict{carries, terminalsHold, protects} {
			w := working.NewSheet(e)
			v := test(&thin, w)
			if v == working.Ask {
				if unknown = w.Missing(); inTable(unknown) {
					v = working.Stop // no such conductor in the tables: it is none
				} else {
					return 0, unknown
				}
			}
			worst = working.Worse(worst, v)
		}
		if worst == working.OK {
			return s, nil
		}
	}
	return installed.Value, nil
}

// inTable tells whether all that is missing is a row that a table lacks.
func inTable(missing []working.Missing) bool {
	for _, m := range missing {
		if len(m.Path) < 6 || m.Path[:6] != "table " {
			return false
		}
	}
	return true
}

// racewayGrounds tells whether the raceway itself is the equipment ground, or may
// be (250.118), so that a missing wire is no fault.
func racewayGrounds(r *site.Run) bool {
	k := r.Conductors.Raceway
	return k.Known && k.Value.Row().EquipmentGround != tables.GroundNo
}

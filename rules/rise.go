package rules

import (
	"legwork/circuit"
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// VoltageRise is the project's limit on the rise from the service to the last
// unit of a branch.
var VoltageRise = Rule{
	ID:    "voltage-rise",
	Title: "Voltage rise to the last unit within the project target",
	Why: "Units push the voltage up to send their current out. On a day of high service " +
		"voltage a large rise makes the last units cut back or trip.",
	Basis: "project target, no code limit",
	Gives: []working.Verdict{working.OK, working.Look, working.Ask, working.Stop},
	On: onBranch(func(_ *site.Plant, b *site.Branch) bool { return len(b.Units) > 0 },
		func(p *site.Plant, b *site.Branch, w *working.Sheet) working.Verdict {
			rise := riseToLastUnit(w, p, b)
			percent := w.Let("rise", rise.PercentOf(w.Fact("V_nom", p.Nominal)), "of nominal")
			w.Note("unity power factor, reactance left out, resistance at 75 °C")
			return w.NearIsLook(w.AtMost(percent, w.Fact("target", p.RiseTarget)))
		}),
}

// riseToLastUnit works out the rise from the service to the last unit of a
// branch, every section on the way at rated current.
func riseToLastUnit(w *working.Sheet, p *site.Plant, b *site.Branch) working.Term {
	parts := []working.Term{trunkRise(w, b)}
	branch := groupCurrent(w, "I_home", "current of branch "+b.ID, b.Groups(), nil)
	if b.Run == nil {
		parts = append(parts, w.Fact("V_home", noWay("branch "+b.ID, "runs", "home run of branch "+b.ID)))
	} else {
		parts = append(parts, runRise(w, "V_home", "rise over the "+b.Run.Name, branch, b.Run))
	}
	for bus := b.Bus; bus != nil && bus != p.Service.Panel; bus = bus.Up.To {
		if bus.Up == nil {
			parts = append(parts, w.Fact("V_"+bus.ID, noWay("the "+bus.Name, wayOf(bus), "what joins the "+bus.Name+" to the service")))
			break
		}
		i := groupCurrent(w, "I_"+bus.Up.Run.ID, "output current through the "+bus.Up.Run.Name, bus.Groups(), bus.ExistingSources())
		parts = append(parts, runRise(w, "V_"+bus.Up.Run.ID, "rise over the "+bus.Up.Run.Name, i, bus.Up.Run))
	}
	return w.Let("V_rise", working.Sum("V", parts...), "rise from the service to the last unit")
}

// noWay is the rise of a way to the service that nobody has decided.
func noWay(from, path, what string) working.Fact[quantity.Volts] {
	return working.Fact[quantity.Volts]{Means: "rise from " + from + " on", From: working.Origin{Kind: working.Computed},
		Ask: working.Missing{Path: path, What: what, Find: "decide it, or let the plan choose"}}
}

// wayOf is where the document says how a bus is joined to the service.
func wayOf(b *site.Bus) string {
	if b.Kind == site.PanelBus {
		return "panels." + b.ID + ".fed_from"
	}
	return "decisions.connections"
}

// trunkRise is the rise along the longer arm of the trunk.
func trunkRise(w *working.Sheet, b *site.Branch) working.Term {
	arm := b.Trunk()[0]
	inverter := b.Units[0].Inverter
	trunk := inverter.Trunk
	size, mat := w.Fact("trunk", trunk.Size), trunk.Material.Term()
	r := w.Cell("R_trunk", "resistance of one trunk conductor", tables.ResistanceOf(trunk.Size.Value, trunk.Material.Value, tables.Stranded), size, mat)
	stretches := make([]circuit.Stretch, len(arm))
	for i, s := range arm {
		stretches[i] = circuit.Stretch{Beyond: len(s.Beyond), Length: s.Length.Term()}
	}
	return circuit.TrunkRise(w, "V_trunk", "rise along the trunk", w.Fact("I_u", inverter.Current), r, stretches)
}

// runRise is the rise over a run.
func runRise(w *working.Sheet, sym, means string, i working.Term, r *site.Run) working.Term {
	c := r.Conductors
	size, mat := w.Fact(r.ID, c.Size), c.Material.Term()
	ohms := w.Cell("R_"+r.ID, "resistance of one conductor", tables.ResistanceOf(c.Size.Value, c.Material.Value, tables.Stranded), size, mat)
	return circuit.RunRise(w, sym, means, i, ohms, w.Fact("L_"+r.ID, r.Length))
}

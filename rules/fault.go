package rules

import (
	"legwork/circuit"
	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// The available fault current is followed from the service down, point to point,
// run by run. What units add is left out: electronics limit it to about their
// rating for a few cycles (from memory).

// faultLoop is how a fault between legs takes a run.
func faultLoop(p *site.Plant) circuit.FaultLoop {
	if p.System.Value == job.Wye208 {
		return circuit.ThreeLegs
	}
	return circuit.LegToLeg
}

// serviceFault is the available fault current at the service disconnect: between
// the legs, on 208Y/120 of three phases.
func serviceFault(w *working.Sheet, p *site.Plant) working.Term {
	s := p.Service
	if t := s.Transformer; t != nil && !s.FaultCurrent.Known && faultLoop(p) == circuit.LegToLeg {
		_, legs := transformerFault(w, p)
		return overService(w, p, "I_sc", "fault at the service, leg to leg", circuit.LegToLeg, legs)
	}
	kind := w.Fact("between", s.FaultKind)
	i := w.Fact("I_sc", s.FaultCurrent).Needs(kind)
	want := job.LegToLeg
	if p.System.Value == job.Wye208 {
		want = job.ThreePhase
	}
	if s.FaultKind.Known && s.FaultKind.Value != want {
		other := s.FaultCurrent
		other.Known = false
		other.Ask.What = "available fault current at the service, " + string(want)
		return w.Fact("I_sc", other)
	}
	return i
}

// transformerFault is the fault at the transformer: leg to neutral, leg to leg.
func transformerFault(w *working.Sheet, p *site.Plant) (neutral, legs working.Term) {
	t := p.Service.Transformer
	volts := w.Fact("E", p.Nominal)
	full := w.Let("I_FLA", w.Fact("S", t.Rating).Over(working.Of(quantity.VoltAmperes(1), "", working.Origin{})).By(
		working.Of(quantity.Amps(1), "", working.Origin{})).Over(volts.Over(working.Of(quantity.Volts(1), "", working.Origin{}))), "full-load current of the transformer")
	legs = circuit.TransformerFault(w, "I_T", full, w.Fact("%Z", t.Impedance))
	return circuit.FaultToNeutral(w, "I_T,N", legs), legs
}

// overService follows a fault over the service conductors.
func overService(w *working.Sheet, p *site.Plant, sym, means string, loop circuit.FaultLoop, i working.Term) working.Term {
	c := p.Service.Conductors
	if c == nil {
		return w.Fact(sym, working.Fact[quantity.Amps]{Means: means, From: working.Origin{Kind: working.Given, Path: "service.conductors"},
			Ask: working.Missing{Path: "service.conductors", What: "service conductors", Find: "print on the conductor's insulation"}})
	}
	return circuit.RunFault(w, sym, means, loop, i, faultConstant(w, "service", c), w.Fact("L_service", p.Service.Transformer.Length), 1, faultVolts(w, p, loop))
}

// faultVolts is the voltage that drives the fault.
func faultVolts(w *working.Sheet, p *site.Plant, loop circuit.FaultLoop) working.Term {
	e := w.Fact("E", p.Nominal)
	if loop == circuit.LegToNeutral {
		return w.Let("E_N", e.Times(0.5), "leg to neutral")
	}
	return e
}

func faultConstant(w *working.Sheet, id string, c *site.Conductors) working.Term {
	size, mat, raceway := w.Fact("size of "+id, c.Size), c.Material.Term(), c.Raceway.Term()
	return w.Cell("C_"+id, "conductor constant", tables.FaultConstantOf(c.Size.Value, c.Material.Value, c.Raceway.Value.Row().Conduit), size, mat, raceway)
}

// faultAt follows a fault from the service to a bus.
func faultAt(w *working.Sheet, p *site.Plant, b *site.Bus, loop circuit.FaultLoop, atService working.Term) working.Term {
	switch {
	case b == p.Service.Panel:
		return atService
	case b.Up == nil:
		return w.Fact("I_"+b.ID, working.Fact[quantity.Amps]{Means: "fault at the " + b.Name, From: working.Origin{Kind: working.Computed},
			Ask: working.Missing{Path: wayOf(b), What: "what joins the " + b.Name + " to the service", Find: "decide it, or let the plan choose"}})
	}
	near := atService
	if b.Up.To != nil {
		near = faultAt(w, p, b.Up.To, loop, atService)
	}
	r := b.Up.Run
	return circuit.RunFault(w, "I_"+b.ID, "fault at the "+b.Name, loop, near, faultConstant(w, r.ID, r.Conductors), w.Fact("L_"+r.ID, r.Length), 1, faultVolts(w, p, loop))
}

// withstands states what a bus is marked for: its breakers, or the tested
// combination with the device ahead where the equipment carries that mark.
func withstands(w *working.Sheet, b *site.Bus) working.Term {
	own := w.Fact("I_IR", b.Interrupting)
	if !b.HasSeries {
		return own
	}
	w.Note("a series combination counts only as tested and marked on the equipment with the very device ahead (240.86(B)); selection by an engineer is for what is there already (240.86(A))")
	return w.Let("I_mark", working.Greatest(own, w.Fact("I_series", b.Series)), "larger of the two marks")
}

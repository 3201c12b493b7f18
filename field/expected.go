package field

import (
	"legwork/quantity"
	"legwork/rules"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// jointAllowance is what joints and test leads may add to a computed resistance.
// Common practice.
const jointAllowance quantity.Ohms = 0.2

// highestContinuity is the resistance above which a continuity test of a
// dwelling's run stops the work. Common practice.
const highestContinuity quantity.Ohms = 1

// practice is a limit of the trade.
func practice(q quantity.Quantity, means string) *working.Term {
	t := working.Of(q, means, working.Origin{Kind: working.Assumed, Mark: "common practice"})
	return &t
}

// clause is a limit that a standard names, cited from memory.
func clause(q quantity.Quantity, means, standard string) *working.Term {
	t := working.Of(q, means, working.Origin{Kind: working.Table, Clause: standard, Mark: "from memory"})
	return &t
}

// serviceLimits gives range A as look and range B as stop for a voltage of this
// nominal value. They are unknown while the system is.
func (g *generator) serviceLimits(nominal quantity.Volts) (value *working.Term, look, stop Band) {
	key := g.plant.Nominal.Term()
	cell := func(means string, l working.Lookup) *working.Term {
		t := g.sheet.Cell("V", means, l, key)
		return &t
	}
	v := working.Of(nominal, "nominal voltage", working.Origin{Kind: working.Given, Path: "service.system"}).Needs(key)
	return &v,
		Band{cell("range A, low", tables.ServiceLowOf(tables.RangeA, nominal)), cell("range A, high", tables.ServiceHighOf(tables.RangeA, nominal))},
		Band{cell("range B, low", tables.ServiceLowOf(tables.RangeB, nominal)), cell("range B, high", tables.ServiceHighOf(tables.RangeB, nominal))}
}

// ofNominal is a part of the nominal voltage between legs.
func (g *generator) ofNominal(part working.Fact[quantity.Ratio]) working.Term {
	return part.Term().By(g.plant.Nominal.Term())
}

// loop is the resistance out and back of one circuit of a run.
func (g *generator) loop(r *site.Run) working.Term {
	c := r.Conductors
	return g.ohms(c.Size, c.Material, r.Length).Times(2)
}

// ground is the resistance of a run's equipment ground, one way; unknown where
// the raceway is the ground.
func (g *generator) ground(r *site.Run) working.Term {
	if !r.Conductors.HasGround {
		return working.Term{}
	}
	return g.ohms(r.Conductors.Ground, r.Conductors.GroundMaterial, r.Length)
}

// ohms is the resistance of one conductor at 75 °C.
//
//	R = R₁ · L / 1000
//
// Source: NFPA 70, chapter 9, table 8, stranded.
// Valid: DC; a conductor at 20 °C reads about a fifth less.
func (g *generator) ohms(size working.Fact[quantity.Size], m working.Fact[site.Material], length working.Fact[quantity.Feet]) working.Term {
	per := g.sheet.Cell("R", "resistance of one conductor", tables.ResistanceOf(size.Value, m.Value, tables.Stranded), size.Term(), m.Term())
	return per.By(length.Term())
}

// continuity is a resistance test: as computed and the allowance for joints,
// and at most an ohm, or more where the conductor itself has that.
func continuity(id string, what Text, between string, computed working.Term) Expect {
	x := Expect{ID: id, What: what, Between: between, Unit: "Ω"}
	most := *practice(highestContinuity, "most for a dwelling's run")
	if computed.Known() {
		high := computed.Plus(*practice(jointAllowance, "joints and leads"))
		stop := working.Greatest(most, high)
		x.Value, x.Look.High, x.Stop.High = &computed, &high, &stop
	} else {
		x.Stop.High = &most
	}
	return x
}

// rated is the rated output current of groups of units.
func rated(groups []site.Group) working.Term {
	var parts []working.Term
	for _, g := range groups {
		parts = append(parts, g.Inverter.Current.Term().Times(float64(g.Count)))
	}
	return working.Sum("A", parts...)
}

// rises are the computed rises of a branch: beyond its bus to the last unit, and
// from the bus to the service. They are the ones of the rule, worked out once.
func (g *generator) rises(b *site.Branch) (beyond, upstream working.Term) {
	for _, f := range rules.VoltageRise.Check(g.plant, g.plant.Edition.Value) {
		if f.Place != b.ID {
			continue
		}
		at := map[string]working.Term{}
		for _, s := range f.Steps {
			at[s.Sym] = s.Result
		}
		beyond = at["V_trunk"].Plus(at["V_home"])
		return beyond, at["V_rise"].Minus(beyond)
	}
	return beyond, upstream
}

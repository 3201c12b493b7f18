package site

import (
	"legwork/job"
	"legwork/quantity"
	"legwork/tables"
	"legwork/working"
)

// Material and its kin are the tables' own words, so that a fact can be looked
// up by.
type (
	Material   = tables.Material
	Insulation = tables.Insulation
	Raceway    = tables.RacewayKind
)

// Conductors is what is pulled in a run.
type Conductors struct {
	Size           working.Fact[quantity.Size]
	Material       working.Fact[Material]
	Insulation     working.Fact[Insulation]
	Neutral        working.Fact[quantity.Size] // HasNeutral tells whether there is one
	HasNeutral     bool
	Ground         working.Fact[quantity.Size]
	GroundMaterial working.Fact[Material]
	Spares         working.Fact[int] // HasSpares tells whether there are any
	HasSpares      bool
	HasGround      bool // false where the raceway is the ground
	Raceway        working.Fact[Raceway]
	Trade          working.Fact[quantity.TradeSize]
	By             job.By
}

// Segment is a part of a run in one environment.
type Segment struct {
	Index   int
	Length  working.Fact[quantity.Feet]
	Where   working.Fact[job.Environment]
	Ambient working.Fact[quantity.Celsius]
	Height  working.Fact[quantity.Feet]
	Sun     working.Fact[bool]
}

// CircuitKind tells what a circuit in a run is.
type CircuitKind string

// Kinds of circuits.
const (
	BranchCircuit CircuitKind = "branch"
	OutputCircuit CircuitKind = "PV output"
	FeederCircuit CircuitKind = "feeder"
)

// Circuit is one circuit that passes a run.
type Circuit struct {
	ID     string
	Kind   CircuitKind
	Branch *Branch
	Legs   int // line conductors: two, three for an output or a feeder on 208Y/120
	// CountsNeutral tells a neutral that heats the raceway: that of a two-leg
	// circuit from a wye.
	CountsNeutral bool
	Device        *Breaker // overcurrent device
	Carries       *Bus     // the bus at its source end, for output and feeder
}

// Groups are the units whose current the circuit carries.
func (c *Circuit) Groups() []Group {
	if c.Branch != nil {
		return c.Branch.Groups()
	}
	return c.Carries.Groups()
}

// Run is a route with its conductors and circuits.
type Run struct {
	ID, Name   string
	From, To   string // ids of places
	Length     working.Fact[quantity.Feet]
	Segments   []*Segment
	Conductors *Conductors
	Circuits   []*Circuit
	Existing   bool
	Seen       Checked
	// Terminals are the temperature marks at the two ends, nearer the sources
	// first.
	Terminals [2]working.Fact[quantity.Celsius]
}

// CurrentCarrying counts the conductors that heat the raceway: two for each
// two-wire circuit, three for an output on 208Y/120. A neutral that carries only
// what its own circuit leaves over is not counted, but that of a two-leg circuit from a wye is;
// spares are, a ground never (310.15(B)(5), (6) in 2017; 310.15(E), (F) from 2020).
func (r *Run) CurrentCarrying() working.Fact[quantity.Count] {
	n := 0
	for _, c := range r.Circuits {
		n += c.Legs
		if c.CountsNeutral {
			n++
		}
	}
	means := "current-carrying conductors in the raceway"
	if !r.Conductors.HasSpares {
		return derived(quantity.Count(n), means)
	}
	s := r.Conductors.Spares
	return working.Fact[quantity.Count]{Value: quantity.Count(n + s.Value), Known: s.Known, Means: means, From: s.From, Ask: s.Ask}
}

// Wire is one kind of conductor in a raceway.
type Wire struct {
	Count      int
	Use        string // "phase", "neutral", "ground"
	Size       working.Fact[quantity.Size]
	Material   working.Fact[Material]
	Insulation working.Fact[Insulation]
}

// Wires lists what fills the raceway.
func (r *Run) Wires() []Wire {
	c := r.Conductors
	lines, neutrals := 0, 0
	for _, one := range r.Circuits {
		lines += one.Legs
		if one.Branch != nil || neutrals == 0 { // each branch has its own
			neutrals++
		}
	}
	out := []Wire{{lines, "phase", c.Size, c.Material, c.Insulation}}
	if c.HasSpares {
		out = append(out, Wire{c.Spares.Value, "spare", c.Size, c.Material, spareInsulation(c)})
	}
	if c.HasNeutral {
		out = append(out, Wire{neutrals, "neutral", c.Neutral, c.Material, c.Insulation})
	}
	if c.HasGround {
		out = append(out, Wire{1, "ground", c.Ground, c.GroundMaterial, c.Insulation})
	}
	return out
}

// spareInsulation is unknown while the number of spares is, so that they are
// asked for.
func spareInsulation(c *Conductors) working.Fact[Insulation] {
	i := c.Insulation
	if !c.Spares.Known {
		i.Known, i.Ask = false, c.Spares.Ask
	}
	return i
}

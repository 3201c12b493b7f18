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
	ID      string
	Kind    CircuitKind
	Branch  *Branch
	Device  *Breaker // overcurrent device
	Carries *Bus     // the bus at its source end, for output and feeder
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
// two-wire circuit. A neutral that carries no load of its own is not counted,
// a ground never (310.15(B)(5), (6) in 2017; 310.15(E), (F) from 2020).
func (r *Run) CurrentCarrying() working.Fact[quantity.Count] {
	n := 2 * len(r.Circuits)
	return derived(quantity.Count(n), "current-carrying conductors in the raceway")
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
	out := []Wire{{2 * len(r.Circuits), "phase", c.Size, c.Material, c.Insulation}}
	if c.HasNeutral {
		out = append(out, Wire{1, "neutral", c.Neutral, c.Material, c.Insulation})
	}
	if c.HasGround {
		out = append(out, Wire{1, "ground", c.Ground, c.GroundMaterial, c.Insulation})
	}
	return out
}

package circuit

import (
	"math/cmplx"

	"legwork/quantity"
)

// Network is a site as a tree of conductors with one source.
type Network struct {
	System  System
	Nominal quantity.Volts // leg to leg: 240 V or 208 V
	// Source is the node that is held at Volts, leg to leg, with nothing
	// connected; a transformer is a section between it and the service.
	Source   string
	Volts    quantity.Volts
	Sections []Section
	Units    []Unit
	Loads    []Load
}

// Section is a stretch of conductors from a node to the next one towards the
// source. Its outer node has the conductors that the section brings.
type Section struct {
	ID       string
	From, To string // To is nearer the source
	Strands  []Strand
}

// Strand is one conductor of a section, with its series impedance in ohms. It
// may be zero; the neutral of a transformer may be negative (see Transformer).
type Strand struct {
	Conductor Conductor
	Ohms      complex128
}

// Unit is a microinverter, or an older source taken as one: it sends out its
// power whatever the voltage.
type Unit struct {
	ID, Node string
	Across   Pair
	// Power is what it sends out uncurtailed, VA; a positive imaginary part
	// delivers vars. See Injection.
	Power complex128
	// Rated is the base of the volt-watt curve; zero means the size of Power.
	Rated quantity.VoltAmperes
	// Current is the nameplate current for the one-line formula; zero means
	// Power over the nominal voltage.
	Current quantity.Amps
	// Curve limits the power by the voltage at the unit; nil for none.
	Curve VoltWatt
}

// base is what the volt-watt curve takes its share of.
func (u Unit) base() quantity.VoltAmperes {
	if u.Rated != 0 {
		return u.Rated
	}
	return quantity.VoltAmperes(cmplx.Abs(u.Power))
}

// nameplate is the current that the one-line formula takes.
func (u Unit) nameplate(nominal quantity.Volts) quantity.Amps {
	if u.Current != 0 {
		return u.Current
	}
	return quantity.Amps(cmplx.Abs(u.Power) / nominal.Float())
}

// Load is something that consumes.
type Load struct {
	ID, Node string
	Across   Pair
	Power    complex128 // VA at the nominal voltage of its pair; positive imaginary part draws vars
	Draws    Draw
}

// Draw tells what a load keeps when the voltage changes.
type Draw int

// What loads keep: a heater its impedance, an electronic supply its power. A
// current is kept in size and angle, as the one-line formula takes it.
const (
	ConstantPower Draw = iota
	ConstantCurrent
	ConstantImpedance
)

// At is the network with another open-circuit voltage.
func (n *Network) At(v quantity.Volts) *Network {
	out := *n
	out.Volts = v
	return &out
}

// WithUnits is the network with each unit changed.
func (n *Network) WithUnits(change func(Unit) Unit) *Network {
	out := *n
	out.Units = make([]Unit, len(n.Units))
	for i, u := range n.Units {
		out.Units[i] = change(u)
	}
	return &out
}

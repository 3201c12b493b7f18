package meter

import (
	"math"
	"math/cmplx"
)

// Node is a point of the service that a device is connected to.
type Node uint8

// The nodes. L3 exists on a three-phase service only.
const (
	N Node = iota
	L1
	L2
	L3
)

// System is the kind of service, as the set of its leg voltages.
type System string

// The services that a meter of a house or a small building sees.
const (
	Split System = "split" // 120/240 V, three wires
	Wye   System = "y208"  // two legs and the neutral of 208Y/120
	Wye3  System = "y208x3"
)

// Phasor is the voltage of a node to neutral, RMS, in units of the leg voltage,
// with L1 as the reference.
//
// Source: definition of the two services; sequence A, B, C on the wye ones.
func (s System) Phasor(n Node) complex128 {
	switch {
	case n == L1:
		return 1
	case n == L2 && s == Split:
		return -1
	case n == L2:
		return cmplx.Rect(1, -2*math.Pi/3)
	case n == L3 && s == Wye3:
		return cmplx.Rect(1, 2*math.Pi/3)
	}
	return 0
}

// Across is the pair of nodes that a load, PV or a voltage reference lies
// between. The zero Across is no connection at all.
type Across struct{ From, To Node }

// The connections of a house.
var (
	OnL1  = Across{L1, N}
	OnL2  = Across{L2, N}
	OnL12 = Across{L1, L2}
	OnL21 = Across{L2, L1}
)

// Volts is the voltage across a pair of nodes, in units of the leg voltage.
func (s System) Volts(a Across) complex128 { return s.Phasor(a.From) - s.Phasor(a.To) }

// Device is what draws or makes power: a load, or PV.
type Device struct {
	Across
	// Branch numbers the PV branch from 1; zero is a load.
	Branch int
}

// Load is a load of the house, on its own side of the PV connection.
func Load(a Across) Device { return Device{Across: a} }

// PV is a two-wire branch of microinverters between the legs.
func PV(branch int) Device { return Device{Across: OnL12, Branch: branch} }

// Share says how complex power between the two legs divides over them: what an
// load between them adds to the power of L1 and of L2, as factors.
//
//	S1 = S12 · V1/V12    S2 = −S12 · V2/V12
//
// Source: the load's current leaves at one leg and returns at the other.
func (s System) Share() (l1, l2 complex128) {
	v12 := s.Volts(OnL12)
	return s.Phasor(L1) / v12, -s.Phasor(L2) / v12
}

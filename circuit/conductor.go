package circuit

import (
	"fmt"
	"math"
	"math/cmplx"
	"strings"

	"legwork/quantity"
)

// Conductor is one conductor of a circuit.
type Conductor uint8

// The conductors of a service; L3 is there on 208Y/120 only.
const (
	L1 Conductor = iota
	L2
	L3
	N
	conductors = 4
)

func (c Conductor) String() string { return [conductors]string{"L1", "L2", "L3", "N"}[c] }

// Pair is where a unit or a load is connected.
type Pair [2]Conductor

// The pairs of legs.
var (
	L1L2 = Pair{L1, L2}
	L2L3 = Pair{L2, L3}
	L3L1 = Pair{L3, L1}
)

// String prints a pair as people write it: "L1-L2".
func (p Pair) String() string { return p[0].String() + "-" + p[1].String() }

// ParsePair reads a pair of legs: "L1-L2", "L2-L3", "L3-L1" in either order.
func ParsePair(s string) (Pair, error) {
	for _, p := range []Pair{L1L2, L2L3, L3L1} {
		if t := strings.ToUpper(s); t == p.String() || t == (Pair{p[1], p[0]}).String() {
			return p, nil
		}
	}
	return Pair{}, fmt.Errorf("pair of legs: %q came, expected L1-L2, L2-L3 or L3-L1", s)
}

// System is the kind of service.
type System int

// The services of a dwelling.
const (
	SplitPhase System = iota // 120/240 V, three wires
	Wye                      // 208Y/120 V, four wires
)

// Conductors lists what the service brings.
func (s System) Conductors() []Conductor {
	if s == Wye {
		return []Conductor{L1, L2, L3, N}
	}
	return []Conductor{L1, L2, N}
}

// Legs lists the pairs of legs.
func (s System) Legs() []Pair {
	if s == Wye {
		return []Pair{L1L2, L2L3, L3L1}
	}
	return []Pair{L1L2}
}

// open returns the open-circuit phasors of a source, neutral at zero.
func (s System) open(legToLeg quantity.Volts) [conductors]complex128 {
	v := legToLeg.Float()
	if s == Wye {
		leg := func(degrees float64) complex128 { return cmplx.Rect(v/math.Sqrt(3), degrees*math.Pi/180) }
		return [conductors]complex128{leg(0), leg(-120), leg(120), 0}
	}
	return [conductors]complex128{complex(v/2, 0), complex(-v/2, 0), 0, 0}
}

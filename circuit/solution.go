package circuit

import (
	"math"
	"math/cmplx"

	"legwork/quantity"
)

// Solution is what the network does.
type Solution struct {
	Nodes    []NodeState
	Sections []SectionState
	Units    []UnitState
	// Generated + Delivered = Consumed + Lost, VA. Delivered comes from the
	// source and is negative when the site sends power out.
	Generated, Delivered, Consumed, Lost complex128
	Steps                                int            // of Newton's method
	Off                                  quantity.Volts // what is left open, see Tolerance
	index                                map[string]int
}

// NodeState is a node with its voltages against the source's neutral point.
type NodeState struct {
	ID     string
	Has    [4]bool // by Conductor
	Phasor [4]complex128
}

// SectionState is a section with its currents, from the source outward.
type SectionState struct {
	Section Section
	Current [4]complex128 // by Conductor
	Lost    complex128    // VA; the real part heats the wire
	outer   NodeState
	inner   NodeState
}

// UnitState is a unit with what reaches it and what it sends out.
type UnitState struct {
	Unit  Unit
	Volts quantity.Volts // across it
	Power complex128     // VA sent out
	Share quantity.Ratio // of Unit.Power; below 1 when the curve limits it
}

func (t *tree) solution(v, j phasors, steps int, off float64) *Solution {
	s := &Solution{Steps: steps, Off: quantity.Volts(off), index: t.index}
	for i := range t.nodes {
		b := &t.nodes[i]
		state := NodeState{ID: b.id, Has: b.has}
		var current [4]complex128
		for c := range conductors {
			if b.has[c] {
				state.Phasor[c] = v[i][b.slot[c]]
				current[c] = j[i][b.slot[c]]
			}
		}
		s.Nodes = append(s.Nodes, state)
		if i == 0 {
			for c := range conductors {
				s.Delivered += state.Phasor[c] * cmplx.Conj(current[c])
			}
			continue
		}
		section := SectionState{Section: t.net.Sections[b.section], Current: current, outer: state, inner: s.Nodes[b.parent]}
		for k, z := range b.ohms {
			a := cmplx.Abs(j[i][k])
			section.Lost += z * complex(a*a, 0)
		}
		s.Lost += section.Lost
		s.Sections = append(s.Sections, section)
	}
	s.Units = make([]UnitState, len(t.net.Units))
	for i := range t.nodes {
		for k := range t.nodes[i].hangs {
			e := &t.nodes[i].hangs[k]
			u := v[i][e.a] - v[i][e.b]
			if e.unit < 0 {
				current, _ := e.current(u)
				s.Consumed -= u * cmplx.Conj(current)
				continue
			}
			share, _ := e.limit(cmplx.Abs(u))
			power := complex(share, 0) * e.power
			s.Generated += power
			s.Units[e.unit] = UnitState{t.net.Units[e.unit], quantity.Volts(cmplx.Abs(u)), power, quantity.Ratio(share)}
		}
	}
	return s
}

// Node finds a node, nil if there is none.
func (s *Solution) Node(id string) *NodeState {
	if i, ok := s.index[id]; ok {
		return &s.Nodes[i]
	}
	return nil
}

// Section finds a section, nil if there is none.
func (s *Solution) Section(id string) *SectionState {
	for i := range s.Sections {
		if s.Sections[i].Section.ID == id {
			return &s.Sections[i]
		}
	}
	return nil
}

// Unit finds a unit, nil if there is none.
func (s *Solution) Unit(id string) *UnitState {
	for i := range s.Units {
		if s.Units[i].Unit.ID == id {
			return &s.Units[i]
		}
	}
	return nil
}

func (n *NodeState) across(p Pair) complex128 { return n.Phasor[p[0]] - n.Phasor[p[1]] }

// HasPair reports whether both conductors of a pair are at the node.
func (n *NodeState) HasPair(p Pair) bool { return n.Has[p[0]] && n.Has[p[1]] }

// Volts is the voltage across a pair, NaN where a conductor is not there.
func (n *NodeState) Volts(p Pair) quantity.Volts {
	if !n.HasPair(p) {
		return quantity.Volts(math.NaN())
	}
	return quantity.Volts(cmplx.Abs(n.across(p)))
}

// LegPairs lists the pairs of legs at the node.
func (n *NodeState) LegPairs() []Pair { return n.pairs([]Pair{L1L2, L2L3, L3L1}) }

// NeutralPairs lists the legs at the node against its neutral.
func (n *NodeState) NeutralPairs() []Pair { return n.pairs([]Pair{{L1, N}, {L2, N}, {L3, N}}) }

func (n *NodeState) pairs(of []Pair) []Pair {
	var out []Pair
	for _, p := range of {
		if n.HasPair(p) {
			out = append(out, p)
		}
	}
	return out
}

// NeutralShift is how far the neutral has moved from the middle of the legs: on
// split phase half the difference between the two legs to neutral. NaN where
// there is no neutral.
func (n *NodeState) NeutralShift() quantity.Volts {
	if !n.Has[N] {
		return quantity.Volts(math.NaN())
	}
	var sum complex128
	legs := 0
	for c := L1; c <= L3; c++ {
		if n.Has[c] {
			sum += n.Phasor[c]
			legs++
		}
	}
	return quantity.Volts(cmplx.Abs(n.Phasor[N] - sum/complex(float64(legs), 0)))
}

// Rise is by how much the voltage across a pair is higher at the outer end of
// the section; negative for a drop.
func (s *SectionState) Rise(p Pair) quantity.Volts { return s.outer.Volts(p) - s.inner.Volts(p) }

// LegPairs lists the pairs of legs that the section carries.
func (s *SectionState) LegPairs() []Pair { return s.outer.LegPairs() }

// Rise is by how much the voltage across a pair is higher at a node than at
// another one; NaN where a conductor or a node is not there.
func (s *Solution) Rise(node, base string, p Pair) quantity.Volts {
	n, b := s.Node(node), s.Node(base)
	if n == nil || b == nil {
		return quantity.Volts(math.NaN())
	}
	return n.Volts(p) - b.Volts(p)
}

// LossShare is the share of what the units send out that heats the wiring.
func (s *Solution) LossShare() quantity.Ratio {
	return quantity.Ratio(real(s.Lost) / real(s.Generated))
}

package circuit

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
)

// branch is a node of the tree with the section that leads to it.
type branch struct {
	id      string
	section int // in Network.Sections; -1 at the source
	parent  int
	has     [conductors]bool
	slot    [conductors]int // place of a conductor among those of the node
	width   int             // number of conductors
	above   []int           // place of each conductor among the parent's
	ohms    []complex128
	hangs   []element
}

// element is a unit or a load on two conductors of a node.
type element struct {
	a, b  int // places among the conductors of the node
	power complex128
	kind  Draw
	open  complex128 // nominal phasor of the pair
	unit  int        // in Network.Units, -1 for a load
	curve VoltWatt
	rated float64
}

// tree is a checked network, the source first and every node after its parent.
type tree struct {
	net   *Network
	nodes []branch
	index map[string]int
}

// grow checks the network and orders it.
func (n *Network) grow() (*tree, error) {
	if !(n.Nominal > 0) || !(n.Volts > 0) || math.IsInf(n.Volts.Float(), 0) {
		return nil, fmt.Errorf("network: nominal voltage %g V and source voltage %g V came, expected both above zero", n.Nominal, n.Volts)
	}
	t := &tree{net: n, index: map[string]int{}}
	root := branch{id: n.Source, section: -1, parent: -1}
	for _, c := range n.System.Conductors() {
		root.add(c)
	}
	t.push(root)
	below := map[string][]int{}
	for i, s := range n.Sections {
		below[s.To] = append(below[s.To], i)
	}
	for at := 0; at < len(t.nodes); at++ {
		for _, i := range below[t.nodes[at].id] {
			b, err := t.branchOf(i, at)
			if err != nil {
				return nil, err
			}
			t.push(b)
		}
	}
	if len(t.nodes) != len(n.Sections)+1 {
		for _, s := range n.Sections {
			if _, ok := t.index[s.To]; !ok {
				return nil, fmt.Errorf("section %s: no way from %s to the source %s", s.ID, s.To, n.Source)
			}
		}
	}
	return t, t.hang()
}

func (b *branch) add(c Conductor) {
	b.has[c], b.slot[c] = true, b.width
	b.width++
}

func (t *tree) push(b branch) {
	t.index[b.id] = len(t.nodes)
	t.nodes = append(t.nodes, b)
}

// branchOf makes the node at the outer end of a section.
func (t *tree) branchOf(section, parent int) (branch, error) {
	s, up := t.net.Sections[section], &t.nodes[parent]
	if _, twice := t.index[s.From]; twice {
		return branch{}, fmt.Errorf("section %s: %s is reached a second time; a site has one way from each node to the source", s.ID, s.From)
	}
	b := branch{id: s.From, section: section, parent: parent}
	for _, w := range s.Strands {
		switch {
		case int(w.Conductor) >= conductors || !up.has[w.Conductor]:
			return b, fmt.Errorf("section %s: conductor %v is not at %s", s.ID, w.Conductor, s.To)
		case b.has[w.Conductor]:
			return b, fmt.Errorf("section %s: conductor %v comes twice", s.ID, w.Conductor)
		case cmplx.IsNaN(w.Ohms) || cmplx.IsInf(w.Ohms):
			return b, fmt.Errorf("section %s: impedance of %v is no number", s.ID, w.Conductor)
		}
		b.add(w.Conductor)
		b.above = append(b.above, up.slot[w.Conductor])
		b.ohms = append(b.ohms, w.Ohms)
	}
	return b, nil
}

// hang puts units and loads on their nodes.
func (t *tree) hang() error {
	var wrong []error
	nominal := t.net.System.open(t.net.Nominal)
	put := func(what, node string, p Pair, e element) {
		i, ok := t.index[node]
		switch {
		case !ok:
			wrong = append(wrong, fmt.Errorf("%s: no node %s", what, node))
			return
		case p[0] == p[1] || !t.nodes[i].has[p[0]] || !t.nodes[i].has[p[1]]:
			wrong = append(wrong, fmt.Errorf("%s: %v is not at %s", what, p, node))
			return
		case cmplx.IsNaN(e.power) || cmplx.IsInf(e.power):
			wrong = append(wrong, fmt.Errorf("%s: power is no number", what))
			return
		}
		e.a, e.b, e.open = t.nodes[i].slot[p[0]], t.nodes[i].slot[p[1]], nominal[p[0]]-nominal[p[1]]
		t.nodes[i].hangs = append(t.nodes[i].hangs, e)
	}
	for i, u := range t.net.Units {
		if err := u.Curve.check(); err != nil {
			wrong = append(wrong, fmt.Errorf("unit %s: %w", u.ID, err))
			continue
		}
		e := element{power: u.Power, kind: ConstantPower, unit: i, curve: u.Curve, rated: u.base().Float()}
		put("unit "+u.ID, u.Node, u.Across, e)
	}
	for _, l := range t.net.Loads {
		put("load "+l.ID, l.Node, l.Across, element{power: -l.Power, kind: l.Draws, unit: -1})
	}
	return errors.Join(wrong...)
}

// limit is the share of its power that a unit may send out at a voltage across
// it, and how the share changes with each volt.
func (e *element) limit(volts float64) (share, perVolt float64) {
	size := cmplx.Abs(e.power)
	if len(e.curve) == 0 || size == 0 {
		return 1, 0
	}
	nominal := cmplx.Abs(e.open)
	share, slope := e.curve.at(volts / nominal)
	share *= e.rated / size
	if share >= 1 {
		return 1, 0
	}
	return share, slope * e.rated / size / nominal
}

// current is what the element sends into its first conductor at a voltage u
// across it, and the change of that current as a real 2×2 matrix of u.
func (e *element) current(u complex128) (complex128, [2][2]float64) {
	switch e.kind {
	case ConstantCurrent:
		return cmplx.Conj(e.power / e.open), [2][2]float64{}
	case ConstantImpedance:
		y := cmplx.Conj(e.power) / complex(real(e.open)*real(e.open)+imag(e.open)*imag(e.open), 0)
		return y * u, [2][2]float64{{real(y), -imag(y)}, {imag(y), real(y)}}
	}
	// I = conj(s·P/u), so dI = −I/conj(u) · conj(du) + conj(P/u) · s' · d|u|.
	size := cmplx.Abs(u)
	share, perVolt := e.limit(size)
	full := cmplx.Conj(e.power / u)
	i := complex(share, 0) * full
	w := -i / cmplx.Conj(u)
	m := [2][2]float64{{real(w), imag(w)}, {imag(w), -real(w)}}
	if perVolt != 0 {
		x, y := perVolt*real(u)/size, perVolt*imag(u)/size
		m[0][0] += real(full) * x
		m[0][1] += real(full) * y
		m[1][0] += imag(full) * x
		m[1][1] += imag(full) * y
	}
	return i, m
}

package circuit

import (
	"math"

	"legwork/quantity"
)

// OneLine is what the reviewer's formula says of a network.
type OneLine struct {
	Sections map[string]quantity.Volts // rise by section id
	Units    map[string]quantity.Volts // rise from the base to each unit
}

// OneLine applies the one-line formula to every section beyond a node: all units
// at rated current, unity power factor, reactance and loads left out.
//
//	V = I · (R_a + R_b)      two legs; 2 · I · R with both of one size
//	V = √3 · I · R           three legs, the pairs taken as evenly loaded
//
// On three legs I is the sum of the units' currents over √3, and R the mean of
// the legs. Valid: 208Y/120 only as far as the pairs are balanced.
//
// Source: common practice; see RunRise and TrunkRise.
func (n *Network) OneLine(base string) (OneLine, error) {
	t, err := n.grow()
	if err != nil {
		return OneLine{}, err
	}
	beyond := make([]float64, len(t.nodes)) // A
	for i := len(t.nodes) - 1; i > 0; i-- {
		for _, e := range t.nodes[i].hangs {
			if e.unit >= 0 {
				beyond[i] += n.Units[e.unit].nameplate(n.Nominal).Float()
			}
		}
		beyond[t.nodes[i].parent] += beyond[i]
	}
	out := OneLine{map[string]quantity.Volts{}, map[string]quantity.Volts{}}
	rise := make([]float64, len(t.nodes))
	past := make([]bool, len(t.nodes))
	for i := range t.nodes {
		b := &t.nodes[i]
		if i > 0 && past[b.parent] {
			r, legs := 0.0, 0.0
			for c := L1; c <= L3; c++ {
				if b.has[c] {
					r += real(b.ohms[b.slot[c]])
					legs++
				}
			}
			v := beyond[i] * r
			if legs == 3 {
				v = math.Sqrt(3) * (beyond[i] / math.Sqrt(3)) * r / 3
			}
			past[i], rise[i] = true, rise[b.parent]+v
			out.Sections[n.Sections[b.section].ID] = quantity.Volts(v)
		}
		past[i] = past[i] || b.id == base
		for _, e := range b.hangs {
			if past[i] && e.unit >= 0 {
				out.Units[n.Units[e.unit].ID] = quantity.Volts(rise[i])
			}
		}
	}
	return out, nil
}

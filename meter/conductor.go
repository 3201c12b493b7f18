package meter

// Part is a place in the installation where a CT window can be.
type Part uint8

// The parts, with the direction in which their current counts positive.
const (
	Service Part = iota // service conductors: from the grid to the house
	House               // feeder to the loads, below the PV connection: to the house
	Output              // PV output conductors: from the inverters to the panel
	Branch              // conductors of one branch: from the inverters to the panel
)

// Conductor is one conductor that may pass a window. The neutral counts positive
// from the house to the grid.
type Conductor struct {
	Part   Part
	Node   Node
	Branch int // for Part Branch, from 1
}

// Flow is +1 or −1 when the current of a device flows in the conductor, in or
// against its positive direction, and 0 when it does not.
//
// Source: Kirchhoff's current law at the panel.
func (c Conductor) Flow(s Device) int {
	d := 0
	switch {
	case c.Node == s.From && s.From != N, c.Node == N && s.To == N:
		d = 1
	case c.Node == s.To && s.To != N, c.Node == N && s.From == N:
		d = -1
	}
	pv := s.Branch > 0
	switch c.Part {
	case Service:
		if pv {
			return -d
		}
		return d
	case House:
		if pv {
			return 0
		}
		return d
	case Output:
		if pv {
			return d
		}
		return 0
	default: // Branch
		if pv && s.Branch == c.Branch {
			return d
		}
		return 0
	}
}

package meter

import "strconv"

// Wiring is how all channels of a meter are wired.
type Wiring struct {
	System   System
	Branches int
	Grid     []Placement // G1, G2 (and G3)
	Prod     []Placement // P1, P2, or P1 alone
}

// Right is the wiring as planned: one grid CT on each service conductor, and one
// production window a leg, or a single one referred to both legs.
func Right(sys System, windows, branches int) *Wiring {
	w := &Wiring{System: sys, Branches: branches}
	legs := []Node{L1, L2}
	if sys == Wye3 {
		legs = append(legs, L3)
	}
	for _, leg := range legs {
		w.Grid = append(w.Grid, Placement{Gain: 1, Ref: Across{leg, N},
			Passes: []Pass{{Conductor{Part: Service, Node: leg}, 1}}})
	}
	for i := range windows {
		p := Placement{Gain: 1, Ref: Across{legs[i], N}}
		if windows == 1 {
			p.Ref = OnL12
		}
		for b := range branches {
			p.Passes = append(p.Passes, Pass{Conductor{Branch, legs[i], b + 1}, 1})
		}
		w.Prod = append(w.Prod, p)
	}
	return w
}

// Row is what one channel answers to each device: a load on L1, on L2 and
// between them, and each branch of PV.
type Row struct {
	L1, L2, L12 complex128
	PV          []complex128
}

// Rows are the response matrix K of a list of channels.
func (w *Wiring) Rows(channels []Placement) []Row {
	out := make([]Row, len(channels))
	for i, p := range channels {
		out[i] = Row{
			L1:  p.Response(w.System, Load(OnL1)),
			L2:  p.Response(w.System, Load(OnL2)),
			L12: p.Response(w.System, Load(OnL12)),
		}
		for b := range w.Branches {
			out[i].PV = append(out[i].PV, p.Response(w.System, PV(b+1)))
		}
	}
	return out
}

// Named lists a row by device: L1, L2, L12, pv1 and so on.
func (r Row) Named() map[string]complex128 {
	out := map[string]complex128{"L1": r.L1, "L2": r.L2, "L12": r.L12}
	for i, k := range r.PV {
		out["pv"+strconv.Itoa(i+1)] = k
	}
	return out
}

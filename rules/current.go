package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// groupCurrent works out the current of groups of units: n × I_u, model by
// model. sym names the sum.
func groupCurrent(w *working.Sheet, sym, means string, groups []site.Group, existing []*site.Source) working.Term {
	var parts []working.Term
	for i, g := range groups {
		n, u := "n", "I_u"
		if len(groups) > 1 {
			n, u = n+subscript(i), u+subscript(i)
		}
		count := w.Fact(n, working.State(quantity.Count(g.Count), "units of "+g.Inverter.ID, working.Origin{Kind: working.Computed, Path: "plan"}))
		parts = append(parts, count.By(w.Fact(u, g.Inverter.Current)))
	}
	for i, s := range existing {
		parts = append(parts, w.Fact("I_x"+subscript(i), s.Current))
	}
	return w.Let(sym, working.Sum("A", parts...), means)
}

// subscript numbers symbols from 1.
func subscript(i int) string { return string('₁' + rune(i)) }

// busCurrent is the output current of all sources that can enter a bus.
func busCurrent(w *working.Sheet, b *site.Bus) working.Term {
	return groupCurrent(w, "I_src", "output current of all sources that reach this bus", b.Groups(), b.ExistingSources())
}

// continuous is 1.25 times a continuous current.
func continuous(w *working.Sheet, sym string, i working.Term) working.Term {
	return w.Let(sym, i.Times(1.25), "125 % of a continuous current")
}

// largestCircuit is the circuit of a run that carries most: the one that the
// run's conductors are judged by. A circuit of unknown current comes first.
func largestCircuit(r *site.Run) *site.Circuit {
	best, most := r.Circuits[0], -1.0
	for _, c := range r.Circuits {
		i, known := amps(c.Groups())
		if !known {
			return c
		}
		if i > most {
			best, most = c, i
		}
	}
	return best
}

func amps(groups []site.Group) (float64, bool) {
	var sum float64
	for _, g := range groups {
		if !g.Inverter.Current.Known {
			return 0, false
		}
		sum += float64(g.Count) * float64(g.Inverter.Current.Value)
	}
	return sum, true
}

// circuitCurrent is the current of one circuit of a run.
func circuitCurrent(w *working.Sheet, c *site.Circuit) working.Term {
	if c.Branch != nil {
		return groupCurrent(w, "I", "current of branch "+c.ID, c.Groups(), nil)
	}
	return groupCurrent(w, "I", "output current of all sources behind it", c.Groups(), c.Carries.ExistingSources())
}

// largestDevice is the overcurrent device of a run with the highest rating: the
// one that each conductor in the raceway is held against, since any of them may
// end up behind it. One of unknown rating comes first.
func largestDevice(r *site.Run) *site.Breaker {
	best := r.Circuits[0].Device
	for _, c := range r.Circuits {
		if !c.Device.Rating.Known {
			return c.Device
		}
		if c.Device.Rating.Value > best.Rating.Value {
			best = c.Device
		}
	}
	return best
}

// deviceOf states the rating of the largest device of a run.
func deviceOf(w *working.Sheet, r *site.Run) working.Term {
	return w.Fact("I_b", largestDevice(r).Rating)
}

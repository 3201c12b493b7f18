package fixes

import (
	"fmt"
	"slices"

	"legwork/job"
	"legwork/quantity"
	"legwork/tables"
	"legwork/working"
)

// byUnits are the rules that fewer units can satisfy.
var byUnits = []string{"busbar-100", "busbar-120", "busbar-center", "busbar-sum", "branch-units", "branch-current", "branch-model",
	"combiner-spaces", "output-breaker", "breaker-protects", "conductor-carries", "terminals", "voltage-rise", "supply-rating"}

// mostDropped bounds the search for the largest array that fits as is.
const mostDropped = 120

// fewerUnits takes units off the ends of the last branches: as few as help, and
// as few again as help more. The first is the largest array that fits as is.
func fewerUnits(c *Case) []Edit {
	left := len(c.stopsBy(byUnits...))
	all := 0
	for _, b := range c.Plant.Branches {
		all += len(b.Units)
	}
	var out []Edit
	for n := 1; n < all && n <= mostDropped && left > 0; n++ {
		e := dropUnits(c, n, all)
		if still := c.left(byUnits, e); still < left {
			left = still
			out = append(out, e)
		}
	}
	return out
}

func dropUnits(c *Case, n, all int) Edit {
	var branches []job.Branch
	ratings := map[string]quantity.Amps{} // of connections, by run
	for i, left := len(c.Plant.Branches)-1, n; i >= 0; i-- {
		b := c.Plant.Branches[i]
		keep := max(0, len(b.Units)-left)
		left -= len(b.Units) - keep
		if keep == 0 {
			continue
		}
		d := c.Decisions.Branches[slices.IndexFunc(c.Decisions.Branches, func(d job.Branch) bool { return d.ID == b.ID })]
		d.Units = nil
		for _, u := range b.Units[:keep] {
			d.Units = append(d.Units, u.Positions...)
		}
		branches = append([]job.Branch{d}, branches...)
	}
	for i := range c.Decisions.Connections {
		o := &c.Decisions.Connections[i]
		from := c.Plant.Bus(o.From)
		if from == nil || !o.Breaker.Known {
			continue
		}
		if r, ok := leastRating(c, branches, o.From); ok && r < o.Breaker.Value {
			ratings[o.Run] = r
		}
	}
	title := fmt.Sprintf("%d of %d units", all-n, all)
	takes := []Take{{"unit_fewer", float64(n)}}
	for _, o := range c.Decisions.Connections {
		if r, ok := ratings[o.Run]; ok {
			title += ", PV breaker " + working.Figure(r.Float(), r.Unit())
			takes = append(takes, Take{"breaker_new", 1})
		}
	}
	return Edit{Title: title, Slot: "units", Touches: []string{"roof"}, Takes: takes, Apply: func(x *Draft) {
		x.Decisions.Branches = slices.Clone(branches)
		for run, r := range ratings {
			x.connection(run).Breaker = known(r)
		}
	}}
}

// leastRating is the smallest standard device for the units left behind a bus.
func leastRating(c *Case, branches []job.Branch, from string) (quantity.Amps, bool) {
	var amps float64
	for _, d := range branches {
		if d.Lands != from {
			continue
		}
		units, err := job.ExpandUnits(d.Units)
		if err != nil {
			return 0, false
		}
		for _, u := range c.Plant.Branch(d.ID).Units {
			if !u.Inverter.Current.Known {
				return 0, false
			}
			if slices.Contains(units, u.Position) {
				amps += u.Inverter.Current.Value.Float()
			}
		}
	}
	r, err := tables.NextStandard(c.Edition, quantity.Amps(1.25*amps))
	return r, err == nil && amps > 0
}

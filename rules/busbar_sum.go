package rules

import (
	"fmt"
	"math"
	"slices"

	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// BusbarSum is the rule for a combiner, and for a panel where the plan chooses
// it: all breakers but the main.
var BusbarSum = Rule{
	ID:    "busbar-sum",
	Title: "All breakers but the main, and the main itself, within the busbar",
	Why: "When every breaker on the bar together stays within it, no mix of sources and " +
		"loads can overload it. Meter, gateway and surge breakers count.",
	Clauses: working.Clauses{
		2017: "705.12(B)(2)(3)(c)",
		2020: "705.12(B)(3)(3)",
		2023: "705.12(B)(3)",
	},
	Mark:  "2017 seen; 2020 and 2023 seen in part",
	Gives: []working.Verdict{working.OK, working.Look, working.Ask, working.Stop},
	On: onBus(takes(bySum), func(p *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		var all []working.Term
		var on []*site.Breaker
		for _, d := range b.Breakers {
			if !d.Lugs {
				on = append(on, d)
				all = append(all, w.Fact(fmt.Sprintf("I_%d", len(on)), d.Rating))
			}
		}
		sum := w.Let("I_sum", working.Sum("A", all...), "all breakers on the bar, a two-pole one counted once")
		// The device that protects the bar stands outside the sum, but must not be
		// larger than the bar either.
		up := w.Fact("I_up", b.Protection())
		most := w.Let("I_max", working.Greatest(sum, up), "larger of the sum and what protects the bar")
		bus := w.Fact("I_bus", b.Rating)
		v := w.AtMost(most, bus)
		if v != working.Stop {
			return w.NearIsLook(v)
		}
		leg := perLeg(on, p.System.Value)
		if !(quantity.Compare(math.Max(leg, up.Float()), bus.Float()) <= 0) {
			w.Note("leg by leg, as some read it, %s stand on the fuller leg: too much as well", working.Figure(leg, bus.Unit()))
			return v
		}
		w.Note("passes only leg by leg, %s on the fuller leg; the text adds the ratings of all devices: ask the department", working.Figure(leg, bus.Unit()))
		legs := w.Let("I_leg", working.Of(quantity.Amps(leg), "breakers on the fuller leg", working.Origin{Kind: working.Computed, Path: "plan"}))
		w.AtMost(w.Let("I_max", working.Greatest(legs, up), "larger of that and what protects the bar"), bus)
		return working.Look
	}),
}

// perLeg adds the ratings leg by leg and takes the fuller one. A one-pole breaker
// whose space is not known may be on either, and counts on both.
func perLeg(on []*site.Breaker, system job.System) float64 {
	legs := make([]float64, 2)
	if system == job.Wye208 {
		legs = make([]float64, 3)
	}
	for _, d := range on {
		for leg := range legs {
			if len(d.Spaces) == 0 || slices.ContainsFunc(d.Spaces, func(s int) bool { return site.Leg(s, len(legs)) == leg }) {
				legs[leg] += d.Rating.Value.Float()
			}
		}
	}
	return slices.Max(legs)
}

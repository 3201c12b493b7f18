package field

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// branchSteps closes one branch at a time, and measures the rise with all on.
func (g *generator) branchSteps() {
	s := step("roof-clear", "roof_clear", Branches, g.roof())
	s.StaysLive = g.withPower(len(g.chain))
	s.Do = do("roof_clear", 3)
	s.Hold = &Hold{EyesOnly: true}
	s.Mark, s.Basis = CommonPractice, "the maker's instructions"
	g.add(s)
	for i, b := range g.plant.Branches {
		g.branch(i, b)
	}
	if len(g.plant.Branches) > 0 {
		g.rise()
	}
}

func (g *generator) branch(i int, b *site.Branch) {
	before, with := g.withBranches(g.plant.Branches[:i]), g.withBranches(g.plant.Branches[:i+1])
	n := float64(len(b.Units))

	s := step("close-branch-"+b.ID, "close_branch", Branches, b.ID, "branch", b.ID, "rating", b.Breaker.Rating.String(), "spaces", spaces(b.Breaker))
	s.StaysLive = before
	s.Do = do("close_branch", 3)
	for _, leg := range []string{"1", "2"} {
		s.Expect = append(s.Expect, atMost("wire"+leg, say("measure.standby", "wire", leg, "units", number(len(b.Units))), "",
			practice(quantity.Amps(0.1*n), "0.1 A a unit"), practice(quantity.Amps(0.2*n), "0.2 A a unit")))
	}
	s.Expect = append(s.Expect, g.branchVolts(b)...)
	s.Patterns = append(branchPatterns(0.2*n), tripped())
	s.Wear, s.Second, s.Weather = g.wearLive(), say("second.live"), say("weather.enclosure")
	s.Mark = CommonPractice
	g.add(s)

	s = step("wait-"+b.ID, "wait", Branches, b.ID, "branch", b.ID, "delay", g.cond.Agreement.Delay.String())
	s.StaysLive = with
	s.Do = do("wait", 3)
	value, look, stop := g.delayBand()
	s.Expect = []Expect{{ID: "delay", What: say("measure.first_output"), Unit: "s", Value: value, Look: look, Stop: stop}}
	s.Wait = g.reentry()
	s.Patterns = []Pattern{tooSoon(stop), noOutput(stop)}
	s.Hold = &Hold{ReasonPasses: true}
	s.Mark, s.Basis = Standard, "IEEE 1547-2018, 4.10.3; the limits beside the delay are common practice"
	g.add(s)

	s = step("output-"+b.ID, "output", Branches, b.ID, "branch", b.ID)
	s.StaysLive = with
	s.Do = do("output", 4)
	full := rated(b.Groups())
	lookHigh, stopHigh := full.Times(1.1), full.Times(1.2)
	for _, leg := range []string{"1", "2"} {
		s.Expect = append(s.Expect, Expect{ID: "wire" + leg, What: say("measure.output_amps", "wire", leg), Unit: "A", Value: &full, Look: Band{High: &lookHigh}, Stop: Band{High: &stopHigh}})
	}
	s.Expect = append(s.Expect,
		atMost("difference", say("measure.leg_difference"), "", nil, practice(quantity.Amps(0.2), "a two-wire source has equal legs")),
		Expect{ID: "production", What: say("measure.production_watts"), Unit: "W", Stop: Band{Low: practice(quantity.Watts(0), "production is positive")}},
		Expect{ID: "grid", What: say("measure.grid_share"), Unit: "%",
			Look: Band{practice(quantity.Percent(80), "sun moves"), practice(quantity.Percent(120), "sun moves")},
			Stop: Band{Low: practice(quantity.Percent(20), "grid does not move")}})
	s.Patterns = outputPatterns()
	s.Wear, s.Second = g.wearLive(), say("second.live")
	s.Mark = CommonPractice
	g.add(s)

	if i == 0 {
		return
	}
	s = step("adds-"+b.ID, "adds", Branches, b.ID, "branch", b.ID)
	s.StaysLive = with
	s.Do = do("adds", 2)
	s.Expect = []Expect{{ID: "share", What: say("measure.adds", "branch", b.ID), Unit: "%",
		Look: Band{practice(quantity.Percent(90), "sun moves"), practice(quantity.Percent(110), "sun moves")},
		Stop: Band{practice(quantity.Percent(80), "sun moves"), practice(quantity.Percent(120), "sun moves")}}}
	s.Patterns = []Pattern{addsNothing()}
	s.Hold = &Hold{ReasonPasses: true}
	s.Mark = CommonPractice
	g.add(s)
}

// branchVolts is the load side of the branch breaker: legs to each other, and
// each to ground. Leg to ground alone looks healthy with a pole open.
func (g *generator) branchVolts(b *site.Branch) []Expect {
	value, look, stop := g.serviceLimits(g.plant.Nominal.Or(240))
	out := []Expect{{ID: "load:L-L", What: say("measure.load_side", "branch", b.ID), Between: "L-L", Unit: "V", Value: value, Look: look, Stop: stop}}
	for _, w := range []string{"1", "2"} {
		value, look, stop := g.serviceLimits(120)
		out = append(out, Expect{ID: "load:" + w + "-G", What: say("measure.load_side", "branch", b.ID), Between: w + "-G", Unit: "V", Value: value, Look: look, Stop: stop})
	}
	return out
}

// rise compares the measured rise with the computed one, and holds the voltage
// at the last unit against re-entry and trip.
func (g *generator) rise() {
	s := step("rise", "rise", Branches, g.collectorPlace())
	s.StaysLive = g.withBranches(g.plant.Branches)
	s.Do = do("rise", 3)
	tooHigh := riseHigh()
	for _, c := range g.collectors {
		var beyonds []working.Term
		var upstream working.Term
		for _, b := range g.plant.Branches {
			if b.Bus == c {
				beyond, up := g.rises(b)
				beyonds, upstream = append(beyonds, beyond), up
			}
		}
		beyond := working.Greatest(beyonds[0], beyonds[1:]...)
		measured := g.busRise(c, upstream)
		s.Expect = append(s.Expect, measured)
		if high := measured.Look.High; high.Known() {
			tooHigh = tooHigh.or(Picture{{measured.ID, high.Float() + 0.001, huge}})
		}
		a := g.cond.Agreement
		look, stop := g.ofNominal(a.High).Minus(beyond), g.ofNominal(a.Trip).Minus(beyond)
		s.Expect = append(s.Expect, Expect{ID: c.ID + ":all-on", What: say("measure.all_on", "bus", c.Name, "beyond", beyond.String()), Between: "L1-L2", Unit: "V", Look: Band{High: &look}, Stop: Band{High: &stop}})
	}
	s.Patterns = []Pattern{tooHigh}
	s.Wear, s.Second = g.wearLive(), say("second.live")
	s.Mark, s.Basis = Standard, "IEEE 1547-2018, 4.10.2, 6.4.1; the limits of the rise are common practice"
	g.add(s)
}

// busRise is the rise from the service to a bus. It expects what is computed at
// full output, and looks half a percent of nominal above; three percent stop the
// work. A plan that computes more than that is shown by its limit alone.
func (g *generator) busRise(c *site.Bus, computed working.Term) Expect {
	nominal := g.plant.Nominal.Term()
	x := Expect{ID: c.ID + ":rise", What: say("measure.rise", "bus", c.Name), Between: "L1-L2", Unit: "V"}
	stop := nominal.Times(0.03)
	look := working.Least(computed.Plus(nominal.Times(0.005)), stop)
	x.Look.High, x.Stop.High = &look, &stop
	if !computed.Known() || !stop.Known() || quantity.Compare(computed.Float(), look.Float()) <= 0 {
		x.Value = &computed
	}
	return x
}

package field

import "legwork/quantity"

// meterSteps proves the grid CTs with house load alone, and the grid profile,
// before any branch closes.
func (g *generator) meterSteps() {
	live := g.withPower(len(g.chain))
	s := step("ct-house-only", "ct_house_only", MeterFirst, g.collectorPlace())
	s.StaysLive = live
	s.Do = do("ct_house_only", 4)
	for _, leg := range g.legs {
		s.Expect = append(s.Expect, Expect{ID: "grid:" + leg, What: say("measure.grid_watts", "leg", leg), Between: leg, Unit: "W",
			Look: Band{Low: practice(quantity.Watts(0), "a house without PV only takes")},
			Stop: Band{Low: practice(quantity.Watts(-noise), "noise")}})
	}
	zero := practice(quantity.Watts(0), "no branch is closed")
	s.Expect = append(s.Expect, Expect{ID: "production", What: say("measure.production_watts"), Unit: "W", Value: zero,
		Look: Band{practice(quantity.Watts(-5), "noise"), practice(quantity.Watts(5), "noise")},
		Stop: Band{practice(quantity.Watts(-noise), "noise"), practice(quantity.Watts(noise), "noise")}})
	s.Patterns = []Pattern{gridNegative(g.legs), productionEnclosesLoad()}
	s.Hold = &Hold{ReasonPasses: true}
	s.Mark = CommonPractice
	g.add(s)

	s = step("ct-known-load", "ct_known_load", MeterFirst, g.collectorPlace())
	s.StaysLive = live
	s.Do = do("ct_known_load", 4)
	for _, leg := range g.legs {
		s.Expect = append(s.Expect, Expect{ID: leg + ":own", What: say("measure.load_own", "leg", leg), Between: leg, Unit: "W",
			Look: Band{practice(quantity.Watts(1350), "1.5 kW less a tenth"), practice(quantity.Watts(1650), "1.5 kW and a tenth")},
			Stop: Band{practice(quantity.Watts(1000), "the heater"), practice(quantity.Watts(2000), "the heater")}},
			Expect{ID: leg + ":other", What: say("measure.load_other", "leg", leg), Between: leg, Unit: "W",
				Look: Band{practice(quantity.Watts(-100), "drift of the house"), practice(quantity.Watts(100), "drift of the house")},
				Stop: Band{practice(quantity.Watts(-500), "drift of the house"), practice(quantity.Watts(500), "drift of the house")}})
	}
	s.Patterns = []Pattern{swappedLegs(g.legs)}
	s.Mark = CommonPractice
	g.add(s)

	s = step("grid-profile", "grid_profile", MeterFirst, g.collectorPlace())
	s.StaysLive = live
	s.Do = do("grid_profile", 3)
	a := g.cond.Agreement
	delay, high := a.Delay.Term(), g.ofNominal(a.High)
	rounding := *practice(quantity.Volts(0.5), "rounding of the display")
	low, most := high.Minus(rounding), high.Plus(rounding)
	s.Expect = []Expect{
		{ID: "delay", What: say("measure.set_delay"), Unit: "s", Value: &delay, Stop: Band{&delay, &delay}},
		{ID: "reentry-high", What: say("measure.set_reentry"), Unit: "V", Value: &high,
			Stop: Band{&low, &most}},
	}
	s.Hold = &Hold{ReasonPasses: true}
	s.Mark, s.Basis = Standard, "IEEE 1547-2018, 4.10, 11.2.5; the interconnection agreement comes first"
	g.add(s)
}

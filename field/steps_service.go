package field

import "legwork/working"

// tapSteps is a connection ahead of the service disconnect: the utility makes
// the tap's conductors dead, nobody else can.
func (g *generator) tapSteps() {
	name, place := g.switchName()
	s := step("outage", "outage", BeforePower, "service")
	s.StaysLive = g.beforePower()
	s.Do = do("outage", 3)
	s.Hold = &Hold{EyesOnly: true}
	s.Mark, s.Basis = CommonPractice, "the utility's own rules"
	g.add(s)

	where := "?"
	if g.tap.Place.Known {
		where = g.tap.Place.Value
	}
	s = step("tap-dead-test", "tap_dead_test", BeforePower, g.tap.Connection.ID+"/tap", "place", where)
	s.StaysLive = []Text{say("live.until_pulled"), moduleLeads()}
	s.Do = do("dead_test", 3)
	s.Expect = g.absence("tap", where, true)
	s.Patterns = []Pattern{notDead(s.Expect)}
	s.Wear, s.Second, s.Weather = g.wearLive(), say("second.live"), say("weather.enclosure")
	s.Hold = noReason()
	s.Mark, s.Basis = Standard, "NFPA 70E, 120.5, step 7; the limits are common practice"
	g.add(s)

	s = step("tap", "tap", BeforePower, g.tap.Connection.ID+"/tap", "place", where, "name", name)
	s.StaysLive = []Text{say("live.until_pulled"), moduleLeads()}
	s.Do = append([]Text{say("do.tap.length", "length", g.tap.Length.String())}, do("tap", 4)...)
	if g.gridCTs() > 0 {
		s.Do = append(s.Do, say("do.tap.cts"))
	}
	for _, leg := range append(append([]string{}, g.legs...), "N") {
		s.Expect = append(s.Expect, g.torque("tap:"+leg, say("measure.torque_tap", "leg", leg), working.Term{}),
			g.torque(place+":"+leg, say("measure.torque", "breaker", place, "leg", leg), working.Term{}))
	}
	s.Wear, s.Weather = wearHands(), say("weather.enclosure")
	s.Photos = 2
	s.Mark, s.Basis = Standard, "NFPA 70, 705.11, 230.46, 250.24, 250.92, 250.102(C)(1)"
	g.add(s)

	s = step("fuses", "fuses", BeforePower, place, "name", name)
	s.StaysLive = []Text{say("live.until_pulled"), moduleLeads()}
	s.Do = do("fuses", 3)
	for _, d := range g.chain {
		if d.on == nil {
			t := d.breaker.Rating.Term()
			s.Expect = []Expect{{ID: "fuses", What: say("measure.fuses"), Unit: "A", Value: &t, Stop: Band{&t, &t}}}
		}
	}
	s.Wear = wearHands()
	s.Hold = noReason()
	s.Mark, s.Basis = Standard, "NFPA 70, 705.11, 110.9, 240.60"
	g.add(s)

	s = step("utility-return", "utility_return", BeforePower, place, "name", name)
	s.StaysLive = g.beforePower()
	s.Do = do("utility_return", 2)
	s.Expect = g.volts("line:")
	s.Patterns = g.voltPatterns("line:")
	s.Wear, s.Second, s.Weather = g.wearLive(), say("second.live"), say("weather.enclosure")
	s.Hold = noReason()
	s.Mark, s.Basis = Standard, "ANSI C84.1, table 1"
	g.add(s)
}

// mainSwap is the exchange of the service main under a utility outage.
func (g *generator) mainSwap() {
	s := step("main-swap", "main_swap", BeforePower, g.servicePlace(), "panel", g.serviceName())
	s.StaysLive = append(g.beforePower(), say("live.until_pulled"))
	s.Do = do("main_swap", 5)
	s.Expect = g.absence("main", g.serviceName(), true)
	s.Patterns = []Pattern{notDead(s.Expect)}
	s.Wear, s.Second, s.Weather = g.wearLive(), say("second.live"), say("weather.enclosure")
	s.Hold = noReason()
	s.Photos = 2
	s.Mark, s.Basis = Standard, "NFPA 70E, 120.5; NFPA 70, 230.79, 110.14(D)"
	g.add(s)
}

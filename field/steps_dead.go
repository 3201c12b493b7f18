package field

import (
	"legwork/quantity"
	"legwork/site"
)

// deadSteps is sources, lockout, proof of absence of voltage, and the
// tests of runs with both ends free.
func (g *generator) deadSteps() {
	s := step("sources", "sources", BeforePower, g.servicePlace())
	s.StaysLive = g.beforePower()
	s.Do = append(do("sources", 1), g.sourceList()...)
	s.Expect = []Expect{exactly("sources", say("measure.sources"), len(g.sourceList()))}
	s.Mark, s.Basis = Standard, "NFPA 70E, 120.5, step 1"
	g.add(s)

	s = step("lockout", "lockout", BeforePower, g.servicePlace())
	s.StaysLive = g.beforePower()
	s.Do = append(g.makeDead(), do("lockout", 2)...)
	s.Wear = g.wearLive()
	s.Second = say("second.live")
	s.Hold = &Hold{EyesOnly: true}
	s.Mark, s.Basis = Standard, "NFPA 70E, 120.5, steps 2, 3 and 6; 29 CFR 1926.417"
	g.add(s)

	s = step("dead-test", "dead_test", BeforePower, g.collectorPlace())
	s.StaysLive = g.beforePower()
	s.Do = do("dead_test", 3)
	for _, c := range g.collectors {
		s.Expect = append(s.Expect, g.absence(c.ID, c.Name, true)...)
	}
	for _, d := range g.chain {
		if d.breaker != nil && d.on != nil {
			s.Expect = append(s.Expect, g.absence(d.on.ID+"/"+d.breaker.Place(), d.on.Name+" "+spaces(d.breaker), false)...)
		}
	}
	s.Patterns = []Pattern{notDead(s.Expect)}
	s.Wear, s.Second, s.Weather = g.wearLive(), say("second.live"), say("weather.enclosure")
	s.Hold = noReason()
	s.Mark, s.Basis = Standard, "NFPA 70E, 120.5, step 7; the limits are common practice"
	g.add(s)

	s = step("insulation", "insulation", BeforePower, g.firstRun())
	s.StaysLive = g.beforePower()
	s.Do = do("insulation", 5)
	for _, r := range g.newRuns() {
		for _, pair := range g.runPairs(r) {
			s.Expect = append(s.Expect, Expect{ID: r.ID + ":" + pair, What: say("measure.insulation", "run", r.Name), Between: pair, Unit: "Ω",
				Look: Band{Low: practice(quantity.Ohms(100e6), "new dry wiring")},
				Stop: Band{Low: clause(quantity.Ohms(1e6), "least insulation resistance", "IEC 60364-6, table 6.1")}})
		}
	}
	s.Patterns = []Pattern{lowInsulation(s.Expect)}
	s.Wear, s.Second, s.Weather = wearHands(), say("second.ends"), say("weather.enclosure")
	s.Mark, s.Basis = Standard, "IEC 60364-6, table 6.1; NFPA 70 asks for no such test"
	g.add(s)

	s = step("identity", "identity", BeforePower, g.firstRun())
	s.StaysLive = g.beforePower()
	s.Do = do("identity", 4)
	for _, b := range g.plant.Branches {
		if b.Run == nil {
			continue
		}
		s.Expect = append(s.Expect, continuity(b.ID+":loop", say("measure.loop", "branch", b.ID, "run", b.Run.Name), "L1-L2", g.loop(b.Run)),
			exactly(b.ID+":others", say("measure.others", "branch", b.ID), 0),
			Expect{ID: b.ID + ":open", What: say("measure.open", "branch", b.ID), Between: "L1-L2", Unit: "Ω",
				Stop: Band{Low: practice(quantity.Ohms(1e6), "open, jumper out")}})
	}
	s.Expect = append(s.Expect, exactly("jumpers-out", say("measure.jumpers"), len(g.plant.Branches)))
	s.Patterns = identityPatterns(g.plant.Branches)
	s.Wear, s.Second = wearHands(), say("second.ends")
	s.Mark = CommonPractice
	g.add(s)
}

// sourceList names everything that can put voltage on the plant.
func (g *generator) sourceList() []Text {
	out := []Text{say("source.utility")}
	for _, b := range g.plant.Branches {
		out = append(out, say("source.branch", "branch", b.ID, "units", number(len(b.Units))))
	}
	for _, s := range g.plant.Sources {
		out = append(out, say("source.existing", "source", s.ID, "spaces", spaces(s.Breaker), "panel", s.Bus.Name))
	}
	return out
}

// absence is the proof that nothing is live at a place.
func (g *generator) absence(id, name string, neutral bool) []Expect {
	var out []Expect
	for _, pair := range g.pairs(neutral) {
		zero := practice(quantity.Volts(0), "dead")
		x := atMost(id+":"+pair, say("measure.absence", "at", name), pair, nil, practice(quantity.Volts(3), "absence of voltage, low-impedance tester"))
		x.Value = zero
		out = append(out, x)
	}
	return out
}

func (g *generator) collectorPlace() string {
	if len(g.collectors) == 0 {
		return g.servicePlace()
	}
	return g.collectors[0].ID + "/bus"
}

func (g *generator) newRuns() []*site.Run {
	var out []*site.Run
	for _, r := range g.plant.Runs {
		if !r.Existing && len(r.Circuits) > 0 {
			out = append(out, r)
		}
	}
	return out
}

func (g *generator) firstRun() string {
	if rs := g.newRuns(); len(rs) > 0 {
		return rs[0].ID
	}
	return g.collectorPlace()
}

// runPairs are the pairs of conductors of a run, by circuit where it has several.
func (g *generator) runPairs(r *site.Run) []string {
	var out []string
	for _, c := range r.Circuits {
		name := ""
		if len(r.Circuits) > 1 {
			name = c.ID + "/"
		}
		out = append(out, name+"L1-L2", name+"L1-G", name+"L2-G")
	}
	if r.Conductors.HasNeutral {
		out = append(out, "N-G")
	}
	return out
}

package field

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// landingSteps is the point of connection, landings with their torque, grounds,
// CTs and breakers, all still dead, up to the dead front.
func (g *generator) landingSteps() {
	if g.cond.MainSwap {
		g.mainSwap()
	}
	if g.tap != nil {
		g.tapSteps()
	}
	for _, b := range g.panels() {
		if g.lands(b) || b == g.service() && g.gridCTs() > 0 && g.tap == nil {
			g.existingPanel(b)
		}
	}
	for _, c := range g.collectors {
		g.landing(c)
	}
	for _, box := range g.plant.Job.JunctionBoxes {
		g.splice(box.ID, box.Name.Value)
	}
	g.separateBuildings()
	dead := func(id, name, place string) Step {
		s := step(id, name, BeforePower, place)
		s.StaysLive, s.Wear, s.Weather = g.beforePower(), wearHands(), say("weather.enclosure")
		return s
	}

	s := dead("eyes", "eyes", g.collectorPlace())
	s.Do = do("eyes", 5)
	s.Photos = 2
	s.Mark, s.Basis = Standard, "IEC 62446-1, 5.2; NFPA 70, 110.12"
	g.add(s)

	s = dead("torque", "torque", g.collectorPlace())
	s.Do = append(do("torque", 3), g.markedTorques()...)
	s.Expect = []Expect{exactly("terminals", say("measure.terminals"), g.torques)}
	s.Hold = noReason()
	s.Mark, s.Basis = Standard, "NFPA 70, 110.14(D), Informative Annex I"
	g.add(s)

	s = dead("ground-continuity", "ground_continuity", g.collectorPlace())
	s.Do = do("ground_continuity", 4)
	for _, r := range g.newRuns() {
		s.Expect = append(s.Expect, continuity(r.ID+":ground", say("measure.ground", "run", r.Name), "G-G", g.ground(r)))
	}
	for _, c := range g.collectors {
		s.Expect = append(s.Expect, Expect{ID: c.ID + ":neutral", What: say("measure.neutral_lifted", "bus", c.Name), Between: "N-G", Unit: "Ω",
			Stop: Band{Low: practice(quantity.Ohms(1000), "neutral not bonded here")}})
		s.Patterns = append(s.Patterns, neutralBonded(c.ID+":neutral"))
	}
	s.Mark, s.Basis = Standard, "IEC 60364-6; NFPA 70, 250.24(A)(5), 250.142(B); the limits are common practice"
	g.add(s)

	s = dead("cts", "cts", g.collectorPlace())
	s.StaysLive = append(s.StaysLive, say("live.grid_ct"))
	s.Do = append(do("cts", 4), g.channels()...)
	if n := len(g.plant.Job.Meter.Channels); n > 0 {
		s.Expect = []Expect{exactly("cts", say("measure.cts"), n)}
		s.Photos = n
	}
	s.Wear, s.Second = g.wearLive(), say("second.live")
	s.Hold = &Hold{EyesOnly: len(s.Expect) == 0, ReasonPasses: true}
	s.Mark = CommonPractice
	g.add(s)

	s = dead("breakers", "breakers", g.collectorPlace())
	s.Do = append(do("breakers", 3), g.breakerList()...)
	s.Mark, s.Basis = Standard, "NFPA 70, 408.36(D), 705.12, 110.9"
	g.add(s)

	s = dead("caps", "caps", g.roof())
	s.StaysLive = []Text{moduleLeads(), say("live.overhead")}
	s.Do = do("caps", 2)
	s.Wear, s.Weather, s.Second = wearRoof(), say("weather.roof"), say("second.roof")
	s.Hold = &Hold{EyesOnly: true}
	s.Mark = CommonPractice
	g.add(s)

	s = dead("dead-front", "dead_front", g.collectorPlace())
	s.Do = do("dead_front", 2)
	s.Mark, s.Basis = Standard, "NFPA 70E, 130.5"
	g.add(s)

	s = step("permission", "permission", BeforePower, "paper")
	s.StaysLive = g.beforePower()
	s.Do = do("permission", 3)
	s.Hold = &Hold{EyesOnly: true}
	s.Mark, s.Basis = Standard, "interconnection agreement; FERC SGIP, attachment 5"
	g.add(s)
}

// existingPanel is the hold of its own for work in a panel that was there: the
// main open, what stays live covered, before a PV breaker or a grid CT goes in.
func (g *generator) existingPanel(b *site.Bus) {
	s := step("existing-panel-"+b.ID, "existing_panel", BeforePower, b.ID+"/bus", "panel", b.Name)
	s.StaysLive = g.beforePower()
	if b == g.service() {
		s.StaysLive = append(s.StaysLive, say("live.grid_ct"))
	}
	switch {
	case b.Up != nil && b.Up.To != nil:
		s.Do = append(s.Do, say("do.existing_panel.feeder", "panel", b.Name, "up", b.Up.To.Name, "spaces", spaces(b.Up.Device)))
	case b.HasMain:
		s.Do = append(s.Do, say("do.existing_panel.main", "panel", b.Name))
	default:
		s.Do = append(s.Do, say("do.existing_panel.no_main", "panel", b.Name))
	}
	for _, src := range g.plant.Sources {
		if src.Bus == b {
			s.Do = append(s.Do, say("dead.source", "source", src.ID, "spaces", spaces(src.Breaker), "panel", b.Name))
		}
	}
	s.Do = append(s.Do, do("existing_panel", 3)...)
	for _, d := range b.Breakers {
		switch {
		case d.New:
			s.Do = append(s.Do, say("do.existing_panel.land", "rating", d.Rating.String(), "spaces", spaces(d)))
			s.Expect = append(s.Expect, g.landTorque(b.ID+"/"+d.Place(), d, working.Term{})...)
		case d.Moved:
			s.Do = append(s.Do, say("do.existing_panel.move", "name", d.Name, "spaces", spaces(d)))
		}
	}
	if b == g.service() && g.gridCTs() > 0 && g.tap == nil {
		s.Do = append(s.Do, say("do.existing_panel.cts"))
	}
	s.Do = append(s.Do, say("do.existing_panel.close"))
	absence := g.absence(b.ID, b.Name, true)
	s.Expect = append(absence, s.Expect...)
	s.Patterns = []Pattern{notDead(absence)}
	s.Wear, s.Second, s.Weather = g.wearLive(), say("second.live"), say("weather.enclosure")
	s.Hold = noReason()
	s.Photos = 2
	s.Mark, s.Basis = Standard, "NFPA 70E, 120.5; 29 CFR 1926.416(a)"
	g.add(s)
}

// landing is the terminals of a new combiner; an existing panel has its own hold.
func (g *generator) landing(c *site.Bus) {
	if !c.New {
		return
	}
	s := step("land-"+c.ID, "land", Build, c.ID, "bus", c.Name)
	s.StaysLive = g.beforePower()
	s.Do = do("land", 5)
	branch, lug := g.combinerTorque(c)
	for _, d := range c.Breakers {
		if d.Branch != nil {
			s.Do = append(s.Do, say("do.land.branch", "branch", d.Branch.ID, "spaces", spaces(d), "rating", d.Rating.String()))
			s.Expect = append(s.Expect, g.landTorque(d.Branch.ID, d, branch)...)
		}
	}
	for _, leg := range append(append([]string{}, g.legs...), "N") {
		s.Expect = append(s.Expect, g.torque(c.ID+"/lugs:"+leg, say("measure.torque_lug", "bus", c.Name, "leg", leg), lug))
	}
	s.Wear, s.Weather = wearHands(), say("weather.enclosure")
	s.Photos = 1
	s.Mark, s.Basis = Standard, "NFPA 70, 110.3(B), 110.14(D)"
	g.add(s)
}

// splice joins home run and trunk, after both have been tested apart.
func (g *generator) splice(id, name string) {
	s := step("splice-"+id, "splice", Build, id, "box", name)
	s.StaysLive = []Text{moduleLeads(), say("live.overhead")}
	s.Do = do("splice", 3)
	s.Wear, s.Weather, s.Second = wearRoof(), say("weather.roof"), say("second.roof")
	s.Photos = 1
	s.Mark, s.Basis = Standard, "NFPA 70, 110.14(B), 300.6, 314.16"
	g.add(s)
}

// landTorque is a torque reading for each leg of a breaker.
func (g *generator) landTorque(id string, d *site.Breaker, marked working.Term) []Expect {
	var out []Expect
	for _, leg := range g.legs[:min(len(g.legs), max(d.Poles, 1))] {
		out = append(out, g.torque(id+":"+leg, say("measure.torque", "breaker", id, "leg", leg), marked))
	}
	return out
}

// torque is the tightening of one terminal. With a marked value it must be met
// within what a tool in calibration gives; without, the value is recorded and
// the hold counts it.
func (g *generator) torque(id string, what Text, marked working.Term) Expect {
	g.torques++
	x := Expect{ID: id, What: what, Unit: "in-lb"}
	if marked.Known() {
		low, high := marked.Times(0.9), marked.Times(1.1) // common practice, from memory
		x.Value, x.Stop = &marked, Band{&low, &high}
	}
	return x
}

// combinerTorque is what the combiner's nameplate gives.
func (g *generator) combinerTorque(c *site.Bus) (branch, lug working.Term) {
	for _, d := range g.plant.Job.Combiners {
		for _, t := range g.plant.Job.Equipment.Combiners {
			if d.ID != c.ID || t.ID != d.Type {
				continue
			}
			if f := t.BranchTorque; f.Known {
				branch = working.Of(f.Value, "marked torque of a branch breaker", working.Origin{Kind: working.Given, At: f.At})
			}
			if f := t.LugTorque; f.Known {
				lug = working.Of(f.Value, "marked torque of the lugs", working.Origin{Kind: working.Given, At: f.At})
			}
		}
	}
	return branch, lug
}

// markedTorques lists the other terminations that the document gives.
func (g *generator) markedTorques() []Text {
	var out []Text
	for _, t := range g.plant.Job.Equipment.Terminations {
		value := "?"
		if t.Torque.Known {
			value = t.Torque.Value.Unit().Figure(t.Torque.Value.Float())
		}
		out = append(out, say("do.torque.marked", "name", t.Name.Value, "value", value))
	}
	return out
}

func (g *generator) gridCTs() int {
	n := 0
	for _, c := range g.plant.Job.Meter.Channels {
		if c.Measures.Value == "grid" {
			n++
		}
	}
	return n
}

// channels says where each CT sits and which way it looks.
func (g *generator) channels() []Text {
	var out []Text
	for _, c := range g.plant.Job.Meter.Channels {
		arrow := "?"
		if c.Arrow.Known {
			arrow = c.Arrow.Value
		}
		out = append(out, say("do.cts.channel", "channel", c.ID, "around", c.Around.Value, "leg", c.Leg.Value, "arrow", arrow))
	}
	return out
}

func (g *generator) breakerList() []Text {
	var out []Text
	for _, b := range g.plant.Buses {
		for _, d := range b.Breakers {
			if d.New && d != b.Gateway {
				out = append(out, say("do.breakers.one", "place", b.ID+"/"+d.Place(), "rating", d.Rating.String()))
			}
		}
	}
	return out
}

func (g *generator) roof() string {
	if len(g.plant.Job.Planes) > 0 {
		return g.plant.Job.Planes[0].ID
	}
	return "roof"
}

// separateBuildings is what a panel in another building wants.
func (g *generator) separateBuildings() {
	for _, b := range g.panels() {
		if b == g.service() {
			continue
		}
		name := "subpanel"
		if b.Building != "" {
			name = "building"
		}
		s := step("subpanel-"+b.ID, name, BeforePower, b.ID+"/bus", "panel", b.Name)
		s.StaysLive = g.beforePower()
		s.Do = do(name, 3)
		s.Wear, s.Weather = wearHands(), say("weather.enclosure")
		s.Hold = &Hold{EyesOnly: true}
		s.Mark, s.Basis = Standard, "NFPA 70, 250.32, 225.31, 250.142(B), 705.10"
		g.add(s)
	}
}

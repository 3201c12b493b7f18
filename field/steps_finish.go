package field

import (
	"legwork/quantity"
	"legwork/site"
)

// functionSteps is the loss of mains, the return and rapid shutdown.
func (g *generator) functionSteps() {
	all := g.withBranches(g.plant.Branches)
	s := step("loss-of-mains", "loss_of_mains", Function, g.outputPlace())
	s.StaysLive = append(all, say("live.line_side_of_opened"))
	s.Do = do("loss_of_mains", 4)
	if g.output() == nil {
		s.Do[0] = say("do.loss_of_mains.branches")
	}
	s.Expect = []Expect{
		atMost("production", say("measure.amps_gone"), "", nil, practice(quantity.Amps(0.1), "zero on the display")),
		atMost("volts", say("measure.volts_gone"), "L1-L2", nil, practice(quantity.Volts(30), "gone within 2 s")),
	}
	s.Patterns = []Pattern{staysOn()}
	s.Wear, s.Second = g.wearLive(), say("second.live")
	s.Hold = noReason()
	s.Mark, s.Basis = Standard, "IEEE 1547-2018, 8.1, 11.2.5; IEC 62446-1, 6.6"
	g.add(s)

	s = step("return", "return", Function, g.outputPlace(), "delay", g.cond.Agreement.Delay.String())
	s.StaysLive = all
	s.Do = do("return", 3)
	value, look, stop := g.delayBand()
	high := g.ofNominal(g.cond.Agreement.High)
	s.Expect = []Expect{{ID: "delay", What: say("measure.first_output"), Unit: "s", Value: value, Look: look, Stop: stop},
		atMost("volts", say("measure.return_volts"), "L1-L2", &high, nil)}
	s.Wait = g.reentry()
	s.Wear, s.Second = g.wearLive(), say("second.live")
	s.Patterns = []Pattern{tooSoon(stop), noOutput(stop)}
	s.Mark, s.Basis = Standard, "IEEE 1547-2018, 4.10.3; the limits beside the delay are common practice"
	g.add(s)

	s = step("rapid-shutdown", "rapid_shutdown", Function, g.roof())
	s.StaysLive = []Text{moduleLeads(), say("live.line_side_of_opened")}
	s.Do = do("rapid_shutdown", 3)
	s.Expect = []Expect{atMost("volts", say("measure.shutdown_volts"), "L1-L2", nil, clause(quantity.Volts(30), "within 30 s outside the array", "690.12"))}
	s.Patterns = []Pattern{staysOn()}
	s.Wear, s.Second = g.wearLive(), say("second.live")
	s.Mark, s.Basis = Standard, "NFPA 70, 690.12"
	g.add(s)
}

// output is the device that opens the PV and nothing else; nil where branches
// land in a panel that feeds loads too.
func (g *generator) output() *device {
	for i := range g.chain {
		if g.chain[i].feeds.Kind == site.CombinerBus {
			return &g.chain[i]
		}
	}
	return nil
}

func (g *generator) outputPlace() string {
	if d := g.output(); d != nil {
		return d.place
	}
	return g.collectorPlace()
}

// finishSteps counts, looks, labels and leaves the plant as the utility allows.
func (g *generator) finishSteps() {
	all := g.withBranches(g.plant.Branches)
	n := len(g.plant.Units)
	for _, src := range g.plant.Sources {
		s := step("existing-"+src.ID, "existing", Finish, src.Bus.ID+"/"+src.Breaker.Place(), "source", src.ID, "spaces", spaces(src.Breaker), "panel", src.Bus.Name)
		s.StaysLive = all
		s.Do = do("existing", 3)
		full := src.Current.Term()
		high := full.Times(1.2)
		s.Expect = []Expect{{ID: "amps", What: say("measure.existing_amps", "source", src.ID), Unit: "A", Value: &full, Stop: Band{High: &high}}}
		s.Wear, s.Second = g.wearLive(), say("second.live")
		s.Hold = &Hold{ReasonPasses: true}
		s.Mark = CommonPractice
		g.add(s)
	}

	s := step("count", "count", Finish, g.roof(), "units", number(n))
	s.StaysLive = all
	s.Do = do("count", 2)
	x := exactly("reporting", say("measure.reporting"), n)
	x.Look.Low, x.Stop.Low = x.Stop.Low, practice(quantity.Count(n-1), "one missing is looked for, two stop")
	s.Expect = []Expect{x, {ID: "worst", What: say("measure.worst_unit"), Unit: "%", Look: Band{Low: practice(quantity.Percent(85), "of its neighbors")}}}
	s.Patterns = []Pattern{oneMissing(n)}
	s.Mark = CommonPractice
	g.add(s)

	s = step("thermal", "thermal", Finish, g.collectorPlace())
	s.StaysLive = all
	s.Do = do("thermal", 2)
	s.Expect = []Expect{atMost("warmer", say("measure.warmer"), "", practice(quantity.Celsius(5), "difference to similar"), practice(quantity.Celsius(15), "difference to similar"))}
	s.Patterns = []Pattern{hotTerminal()}
	s.Wear, s.Second = g.wearLive(), say("second.live")
	s.Mark, s.Basis = CommonPractice, "thermography practice"
	g.add(s)

	s = step("labels", "labels", Finish, g.servicePlace())
	s.StaysLive = all
	s.Do = do("labels", 3)
	s.Photos = 3
	s.Hold = &Hold{EyesOnly: true, ReasonPasses: true}
	s.Mark, s.Basis = Standard, "NFPA 70, 408.4, 690, 705.10, 110.21(B)"
	g.add(s)

	s = step("lock-open", "lock_open", Finish, g.outputPlace())
	s.StaysLive = all
	s.Do = do("lock_open", 3)
	if g.output() == nil {
		s.Do[0] = say("do.lock_open.branches")
	}
	s.Photos = 1
	s.Hold = &Hold{EyesOnly: true}
	s.Mark, s.Basis = Standard, "interconnection agreement"
	g.add(s)

	s = step("utility-meter", "utility_meter", AfterPermission, "service")
	s.StaysLive = all
	s.Do = do("utility_meter", 2)
	s.Photos = 2
	s.Hold = &Hold{EyesOnly: true, ReasonPasses: true}
	s.Mark, s.Basis = CommonPractice, "the utility's own rules"
	g.add(s)

	s = step("start-readings", "start_readings", AfterPermission, "service")
	s.StaysLive = all
	s.Do = do("start_readings", 2)
	s.Photos = 2
	s.Mark, s.Basis = CommonPractice, "a state program's study of 700 metered systems, 2010"
	g.add(s)
}

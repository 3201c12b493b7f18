package field

import (
	"legwork/quantity"
	"legwork/working"
)

// utilitySteps brings the way up from the utility side, device by device, with
// every branch open.
func (g *generator) utilitySteps() {
	s := step("service-voltage", "service_voltage", UtilitySide, g.servicePlace(), "panel", g.serviceName())
	s.StaysLive = g.withPower(0)
	s.Do = do("service_voltage", 2)
	s.Expect = append(g.volts(""), atMost("N-G", say("measure.volts", "at", g.servicePlace()), "N-G",
		practice(quantity.Volts(2), "neutral to ground"), practice(quantity.Volts(5), "neutral to ground")))
	s.Patterns = append(g.voltPatterns(""), g.reentryHigh(""))
	s.Wear, s.Second, s.Weather = g.wearLive(), say("second.live"), say("weather.enclosure")
	s.Hold = noReason()
	s.Mark, s.Basis = Standard, "ANSI C84.1, table 1; IEEE 1547-2018, table 4; neutral to ground is common practice"
	g.add(s)

	s = step("service-load", "service_load", UtilitySide, g.servicePlace())
	s.StaysLive = g.withPower(0)
	s.Do = do("service_load", 3)
	for _, leg := range g.legs {
		s.Expect = append(s.Expect,
			atMost(leg+":fall", say("measure.fall", "leg", leg), leg+"-N", nil, practice(quantity.Percent(3), "fall under 1.5 kW")),
			atMost(leg+":others", say("measure.other_rise", "leg", leg), "", practice(quantity.Percent(1.5), "rise of the other leg"), nil))
	}
	s.Patterns = []Pattern{looseNeutral(g.legs)}
	s.Wear, s.Second = g.wearLive(), say("second.live")
	s.Mark = CommonPractice
	g.add(s)

	for i, d := range g.chain {
		var s Step
		switch {
		case d.on == nil:
			s = step("close-"+d.place, "close_disconnect", UtilitySide, d.place, "name", d.name)
		case d.breaker == nil:
			s = step("close-"+d.on.ID+"-main", "close_main", UtilitySide, d.place, "panel", d.on.Name)
		default:
			s = step("close-"+d.on.ID+"-"+d.breaker.Place(), "close_breaker", UtilitySide, d.place,
				"rating", d.breaker.Rating.String(), "spaces", spaces(d.breaker), "panel", d.on.Name)
		}
		g.closing(s, i, d.feeds.Name)
		if i == 0 { // between the first device and what it feeds
			g.switches(i)
		}
	}

	s = step("gateway", "gateway", UtilitySide, g.collectorPlace())
	if rating := g.gatewayRating(); rating != "" {
		s.Title = say("step.gateway_breaker", "rating", rating)
	}
	s.StaysLive = g.withPower(len(g.chain))
	s.Do = do("gateway", 2)
	s.Mark = CommonPractice
	g.add(s)
}

// switches are load-side disconnects, which the document names but puts in no
// circuit.
func (g *generator) switches(i int) {
	for _, d := range g.plant.Job.Disconnects {
		if d.Existing.Value || g.tap != nil && g.tap.Disconnect != nil && g.tap.Disconnect.ID == d.ID {
			continue
		}
		g.closing(step("close-"+d.ID, "close_disconnect", UtilitySide, d.ID, "name", d.Name.Value), i, d.Name.Value)
	}
}

// closing adds the hold of closing one device and measuring behind it.
func (g *generator) closing(s Step, closed int, behind string) {
	s.StaysLive = g.withPower(closed)
	s.Do = []Text{say("do.close.1"), say("do.close.2"), say("do.close.3", "at", behind)}
	s.Expect = append(g.volts(""), g.toGround()...)
	s.Expect = append(s.Expect, atMost("change", say("measure.change"), "", practice(quantity.Volts(1), "against the service voltage"), nil))
	s.Patterns = append(g.voltPatterns(""), g.reentryHigh(""))
	s.Wear, s.Second, s.Weather = g.wearLive(), say("second.live"), say("weather.enclosure")
	s.Hold = noReason()
	s.Mark, s.Basis = CommonPractice, "order of closing: common practice; polarity: IEC 62446-1; limits: ANSI C84.1, table 1"
	g.add(s)
}

func (g *generator) gatewayRating() string {
	for _, c := range g.collectors {
		if c.Gateway != nil {
			return c.Gateway.Rating.String()
		}
	}
	return ""
}

// volts are the readings of a live bus: each leg to neutral, and legs to legs.
func (g *generator) volts(prefix string) []Expect {
	var out []Expect
	for _, leg := range g.legs {
		value, look, stop := g.serviceLimits(120)
		out = append(out, Expect{ID: prefix + leg + "-N", What: say("measure.leg_to_neutral"), Between: leg + "-N", Unit: "V", Value: value, Look: look, Stop: stop})
	}
	for _, pair := range g.legPairs() {
		value, look, stop := g.serviceLimits(g.plant.Nominal.Or(240))
		out = append(out, Expect{ID: prefix + pair, What: say("measure.leg_to_leg"), Between: pair, Unit: "V", Value: value, Look: look, Stop: stop})
	}
	return out
}

// toGround is each leg to ground, with the limits of leg to neutral.
func (g *generator) toGround() []Expect {
	var out []Expect
	for _, leg := range g.legs {
		value, look, stop := g.serviceLimits(120)
		out = append(out, Expect{ID: leg + "-G", What: say("measure.leg_to_ground"), Between: leg + "-G", Unit: "V", Value: value, Look: look, Stop: stop})
	}
	return out
}

// reentry is the running clock of the delay with its voltage window.
func (g *generator) reentry() *Reconnect {
	a := g.cond.Agreement
	return &Reconnect{Wait: a.Delay.Term(), Low: g.ofNominal(a.Low), High: g.ofNominal(a.High)}
}

// delayBand judges a measured delay: 60, 270, 300, 600 and 900 s for the
// default of 300 s.
func (g *generator) delayBand() (value *working.Term, look, stop Band) {
	d := g.cond.Agreement.Delay.Term()
	lookLow, stopLow := d.Times(0.9), d.Times(0.2)
	lookHigh := d.Plus(*practice(quantity.Seconds(300), "start-up"))
	stopHigh := d.Plus(*practice(quantity.Seconds(600), "start-up in sun"))
	return &d, Band{&lookLow, &lookHigh}, Band{&stopLow, &stopHigh}
}

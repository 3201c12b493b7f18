package field

import (
	"math"
	"strings"

	"legwork/site"
)

// cause names an explanation "cause.NAME" with its test "test.NAME".
func cause(name string, inside bool) Cause {
	return Cause{Means: say("cause." + name), Test: say("test." + name), Inside: inside}
}

func pattern(id string, when Picture, causes ...Cause) Pattern {
	p := Pattern{ID: id, Seen: say("pattern." + strings.ReplaceAll(id, "-", "_")), Causes: causes}
	if len(when) > 0 {
		p.When = []Picture{when}
	}
	return p
}

// or adds another picture that means the same.
func (p Pattern) or(when Picture) Pattern {
	p.When = append(p.When, when)
	return p
}

// orAny adds a picture for each reading that alone lies from low to high.
func (p Pattern) orAny(readings []Expect, low, high float64) Pattern {
	for _, x := range readings {
		p = p.or(Picture{{x.ID, low, high}})
	}
	return p
}

// huge stands for no upper end.
const huge = math.MaxFloat64

// voltPatterns are the wrong pictures of a live bus. What they stand on is
// arithmetic of a center-tapped winding and of a wye, and common practice.
func (g *generator) voltPatterns(prefix string) []Pattern {
	at := func(id string, low, high float64) Range { return Range{prefix + id, low, high} }
	const l1, l2, ll = "L1-N", "L2-N", "L1-L2"
	out := []Pattern{
		pattern("one-leg-twice", Picture{at(l1, 100, 135), at(l2, 100, 135), at(ll, 0, 20)},
			cause("open_pole", true), cause("both_on_one_leg", true)),
		pattern("leg-dead", Picture{at(l1, 100, 135), at(l2, 0, 90), at(ll, 0, 190)},
			cause("pole_not_seated", true), cause("pole_on_neutral", true), cause("leg_lost_upstream", false)).
			or(Picture{at(l1, 0, 90), at(l2, 100, 135), at(ll, 0, 190)}),
		pattern("neutral-missing", Picture{at(l1, 0, 109.9), at(l2, 127.1, 260), at(ll, 215, 260)},
			cause("neutral_open", true), cause("neutral_utility", false)).
			or(Picture{at(l2, 0, 109.9), at(l1, 127.1, 260), at(ll, 215, 260)}),
		pattern("all-dead", Picture{at(l1, 0, 20), at(l2, 0, 20), at(ll, 0, 20)},
			cause("device_open", false), cause("not_seated", true), cause("line_side_dead", false)),
	}
	if g.wye() {
		return append(out, pattern("not-wye", Picture{at(ll, 228, 254)}, cause("split_phase", false), cause("high_leg", false)))
	}
	return append(out, pattern("wye", Picture{at(ll, 191, 219)}, cause("wye_service", false), cause("low_service", false)))
}

// reentryHigh is a service that lies above the window of units that wait.
func (g *generator) reentryHigh(prefix string) Pattern {
	a := g.cond.Agreement
	low := g.ofNominal(a.High)
	var when Picture
	if low.Known() {
		when = append(when, Range{prefix + "L1-L2", low.Float() + 0.01, g.ofNominal(a.Trip).Float()})
	}
	return pattern("reentry", when, cause("service_high", false), cause("reading_high", false))
}

func notDead(absence []Expect) Pattern {
	return pattern("not-dead", nil, cause("ghost", false), cause("another_source", false), cause("wrong_device", false), cause("neutral_current", false)).
		orAny(absence, 3.001, huge)
}

func lowInsulation(readings []Expect) Pattern {
	return pattern("low-insulation", nil, cause("end_not_free", false), cause("nicked", true), cause("wet_joint", true)).
		orAny(readings, 0, 99.99e6)
}

func identityPatterns(branches []*site.Branch) []Pattern {
	none := pattern("none-shows", nil, cause("open_splice", true), cause("wrong_jumper", false), cause("branches_crossed", true))
	two := pattern("two-show", nil, cause("jumper_left", true), cause("two_spliced", true), cause("units_plugged", false))
	for _, b := range branches {
		none = none.or(Picture{{b.ID + ":loop", 10, huge}})
		two = two.or(Picture{{b.ID + ":others", 1, huge}})
	}
	return []Pattern{none, two}
}

func neutralBonded(reading string) Pattern {
	return pattern("neutral-bonded", Picture{{reading, 0, 999}}, cause("bonding_screw", true), cause("neutral_on_ground_bar", true), cause("neutral_not_lifted", false))
}

func looseNeutral(legs []string) Pattern {
	p := pattern("loose-neutral", nil, cause("neutral_utility", false), cause("long_cord", false), cause("small_service", false))
	for _, leg := range legs {
		p = p.or(Picture{{leg + ":fall", 3.001, huge}})
	}
	return p
}

// noise is what a channel may show of nothing, W. Common practice.
const noise = 30

func gridNegative(legs []string) Pattern {
	return pattern("grid-negative", Picture{{"grid:" + legs[0], -huge, -noise}}, cause("ct_turned", true), cause("ct_other_leg", true), cause("source_on", false)).
		or(Picture{{"grid:" + legs[1], -huge, -noise}})
}

func productionEnclosesLoad() Pattern {
	return pattern("production-not-zero", Picture{{"production", noise + 0.001, huge}}, cause("ct_around_loads", true), cause("branch_not_open", false)).
		or(Picture{{"production", -huge, -noise - 0.001}})
}

func swappedLegs(legs []string) Pattern {
	return pattern("swapped-legs", Picture{{legs[0] + ":own", -500, 500}}, cause("ct_swapped", true), cause("outlet_other_leg", false), cause("legs_crossed", true)).
		or(Picture{{legs[1] + ":own", -500, 500}})
}

func branchPatterns(standby float64) []Pattern {
	return []Pattern{
		pattern("branch-one-leg", Picture{{"load:1-G", 100, 135}, {"load:2-G", 100, 135}, {"load:L-L", 0, 20}}, cause("open_pole", true), cause("both_on_one_leg", true)),
		pattern("branch-dead", Picture{{"load:1-G", 0, 20}, {"load:2-G", 0, 20}, {"load:L-L", 0, 20}}, cause("breaker_off", false), cause("not_seated", true)),
		pattern("branch-leg-dead", Picture{{"load:1-G", 100, 135}, {"load:2-G", 0, 90}}, cause("pole_not_seated", true), cause("wire_on_ground", true)).
			or(Picture{{"load:2-G", 100, 135}, {"load:1-G", 0, 90}}),
		pattern("branch-current", Picture{{"wire1", standby + 0.001, huge}}, cause("short", true), cause("crossed_neutral", true), cause("already_output", false)).
			or(Picture{{"wire2", standby + 0.001, huge}}),
	}
}

func tripped() Pattern {
	return pattern("branch-trips", nil, cause("short", true), cause("crossed_neutral", true))
}

func tooSoon(stop Band) Pattern {
	var when Picture
	if stop.Low.Known() {
		when = Picture{{"delay", 0, stop.Low.Float() - 0.001}}
	}
	return pattern("too-soon", when, cause("wrong_profile", false), cause("clock_late", false))
}

func noOutput(stop Band) Pattern {
	var when Picture
	if stop.High.Known() {
		when = Picture{{"delay", stop.High.Float() + 0.001, huge}}
	}
	return pattern("no-output", when, cause("reentry_window", false), cause("profile_missing", false), cause("no_light", false),
		cause("branch_open_pole", true), cause("connector_not_seated", false), cause("frequency", false))
}

func outputPatterns() []Pattern {
	return []Pattern{
		pattern("legs-differ", Picture{{"difference", 0.201, huge}}, cause("leakage", true), cause("clamp", false), cause("neutral_used", true)),
		pattern("grid-still", Picture{{"grid", -20, 19.9}}, cause("ct_below_tap", true), cause("ct_two_on_leg", true)),
		pattern("grid-rises", Picture{{"grid", -huge, -20.001}}, cause("ct_turned", true), cause("ct_other_leg", true)),
		pattern("production-negative", Picture{{"production", -huge, -1}}, cause("production_turned", true), cause("production_swapped", true)),
	}
}

func addsNothing() Pattern {
	return pattern("does-not-add", Picture{{"share", -huge, 79.99}}, cause("branch_outside_ct", true), cause("branch_crossed", true), cause("cloud", false))
}

func riseHigh() Pattern {
	return pattern("rise-high", nil, cause("utility_part", false), cause("loose_joint", true), cause("thin_wire", false))
}

func staysOn() Pattern {
	return pattern("stays-on", Picture{{"volts", 30.001, huge}}, cause("opened_other", false), cause("another_source", false), cause("ghost", false))
}

func oneMissing(n int) Pattern {
	return pattern("one-missing", Picture{{"reporting", 0, float64(n) - 1}}, cause("connector_not_seated", false), cause("serial_not_listed", false), cause("unit_dead", false))
}

func hotTerminal() Pattern {
	return pattern("hot-terminal", Picture{{"warmer", 5.001, huge}}, cause("loose_terminal", true), cause("more_current", false), cause("shiny", false))
}

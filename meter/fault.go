package meter

import "fmt"

// Fault is one wiring mistake with its name, what the hand has to do, and how it
// alters a wiring that was right.
type Fault struct {
	Name string
	Cure string
	// Cause is shared by mistakes that come from one misunderstanding: whoever
	// misreads one arrow misreads two.
	Cause string
	slots slot
	order int // position first, then direction, core, reference
	alter func(*Wiring)
}

// slot is a property of a channel or a conductor that one mistake can claim.
type slot uint64

const (
	position = iota
	direction
	core
	reference
	properties
)

// ofChannel is a property of channel c, counted G1, G2, P1, P2.
func ofChannel(c, property int) slot { return 1 << (c*properties + property) }

// ofBranch is the way of the conductors of branch b, from 1.
func ofBranch(b int) slot { return 1 << (4*properties + b) }

// Apart reports whether two faults can be there at once: they claim nothing in
// common.
func (f Fault) Apart(g Fault) bool { return f.slots&g.slots == 0 }

// With puts faults into a wiring. Order does not matter.
func (w *Wiring) With(faults ...Fault) *Wiring {
	for order := range properties {
		for _, f := range faults {
			if f.order == order && f.alter != nil {
				f.alter(w)
			}
		}
	}
	return w
}

// Jaw is the gap of a CT that is not closed, as gain and lead in degrees.
//
// Source: circuit simulation of a toroid with a gap, metering reference sections
// 2 and 4: open, gain 0.6 to 0.85 and lead 25° to 50°; not latched, gain 0.95 to
// 0.99 and lead 5° to 16°.
type Jaw struct{ Gain, Lead float64 }

// The middle of the two ranges.
var (
	OpenJaw    = Jaw{0.72, 33}
	NotLatched = Jaw{0.96, 10}
)

func turn(ps []Pass) {
	for i := range ps {
		ps[i].Turns = -ps[i].Turns
	}
}

func other(n Node) Node { return L1 + L2 - n }

// single lists the mistakes of one grid channel, 0 or 1.
func single(c int) []Fault {
	ch, own := c+1, L1+Node(c)
	oth := other(own)
	g := fmt.Sprintf("g%d", ch)
	put := func(passes ...Pass) func(*Wiring) {
		return func(w *Wiring) { w.Grid[c].Passes = append([]Pass(nil), passes...) }
	}
	add := func(sign float64) func(*Wiring) {
		return func(w *Wiring) {
			p := &w.Grid[c].Passes
			*p = append(*p, Pass{Conductor{Part: Output, Node: own}, sign})
		}
	}
	gain := func(x, lead float64) func(*Wiring) {
		return func(w *Wiring) { w.Grid[c].Gain, w.Grid[c].Lead = x, lead }
	}
	ref := func(a Across) func(*Wiring) { return func(w *Wiring) { w.Grid[c].Ref = a } }
	s := func(p Part, n Node, turns float64) Pass { return Pass{Conductor{Part: p, Node: n}, turns} }
	pos, dir, cor, rf := ofChannel(c, position), ofChannel(c, direction), ofChannel(c, core), ofChannel(c, reference)
	say := func(format string) string { return fmt.Sprintf(format, ch, own, oth) }
	return []Fault{
		{g + "_reversed", say("turn the grid CT of channel %[1]d (on L%[2]d) round: its arrow points the wrong way"), "arrow", dir, direction, func(w *Wiring) { turn(w.Grid[c].Passes) }},
		{fmt.Sprintf("both_on_L%d", oth), say("move the CT of channel %[1]d from L%[3]d to L%[2]d"), "leg", pos, position, put(s(Service, oth, 1))},
		{g + "_around_both_legs", say("take the L%[3]d conductor out of the window of the channel %[1]d CT"), "", pos, position, put(s(Service, own, 1), s(Service, oth, 1))},
		{g + "_around_both_legs_opposed", say("take the L%[3]d conductor out of the window of the channel %[1]d CT (it passes the other way)"), "", pos, position, put(s(Service, own, 1), s(Service, oth, -1))},
		{g + "_on_neutral", say("move the channel %[1]d CT from the neutral to L%[2]d"), "", pos, position, put(s(Service, N, 1))},
		{g + "_load_side", say("move the channel %[1]d CT to the utility side of the point where PV connects"), "side", pos, position, put(s(House, own, 1))},
		{g + "_on_pv_output_facing_panel", say("the channel %[1]d CT sits on the PV output conductor: move it to the service conductor L%[2]d"), "side", pos, position, put(s(Output, own, 1))},
		{g + "_on_pv_output_facing_pv", say("the channel %[1]d CT sits on the PV output conductor: move it to the service conductor L%[2]d"), "side", pos, position, put(s(Output, own, -1))},
		{g + "_pv_also_same_way", say("take the PV output conductor out of the window of the channel %[1]d CT"), "side", pos, position, add(1)},
		{g + "_pv_also_opposed", say("take the PV output conductor out of the window of the channel %[1]d CT"), "side", pos, position, add(-1)},
		{g + "_dead", say("channel %[1]d CT gives nothing: check plug, lead, and that a conductor passes it"), "", cor, core, gain(0, 0)},
		{fmt.Sprintf("ratio_half_g%d", ch), say("channel %[1]d reads half: ratio wrong or only one of two parallel conductors in the window"), "ratio", cor, core, gain(.5, 0)},
		{g + "_half_parallel", say("put both parallel conductors of L%[2]d through the window of channel %[1]d, the same way"), "", cor, core, gain(.5, 0)},
		{fmt.Sprintf("ratio_double_g%d", ch), say("channel %[1]d reads double: ratio wrong or conductor looped twice"), "ratio", cor, core, gain(2, 0)},
		{g + "_open_clamp", say("close the jaw of the channel %[1]d CT"), "", cor, core, gain(OpenJaw.Gain, OpenJaw.Lead)},
		{g + "_not_latched", say("the channel %[1]d CT is not fully latched (dirt or gap): clean and latch"), "", cor, core, gain(NotLatched.Gain, NotLatched.Lead)},
		{fmt.Sprintf("both_vrefs_L%d", oth), say("move the voltage lead of channel %[1]d from L%[3]d to L%[2]d"), "reference", rf, reference, ref(Across{oth, N})},
		{fmt.Sprintf("v%d_missing", ch), say("channel %[1]d has no voltage: find the open voltage lead or fuse"), "", rf, reference, ref(Across{})},
	}
}

// GridFaults lists the mistakes of the two grid channels of a house.
func GridFaults() []Fault {
	out := append(single(0), single(1)...)
	two := func(name, cure, cause string, order int, alter func(*Wiring)) {
		out = append(out, Fault{name, cure, cause, ofChannel(0, order) | ofChannel(1, order), order, alter})
	}
	legs := func(part Part, sign float64) func(*Wiring) {
		return func(w *Wiring) {
			for c, n := range []Node{L1, L2} {
				w.Grid[c].Passes = []Pass{{Conductor{Part: part, Node: n}, sign}}
			}
		}
	}
	also := func(sign float64) func(*Wiring) {
		return func(w *Wiring) {
			for c, n := range []Node{L1, L2} {
				w.Grid[c].Passes = append(w.Grid[c].Passes, Pass{Conductor{Part: Output, Node: n}, sign})
			}
		}
	}
	gain := func(g float64) func(*Wiring) {
		return func(w *Wiring) { w.Grid[0].Gain, w.Grid[1].Gain = g, g }
	}
	refs := func(a, b Across) func(*Wiring) {
		return func(w *Wiring) { w.Grid[0].Ref, w.Grid[1].Ref = a, b }
	}
	bothIn := func(c int, sign float64) func(*Wiring) {
		return func(w *Wiring) {
			own := L1 + Node(c)
			w.Grid[c].Passes = []Pass{{Conductor{Part: Service, Node: own}, 1}, {Conductor{Part: Service, Node: other(own)}, sign}}
			w.Grid[1-c].Passes = nil
		}
	}
	two("both_reversed", "turn both grid CTs round, so that their arrows point the planned way; if the CTs face right, look for swapped voltage leads instead", "arrow", direction, func(w *Wiring) { turn(w.Grid[0].Passes); turn(w.Grid[1].Passes) })
	two("cts_swapped", "exchange the two grid CTs between the legs (the CT of channel 1 sits on L2 and the other way round), arrows unchanged", "leg", position, func(w *Wiring) {
		w.Grid[0].Passes, w.Grid[1].Passes = w.Grid[1].Passes, w.Grid[0].Passes
	})
	two("load_side", "move both grid CTs to the utility side of the point where PV connects (they now see house load only)", "side", position, legs(House, 1))
	two("on_pv_output_facing_panel", "the grid CTs sit on the PV output conductors: move them to the service conductors", "side", position, legs(Output, 1))
	two("on_pv_output_facing_pv", "the grid CTs sit on the PV output conductors: move them to the service conductors", "side", position, legs(Output, -1))
	two("pv_conductors_also_in_windows_same_way", "take the PV output conductors out of the grid CT windows", "side", position, also(1))
	two("pv_conductors_also_in_windows_opposed", "take the PV output conductors out of the grid CT windows", "side", position, also(-1))
	for c := range 2 {
		own, oth := c+1, 2-c
		two(fmt.Sprintf("both_legs_in_g%d_g%d_empty", own, oth), fmt.Sprintf("both service conductors pass the channel %d CT and none the channel %d CT: put L%d through channel %[2]d", own, oth, oth), "", position, bothIn(c, 1))
		two(fmt.Sprintf("both_legs_opposed_in_g%d_g%d_empty", own, oth), fmt.Sprintf("both service conductors pass the channel %d CT (one turned) and none the channel %d CT: put L%d through channel %[2]d", own, oth, oth), "", position, bothIn(c, -1))
	}
	two("both_dead", "neither grid CT gives anything: check plugs and that CTs are enabled in the meter", "", core, gain(0))
	two("ratio_half_both", "CT ratio set to half of the CT rating: double it", "ratio", core, gain(.5))
	two("ratio_double_both", "CT ratio set to twice the CT rating: halve it", "ratio", core, gain(2))
	two("ratio_quarter_both", "CT ratio set to a quarter of the CT rating: set the rating", "ratio", core, gain(.25))
	two("vrefs_swapped", "exchange the two voltage leads at the meter", "reference", reference, refs(OnL2, OnL1))
	two("vrefs_L1L2", "the meter is set for line-to-line voltage where it should use line-to-neutral (readings doubled)", "reference", reference, refs(OnL12, OnL21))
	out = append(out, Fault{"channels_exchanged", "names only: channel 1 is L2 and channel 2 is L1", "leg",
		ofChannel(0, position) | ofChannel(1, position) | ofChannel(0, reference) | ofChannel(1, reference), position,
		func(w *Wiring) { w.Grid[0], w.Grid[1] = w.Grid[1], w.Grid[0] }})
	return out
}

package meter

import "fmt"

// ProductionFaults lists the mistakes of the production channels: of the windows,
// and of the conductors of each branch.
func ProductionFaults(windows, branches int) []Fault {
	var out []Fault
	if windows == 0 {
		return out
	}
	if windows == 1 {
		out = oneWindow()
		for b := 1; b <= branches; b++ {
			out = append(out, branchInOne(b)...)
		}
		return out
	}
	out = twoWindows()
	for b := 1; b <= branches; b++ {
		out = append(out, branchInTwo(b)...)
	}
	return out
}

func prodGain(g, lead float64, channels ...int) func(*Wiring) {
	return func(w *Wiring) {
		for _, c := range channels {
			w.Prod[c].Gain, w.Prod[c].Lead = g, lead
		}
	}
}

func prodTurn(channels ...int) func(*Wiring) {
	return func(w *Wiring) {
		for _, c := range channels {
			turn(w.Prod[c].Passes)
		}
	}
}

func prodRef(refs ...Across) func(*Wiring) {
	return func(w *Wiring) {
		for i, a := range refs {
			w.Prod[i].Ref = a
		}
	}
}

func enclose(w *Wiring) {
	for i := range w.Prod {
		leg := L1 + Node(i)
		w.Prod[i].Passes = append(w.Prod[i].Passes, Pass{Conductor{Part: House, Node: leg}, -1})
	}
}

// ofWindow is a property of a production window, 0 or 1.
func ofWindow(c, property int) slot { return ofChannel(2+c, property) }

func window(c int) []Fault {
	w := fmt.Sprintf("w%d", c+1)
	return []Fault{
		{w + "_reversed", fmt.Sprintf("turn window %d (CT) round: its arrow points the wrong way", c+1), "arrow", ofWindow(c, direction), direction, prodTurn(c)},
		{w + "_dead", fmt.Sprintf("production window %d gives nothing: check plug and lead", c+1), "", ofWindow(c, core), core, prodGain(0, 0, c)},
		{w + "_open_clamp", fmt.Sprintf("close the jaw of production CT %d", c+1), "", ofWindow(c, core), core, prodGain(OpenJaw.Gain, OpenJaw.Lead, c)},
		{w + "_not_latched", fmt.Sprintf("production CT %d is not fully latched (dirt or gap): clean and latch", c+1), "", ofWindow(c, core), core, prodGain(NotLatched.Gain, NotLatched.Lead, c)},
	}
}

func oneWindow() []Fault {
	ref := ofWindow(0, reference)
	return append(window(0),
		Fault{"ratio_half", "production CT ratio set to half: double it", "ratio", ofWindow(0, core), core, prodGain(.5, 0, 0)},
		Fault{"ratio_double", "production CT ratio set to double: halve it", "ratio", ofWindow(0, core), core, prodGain(2, 0, 0)},
		Fault{"vref_L1N", "production channel is referred to L1-N where it should use L1-L2 (reads half): set it to both legs", "reference", ref, reference, prodRef(OnL1)},
		Fault{"vref_reversed", "exchange the voltage leads of the production channel", "reference", ref, reference, prodRef(OnL21)},
		Fault{"vref_missing", "production channel has no voltage: find the open voltage lead or fuse", "", ref, reference, prodRef(Across{})},
		Fault{"around_loads", "the production window encloses house loads too: put only the PV conductors through it", "side", ofWindow(0, position), position, enclose},
	)
}

func twoWindows() []Fault {
	out := append(window(0), window(1)...)
	two := func(name, cure, cause string, order int, alter func(*Wiring)) {
		out = append(out, Fault{name, cure, cause, ofWindow(0, order) | ofWindow(1, order), order, alter})
	}
	for c := range 2 {
		out = append(out,
			Fault{fmt.Sprintf("w%d_ratio_half", c+1), fmt.Sprintf("production channel %d reads half: set its ratio", c+1), "ratio", ofWindow(c, core), core, prodGain(.5, 0, c)},
			Fault{fmt.Sprintf("w%d_ratio_double", c+1), fmt.Sprintf("production channel %d reads double: set its ratio", c+1), "ratio", ofWindow(c, core), core, prodGain(2, 0, c)},
			Fault{fmt.Sprintf("v%d_missing", c+1), fmt.Sprintf("production channel %d has no voltage: find the open voltage lead or fuse", c+1), "", ofWindow(c, reference), reference, func(w *Wiring) { w.Prod[c].Ref = Across{} }})
	}
	two("both_windows_reversed", "turn both production CTs round", "arrow", direction, prodTurn(0, 1))
	two("windows_swapped", "exchange the two production CTs between the legs, arrows unchanged", "leg", position, func(w *Wiring) {
		w.Prod[0].Passes, w.Prod[1].Passes = w.Prod[1].Passes, w.Prod[0].Passes
	})
	two("vrefs_swapped", "exchange the two voltage leads of the production channels at the meter", "reference", reference, prodRef(OnL2, OnL1))
	two("ratio_half", "production CT ratio set to half: double it", "ratio", core, prodGain(.5, 0, 0, 1))
	two("ratio_double", "production CT ratio set to double: halve it", "ratio", core, prodGain(2, 0, 0, 1))
	two("around_loads", "the production windows enclose loads too: put only the PV conductors through them", "side", position, enclose)
	return out
}

// reroute replaces the passes of one branch; turns are listed by window and leg.
func reroute(b int, turns [2][2]float64) func(*Wiring) {
	return func(w *Wiring) {
		for i := range w.Prod {
			kept := w.Prod[i].Passes[:0:0]
			for _, p := range w.Prod[i].Passes {
				if p.Part != Branch || p.Branch != b {
					kept = append(kept, p)
				}
			}
			for leg, n := range turns[i] {
				if n != 0 {
					kept = append(kept, Pass{Conductor{Branch, L1 + Node(leg), b}, n})
				}
			}
			w.Prod[i].Passes = kept
		}
	}
}

func branchInTwo(b int) []Fault {
	f := func(name, cure, cause string, turns [2][2]float64) Fault {
		return Fault{fmt.Sprintf("b%d_%s", b, name), fmt.Sprintf(cure, b), cause, ofBranch(b), position, reroute(b, turns)}
	}
	return []Fault{
		f("L1_backwards", "pull the L1 conductor of branch %d out and pass it the other way", "branch arrow", [2][2]float64{{-1, 0}, {0, 1}}),
		f("L2_backwards", "pull the L2 conductor of branch %d out and pass it the other way", "branch arrow", [2][2]float64{{1, 0}, {0, -1}}),
		f("both_backwards", "turn both conductors of branch %d in their windows, or exchange them between the windows", "branch arrow", [2][2]float64{{-1, 0}, {0, -1}}),
		f("crossed", "exchange the two conductors of branch %d between the windows", "branch leg", [2][2]float64{{0, 1}, {1, 0}}),
		f("crossed_backwards", "none by readings: conductors of branch %d exchanged and both turned gives right readings", "branch leg", [2][2]float64{{0, -1}, {-1, 0}}),
		f("both_in_w1", "both conductors of branch %d pass one window the same way and cancel: one each", "branch window", [2][2]float64{{1, 1}, {0, 0}}),
		f("both_in_w2", "both conductors of branch %d pass one window the same way and cancel: one each", "branch window", [2][2]float64{{0, 0}, {1, 1}}),
		f("both_in_w1_opposed", "both conductors of branch %d pass window 1: move L2 to window 2", "branch window", [2][2]float64{{1, -1}, {0, 0}}),
		f("both_in_w2_opposed", "both conductors of branch %d pass window 2: move L1 to window 1", "branch window", [2][2]float64{{0, 0}, {-1, 1}}),
		f("L1_missed", "the L1 conductor of branch %d misses its window: put it through window 1", "branch missed", [2][2]float64{{0, 0}, {0, 1}}),
		f("L2_missed", "the L2 conductor of branch %d misses its window: put it through window 2", "branch missed", [2][2]float64{{1, 0}, {0, 0}}),
		f("both_missed", "both conductors of branch %d miss the windows: one through each", "branch missed", [2][2]float64{{0, 0}, {0, 0}}),
		f("L1_twice", "the L1 conductor of branch %d is looped twice through window 1: once only", "", [2][2]float64{{2, 0}, {0, 1}}),
		f("L2_twice", "the L2 conductor of branch %d is looped twice through window 2: once only", "", [2][2]float64{{1, 0}, {0, 2}}),
	}
}

func branchInOne(b int) []Fault {
	f := func(name, cure, cause string, l1, l2 float64) Fault {
		return Fault{fmt.Sprintf("b%d_%s", b, name), fmt.Sprintf(cure, b), cause, ofBranch(b), position, reroute(b, [2][2]float64{{l1, l2}})}
	}
	return []Fault{
		f("L1_backwards", "pull the L1 conductor of branch %d out and pass it the other way", "branch arrow", -1, 0),
		f("L2_instead_of_L1", "the L2 conductor of branch %d passes the window where L1 should: put L1 through instead", "branch leg", 0, 1),
		f("L2_instead_backwards", "none by readings: the L2 conductor of branch %d passes backwards where L1 should, which reads right", "branch leg", 0, -1),
		f("both_through", "both conductors of branch %d pass the window and cancel: take L2 out", "branch window", 1, 1),
		f("both_opposed", "both conductors of branch %d pass the window and add: take L2 out", "branch window", 1, -1),
		f("missed", "no conductor of branch %d passes the window: put L1 through", "branch missed", 0, 0),
		f("twice", "the L1 conductor of branch %d is looped twice through the window: once only", "", 2, 0),
	}
}

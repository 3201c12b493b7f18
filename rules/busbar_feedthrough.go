package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// BusbarFeedthrough is the rule for feed-through lugs.
var BusbarFeedthrough = Rule{
	ID:    "busbar-feedthrough",
	Title: "Feed-through lugs: what reaches the next bar stays within it",
	Why: "Lugs pass on all that the bar carries, main and sources together; without a device " +
		"behind them nothing limits it.",
	Clauses: working.Clauses{
		2020: "705.12(B)(3)(6)",
		2023: "705.12(B)(5)",
	},
	Mark:  "seen in part; the words of 2020 are widely called unclear",
	Gives: []working.Verdict{working.OK, working.Look, working.Ask, working.Stop},
	On: onto(func(p *site.Plant) []entry {
		var out []entry
		for _, b := range p.Buses {
			for _, d := range b.Breakers {
				if d.Lugs && d.Carries != nil && (b.HasSource() || d.Carries.HasSource()) {
					out = append(out, entry{b, d})
				}
			}
		}
		return out
	}, func(e entry) string { return e.bus.ID + "/lugs" },
		func(e entry) bool { return len(e.bus.Groups()) == 0 }, nil,
		func(_ *site.Plant, e entry, w *working.Sheet) working.Verdict {
			return throughLugs(e.bus, e.device, w)
		}),
}

// throughLugs judges two bars that lugs join. The safe reading takes both as one
// bar with all sources.
func throughLugs(b *site.Bus, lugs *site.Breaker, w *working.Sheet) working.Verdict {
	next := lugs.Carries
	first, second := w.Fact("I_bus", b.Rating), w.Fact("I_bus2", next.Rating)
	switch { // a device at either end of the conductors: the bar before it is judged by the other rules
	case next.HasMain:
		return w.AtMost(w.Fact("I_main2", next.Main), second)
	case lugs.Fused:
		return w.AtMost(w.Fact("I_b", lugs.Rating), second)
	}
	main := w.Fact("I_main", b.Protection())
	all := groupCurrent(w, "I_src", "output current of all sources on either bar", b.Groups(), b.ExistingSources())
	bar := w.Let("I_bar", working.Least(first, second), "the smaller bar")
	sum := w.Let("I_sum", main.Plus(all.Times(1.25)), "all that can reach one point of either bar")
	if !sum.Known() || !bar.Known() || quantity.Compare(sum.Float(), bar.Float()) <= 0 {
		return w.AtMost(sum, bar)
	}
	if onlyBehind(b) && quantity.Compare(sum.Float(), 1.20*bar.Float()) <= 0 {
		w.Note("passes only where lugs and next bar are read as the far end, %s within 120 %%; read as one bar with all sources it fails: ask the department", sum)
		w.AtMost(sum, w.Let("I_max", bar.Times(1.20), "what the bars may be offered with the source at their far end"))
		return working.Look
	}
	v := w.AtMost(sum, bar)
	w.Note("a main of %s or less in the next panel cures it by the feeder rule", second)
	return v
}

// onlyBehind reports whether every source enters through the lugs.
func onlyBehind(b *site.Bus) bool {
	for _, d := range b.Entries() {
		if !d.Lugs {
			return false
		}
	}
	return true
}

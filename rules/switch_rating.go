package rules

import (
	"legwork/circuit"
	"legwork/site"
	"legwork/working"
)

// SwitchRating is the fault-current rating of a disconnect on the supply side.
var SwitchRating = Rule{
	ID:    "switch-rating",
	Title: "Supply-side disconnect rated for the fault current at the tap",
	Why: "Nothing but the utility's fuse stands ahead of it. Few feet of conductor lower the " +
		"current little; a switch good only for what is left behind them is poor practice.",
	Clauses: working.Clauses{2017: "110.9, 110.10, 705.22", 2020: "110.9, 110.10, 705.20", 2023: "110.9, 110.10, 705.20"},
	Gives:   []working.Verdict{working.OK, working.Look, working.Ask, working.Stop},
	On: onto(taps, func(b *site.Bus) string { return b.Up.Run.ID + "/" + b.Up.Supply.Disconnect.ID },
		func(b *site.Bus) bool { return b.Up.Supply.Disconnect.Existing.Value },
		nil, func(p *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
			tap, loop := serviceFault(w, p), faultLoop(p)
			r := b.Up.Run
			at := circuit.RunFault(w, "I_switch", "fault at the switch", loop, tap, faultConstant(w, r.ID, r.Conductors), w.Fact("L_tap", b.Up.Supply.Length), 1, faultVolts(w, p, loop))
			rating := w.Fact("I_IR", p.Switch(b.Up.Supply.Disconnect.ID).Interrupting)
			v := w.AtMost(at, rating)
			if v == working.OK && tap.Float() > rating.Float() {
				w.Note("at the tap itself stands more than the switch is rated for")
				return working.Look
			}
			return v
		}),
}

// taps lists the buses whose output meets the supply side at a disconnect.
func taps(p *site.Plant) []*site.Bus {
	var out []*site.Bus
	for _, b := range p.Buses {
		if b.Up != nil && b.Up.Supply != nil && b.Up.Supply.Disconnect != nil {
			out = append(out, b)
		}
	}
	return out
}

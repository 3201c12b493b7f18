package rules

import (
	"legwork/site"
	"legwork/working"
)

// ControlDevice holds the device of a controlled source against the bar.
var ControlDevice = Rule{
	ID:    "control-device",
	Title: "Breaker of each controlled source within the busbar",
	Why:   "Should the control fail, the breaker is what is left to protect the bar.",
	Clauses: working.Clauses{
		2020: "705.13",
		2023: "705.13, 750.30",
	},
	Mark:  "2020 seen in part, its items from memory; 2023 seen",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onControlled(func(b *site.Bus, w *working.Sheet) working.Verdict {
		most := w.Fact("I_b₁", b.Entries()[0].Rating)
		for i, d := range b.Entries()[1:] {
			most = working.Greatest(most, w.Fact("I_b"+subscript(i+1), d.Rating))
		}
		return w.AtMost(w.Let("I_b", most, "largest of them"), w.Fact("I_bus", b.Rating))
	}),
}

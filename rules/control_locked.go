package rules

import (
	"legwork/site"
	"legwork/working"
)

// ControlLocked keeps the set point where it was put.
var ControlLocked = Rule{
	ID:    "control-locked",
	Title: "Settings of the power control are locked",
	Why:   "A set point that anybody can raise limits nothing.",
	Clauses: working.Clauses{
		2020: "705.13",
		2023: "705.13, 750.30",
	},
	Mark:  "2020 seen in part, its items from memory; 2023 seen",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onControlled(func(b *site.Bus, w *working.Sheet) working.Verdict {
		return yes(w, "locked", b.Control.Locked)
	}),
}

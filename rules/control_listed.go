package rules

import (
	"legwork/site"
	"legwork/working"
)

// ControlListed is the listing of a power control system.
var ControlListed = Rule{
	ID:    "control-listed",
	Title: "Power control is listed for it",
	Why:   "Only a listed system may take the place of the rated current in the sum.",
	Clauses: working.Clauses{
		2020: "705.13",
		2023: "705.13, 750.30",
	},
	Mark:  "2020 seen in part, its items from memory; 2023 seen",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onControlled(func(b *site.Bus, w *working.Sheet) working.Verdict {
		return yes(w, "listed", b.Control.Listed)
	}),
}

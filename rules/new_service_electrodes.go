package rules

import (
	"legwork/site"
	"legwork/working"
)

// NewServiceElectrodes is a duty that a panel change brings with it.
var NewServiceElectrodes = Rule{
	ID:    "new-service-electrodes",
	Title: "Electrodes and their conductor fit the new service equipment",
	Why: "New service equipment is bonded to all electrodes that are there, with a conductor of " +
		"the size that the table asks.",
	Clauses: working.Clauses{
		2017: "250.24(D), 250.50, 250.66",
		2020: "250.24(D), 250.50, 250.66",
		2023: "250.24(E), 250.50, 250.66",
	},
	Mark:  "the letter of 2023 from memory",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onService(newPanel, func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		return yes(w, "there", b.Change.Electrodes)
	}),
}

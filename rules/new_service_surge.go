package rules

import (
	"legwork/site"
	"legwork/working"
)

// NewServiceSurge is a duty that a panel change brings with it.
var NewServiceSurge = Rule{
	ID:    "new-service-surge",
	Title: "New service equipment has surge protection",
	Why:   "Since 2020 a dwelling's service carries surge protection, also where it is replaced.",
	Clauses: working.Clauses{
		2020: "230.67",
		2023: "230.67",
	},
	Mark:  "from memory",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onService(newPanel, func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		return yes(w, "there", b.Change.Surge)
	}),
}

package rules

import (
	"legwork/site"
	"legwork/working"
)

// NewServiceEmergency is a duty that a panel change brings with it.
var NewServiceEmergency = Rule{
	ID:    "new-service-emergency",
	Title: "New service equipment has an emergency disconnect outside",
	Why: "Since 2020 firefighters must be able to kill a dwelling from outside; replaced service " +
		"equipment has to follow.",
	Clauses: working.Clauses{
		2020: "230.85",
		2023: "230.85",
	},
	Mark:  "2023 seen; 2020 from memory",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onService(newPanel, func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		return yes(w, "there", b.Change.Emergency)
	}),
}

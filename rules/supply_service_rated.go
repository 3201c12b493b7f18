package rules

import (
	"legwork/site"
	"legwork/working"
)

// SupplyServiceRated is the marking of a disconnect ahead of the main.
var SupplyServiceRated = Rule{
	ID:    "supply-service-rated",
	Title: "PV disconnect ahead of the main is service equipment",
	Why: "It is the first thing that opens behind the utility: it must be made to carry the " +
		"bond of the grounded conductor and what a service can deliver.",
	Clauses: working.Clauses{
		2017: "690.13(C), 230.66",
		2020: "705.11, 230.66",
		2023: "705.11, 230.66",
	},
	Mark:  "2017 seen; 2020 and 2023 seen in part",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On:    onTapFact(yes, "rated", func(t *site.SupplyTap) working.Fact[bool] { return t.ServiceRated }),
}

package rules

import (
	"legwork/site"
	"legwork/working"
)

// SupplyGroundAhead keeps equipment grounds out of service conductors.
var SupplyGroundAhead = Rule{
	ID:    "supply-ground-ahead",
	Title: "No equipment ground ahead of the fuses",
	Why: "Between tap and fuses the conductors are service conductors; they have no equipment " +
		"ground, the grounded conductor takes its place. A ground wire there would carry neutral current.",
	Clauses: working.Clauses{
		2017: "250.24, 250.142(A)",
		2020: "250.24, 250.25",
		2023: "250.24, 250.25",
	},
	Mark:  "seen in part; views differed in 2017",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On:    onTapFact(no, "ground", func(t *site.SupplyTap) working.Fact[bool] { return t.GroundAhead }),
}

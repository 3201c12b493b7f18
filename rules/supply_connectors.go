package rules

import (
	"legwork/site"
	"legwork/working"
)

// SupplyConnectors is the listing of the tap connectors.
var SupplyConnectors = Rule{
	ID:    "supply-connectors",
	Title: "Connectors listed for the line side of a service",
	Why:   "Nothing ahead of a tap but the utility opens on a fault; a connector there has to bear it.",
	Clauses: working.Clauses{
		2017: "110.14, 110.3(B)",
		2020: "705.11(D), 230.46",
		2023: "230.46",
	},
	Mark:  "from memory; 230.46 took effect for connectors on 2023-01-01",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On:    onTapFact(yes, "listed", func(t *site.SupplyTap) working.Fact[bool] { return t.Connectors }),
}

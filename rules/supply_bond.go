package rules

import (
	"legwork/site"
	"legwork/working"
)

// SupplyBond is the second main bonding jumper.
var SupplyBond = Rule{
	ID:    "supply-bond",
	Title: "Grounded conductor bonded in the PV disconnect",
	Why: "A second service disconnect needs its own main bonding jumper: without it a fault " +
		"behind the fuses has no short way back.",
	Clauses: working.Clauses{
		2017: "250.24(B), 250.28",
		2020: "250.24(B), 250.25, 250.28",
		2023: "250.24(C), 250.25, 250.28",
	},
	Mark:  "seen in part; some departments refused the bond in 2017; the letter of 2023 from memory",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On:    onTapFact(yes, "bonded", func(t *site.SupplyTap) working.Fact[bool] { return t.Bonded }),
}

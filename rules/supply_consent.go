package rules

import (
	"legwork/site"
	"legwork/working"
)

// SupplyConsent is the utility's word on the place of a tap.
var SupplyConsent = Rule{
	ID:    "supply-consent",
	Title: "Utility agrees to the place of the tap",
	Why: "Meter sockets and what is sealed belong to the utility; it says where a tap may " +
		"be made, and opens the service for it.",
	Basis: "utility rule",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On:    onTapFact(yes, "consent", func(t *site.SupplyTap) working.Fact[bool] { return t.Consent }),
}

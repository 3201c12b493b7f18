package rules

import (
	"legwork/site"
	"legwork/working"
)

// InputVoltage is the DC limit of the units on the coldest day.
var InputVoltage = Rule{
	ID:    "input-voltage",
	Title: "Module voltage on the coldest day within the unit's input",
	Why: "Cold raises a module's voltage above its nameplate. A unit that sees more than its input " +
		"allows on a bright winter morning fails, out of its listing and its warranty.",
	Clauses: working.Clauses{2017: "690.7(A), 110.3(B)", 2020: "690.7(A), 110.3(B)", 2023: "690.7(A), 110.3(B)"},
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onBranch(hasUnits, func(p *site.Plant, b *site.Branch, w *working.Sheet) working.Verdict {
		u := coldestModule(b)
		return w.AtMost(coldVoltage(w, p, u), w.Fact("V_in", u.Inverter.InputVoltage))
	}),
}

package rules

import (
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// VoltageRange holds the last unit within the range that the utility keeps.
var VoltageRange = Rule{
	ID:    "voltage-range",
	Title: "Highest voltage within the utility's range A",
	Why: "Above the range the units are first to feel it: after any outage they wait until " +
		"the voltage has fallen, and the owner's lamps see the same volts.",
	Basis: "ANSI C84.1 range A; no code limit",
	Mark:  "from memory, widely published",
	Gives: []working.Verdict{working.OK, working.Look, working.Ask},
	On: onBranch(hasUnits, func(p *site.Plant, b *site.Branch, w *working.Sheet) working.Verdict {
		top := topVoltage(w, p, b)
		limit := w.Cell("V_A", "upper end of range A", tables.ServiceHighOf(tables.RangeA, p.Nominal.Value), p.Nominal.Term())
		return overIsLook(w.AtMost(top, limit))
	}),
}

// hasUnits filters branches that carry units.
func hasUnits(_ *site.Plant, b *site.Branch) bool { return len(b.Units) > 0 }

// overIsLook turns a stop into a look: for limits that no code sets.
func overIsLook(v working.Verdict) working.Verdict {
	if v == working.Stop {
		return working.Look
	}
	return v
}

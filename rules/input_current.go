package rules

import (
	"legwork/site"
	"legwork/working"
)

// InputCurrent is the short-circuit limit of the units.
var InputCurrent = Rule{
	ID:      "input-current",
	Title:   "Module short-circuit current within the unit's input",
	Why:     "The listing names the strongest module that may hang on an input.",
	Clauses: working.Clauses{2017: "110.3(B)", 2020: "110.3(B)", 2023: "110.3(B)"},
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onBranch(hasUnits, func(_ *site.Plant, b *site.Branch, w *working.Sheet) working.Verdict {
		u := b.Units[0]
		for _, o := range b.Units[1:] {
			if !o.Module.CurrentShort.Known || o.Module.CurrentShort.Value > u.Module.CurrentShort.Value {
				u = o
			}
		}
		return w.AtMost(w.Fact("I_sc", u.Module.CurrentShort), w.Fact("I_in", u.Inverter.InputShort))
	}),
}

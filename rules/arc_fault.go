package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// ArcFault is DC arc-fault protection.
var ArcFault = Rule{
	ID:    "arc-fault",
	Title: "DC below 80 V on the coldest day, or arc-fault protected",
	Why: "From 80 V on, an arc in the DC leads sustains itself. One module on one input usually stays " +
		"below; the coldest day counts, not the nameplate.",
	Clauses: working.Clauses{2017: "690.11", 2020: "690.11", 2023: "690.11"},
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onBranch(func(_ *site.Plant, b *site.Branch) bool { return len(b.Units) > 0 },
		func(p *site.Plant, b *site.Branch, w *working.Sheet) working.Verdict {
			u := coldestModule(b)
			v := coldVoltage(w, p, u)
			limit := working.Of(quantity.Volts(80), "voltage at which protection is due", working.Origin{Kind: working.Table, Path: "690.11"})
			if !v.Known() || quantity.Compare(v.Float(), 80) < 0 {
				return w.AtMost(v, limit)
			}
			return w.Is(w.Fact("protected", u.Inverter.ArcFault), "yes")
		}),
}

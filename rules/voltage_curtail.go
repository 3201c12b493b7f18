package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// VoltageCurtail is the voltage at which the grid profile begins to take power
// away.
var VoltageCurtail = Rule{
	ID:    "voltage-curtail",
	Title: "Highest voltage below the start of volt-watt",
	Why: "Where volt-watt is enabled units cut back in silence above 1.06 of nominal: the " +
		"plant makes less on the best days, the far units least.",
	Basis: "IEEE 1547-2018 cl. 5.4.2, default; no code limit",
	Gives: []working.Verdict{working.OK, working.Look, working.Ask},
	On: onBranch(func(p *site.Plant, b *site.Branch) bool {
		return hasUnits(p, b) && !(p.Service.VoltWatt.Known && !p.Service.VoltWatt.Value)
	}, func(p *site.Plant, b *site.Branch, w *working.Sheet) working.Verdict {
		enabled := w.Fact("volt-watt", p.Service.VoltWatt)
		top := topVoltage(w, p, b)
		limit := limitOf(w, p, "V_knee", "full power up to here", tables.VoltWattFrom)
		return overIsLook(w.CloseIsLook(w.AtMost(top.Needs(enabled), limit), volt))
	}),
}

// volt is how well a service voltage is known from a day's reading with a
// field meter; common practice.
const volt quantity.Volts = 1

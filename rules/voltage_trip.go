package rules

import (
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// VoltageTrip is the over-voltage trip of the units.
var VoltageTrip = Rule{
	ID:    "voltage-trip",
	Title: "Highest voltage below the over-voltage trip",
	Why: "At 1.10 of nominal units disconnect within seconds and wait minutes to come back: " +
		"the plant is off whenever the sun is strongest.",
	Basis: "IEEE 1547-2018, over-voltage 1, default",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onBranch(hasUnits, func(p *site.Plant, b *site.Branch, w *working.Sheet) working.Verdict {
		top := topVoltage(w, p, b)
		trip := w.Cell("pu", "trip in parts of nominal", tables.VoltageTripOf("II", "OV1"))
		w.Note("the same threshold in categories I, II and III; the profile that the utility requires replaces it")
		return w.AtMost(top, w.Let("V_trip", trip.By(w.Fact("V_nom", p.Nominal)), "units disconnect here"))
	}),
}

package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// OutputBreaker is the smallest device for the PV output.
var OutputBreaker = Rule{
	ID:    "output-breaker",
	Title: "PV breaker holds 125 % of the output current",
	Why: "Inverter output is continuous; a device below 125 % of it trips in high sun. " +
		"The device is compared with the rated output current, never with module watts.",
	Clauses: working.Clauses{
		2017: "690.8(A)(3), 690.9(B), 705.60(B)",
		2020: "690.8(A)(1)(e), 690.9(B), 705.30(B)",
		2023: "690.8(A)(1), 690.9(B), 705.30(B)",
	},
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onRun(func(_ *site.Plant, r *site.Run) bool { return r.Circuits[0].Kind == site.OutputCircuit },
		func(_ *site.Plant, r *site.Run, w *working.Sheet) working.Verdict {
			c := r.Circuits[0]
			out := groupCurrent(w, "I_out", "output current of all units", c.Groups(), c.Carries.ExistingSources())
			need := continuous(w, "I_125", out)
			w.Cell("I_std", "smallest standard rating that holds it", tables.NextStandardOf(w.Edition, quantity.Amps(need.Float())), need)
			return w.AtLeast(w.Fact("I_b", c.Device.Rating), need)
		}),
}

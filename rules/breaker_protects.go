package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// BreakerProtects is the overcurrent protection of a conductor.
var BreakerProtects = Rule{
	ID:    "breaker-protects",
	Title: "Breaker protects the conductor",
	Why: "The breaker must open before the conductor overheats: no larger than the next " +
		"standard rating above the ampacity, and never above the cap for 14, 12 and 10 AWG.",
	Clauses: working.Clauses{
		2017: "240.4(B), 240.4(D)",
		2020: "240.4(B), 240.4(D)",
		2023: "240.4(B), 240.4(D)",
	},
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On:    onRun(nil, func(_ *site.Plant, r *site.Run, w *working.Sheet) working.Verdict { return protects(r, w) }),
}

func protects(r *site.Run, w *working.Sheet) working.Verdict {
	c := r.Conductors
	k, device := wireOf(w, c), deviceOf(w, r)
	corrected, terminal := correctedAmpacity(w, r, k, device), terminalAmpacity(w, r, k, device)
	usable := w.Let("A_use", working.Least(corrected, terminal), "smaller of the two ampacities")
	limit := w.Cell("I_next", "largest standard device that protects it", tables.LargestDeviceOf(w.Edition, quantity.Amps(usable.Float())), usable)
	if _, capped := tables.SmallConductor(c.Size.Value, c.Material.Value); capped && usable.Known() {
		limit = w.Let("I_max", working.Least(limit, w.Cell("I_cap", "cap for small conductors", tables.SmallConductorOf(c.Size.Value, c.Material.Value))), "smaller of the two")
	}
	return w.AtMost(device, limit)
}

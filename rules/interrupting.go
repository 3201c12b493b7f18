package rules

import (
	"legwork/site"
	"legwork/working"
)

// Interrupting is the fault-current rating of panels and their breakers.
var Interrupting = Rule{
	ID:    "interrupting",
	Title: "Breakers and panel rated for the fault current there",
	Why: "A breaker that opens on more current than it is rated for can burst. The current is " +
		"followed down the conductors, which lower it: a breaker at the end of a thin run may " +
		"pass where the service does not. An unmarked breaker is good for 5 kA (240.83(C)); a " +
		"current-limiting fuse ahead helps only as part of a tested combination.",
	Clauses: working.Clauses{2017: "110.9, 110.10, 240.86", 2020: "110.9, 110.10, 240.86", 2023: "110.9, 110.10, 240.86"},
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onBus(func(_ *site.Plant, b *site.Bus) bool { return b.Kind == site.PanelBus || b.HasSource() },
		func(p *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
			return w.AtMost(faultAt(w, p, b, faultLoop(p), serviceFault(w, p)), withstands(w, b))
		}),
}

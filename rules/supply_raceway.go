package rules

import (
	"legwork/site"
	"legwork/working"
)

// SupplyRaceway is the bonding of the raceway between tap and fuses.
var SupplyRaceway = Rule{
	ID:    "supply-raceway",
	Title: "Raceway ahead of the fuses bonded as that of a service",
	Why:   "Ordinary locknuts do not bond a raceway that no fuse protects.",
	Clauses: working.Clauses{
		2017: "250.92, 250.102(C)",
		2020: "250.92, 250.102(C)",
		2023: "250.92, 250.102(C)",
	},
	Mark:  "seen in part",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onTap(func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		return yes(w, "bonded", b.Up.Supply.Raceway)
	}),
}

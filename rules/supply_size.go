package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// SupplySize is the smallest conductor of a tap.
var SupplySize = Rule{
	ID:    "supply-size",
	Title: "Tap conductors at least 6 AWG copper or 4 AWG aluminum",
	Why: "Ahead of the fuses only the utility's device clears a fault; a thin conductor " +
		"burns open first.",
	Clauses: working.Clauses{
		2017: "230.42, 230.79(D), as practiced",
		2020: "705.11(B)",
		2023: "705.11(B)",
	},
	Mark:  "2017 from memory: its Article 705 names no size, and inspectors differ; 2020 and 2023 seen",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onTap(func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		c := b.Up.Run.Conductors
		size, metal := w.Fact("size", c.Size), w.Fact("metal", c.Material)
		least := quantity.AWG6
		if c.Material.Value == tables.Aluminum {
			least = quantity.AWG4
		}
		area := w.Cell("k", "metal of the conductor", tables.CircularMilsOf(c.Size.Value), size)
		return w.AtLeast(area, w.Cell("k_min", "metal of "+least.String()+" "+string(c.Material.Value), tables.CircularMilsOf(least), metal))
	}),
}

package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// SupplyNeutral brings the grounded conductor to a disconnect ahead of the main.
var SupplyNeutral = Rule{
	ID:    "supply-neutral",
	Title: "Grounded conductor comes to the PV disconnect",
	Why: "Ahead of the fuses the grounded conductor is the way back for a fault, even " +
		"where no unit needs a neutral.",
	Clauses: working.Clauses{
		2017: "250.24(C), 250.102(C)",
		2020: "250.24(C), 250.25, 250.102(C)",
		2023: "250.24(D), 250.25, 250.102(C)",
	},
	Mark:  "seen in part; the letter of 2023 and the rows of Table 250.102(C)(1), which up to 1100 kcmil copper are those of Table 250.66, from memory",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onTap(func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		c := b.Up.Run.Conductors
		size, metal := w.Fact("size", c.Size), w.Fact("metal", c.Material)
		have := w.Let("k_n", working.Of(quantity.CircularMils(0), "no grounded conductor is drawn", working.Origin{Kind: working.Given, Path: "runs." + b.Up.Run.ID}))
		if c.HasNeutral {
			have = w.Cell("k_n", "metal of the grounded conductor", tables.CircularMilsOf(c.Neutral.Value), w.Fact("neutral", c.Neutral))
		}
		return w.AtLeast(have, w.Cell("k_min", "smallest grounded conductor", tables.SupplyBondOf(c.Size.Value, c.Material.Value), size, metal))
	}),
}

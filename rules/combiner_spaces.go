package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// CombinerSpaces counts the branch positions of a combiner.
var CombinerSpaces = Rule{
	ID:    "combiner-spaces",
	Title: "A position in the combiner for every branch",
	Why:   "A branch without a position needs another combiner; a full one takes no later branch.",
	Basis: "nameplate",
	Gives: []working.Verdict{working.OK, working.Look, working.Ask, working.Stop},
	On: onBus(func(_ *site.Plant, b *site.Bus) bool { return b.Kind == site.CombinerBus },
		func(p *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
			var n quantity.Count
			for _, d := range b.Breakers {
				if d.Branch != nil {
					n++
				}
			}
			v := w.AtMost(w.Fact("n", working.State(n, "branches that land here", working.Origin{Kind: working.Computed, Path: "plan"})), w.Fact("n_max", b.BranchSpaces))
			if v == working.OK && n == b.BranchSpaces.Value {
				w.Note("full: no later branch is possible here")
				return working.Look
			}
			return v
		}),
}

package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// BranchModel keeps one model on a trunk.
var BranchModel = Rule{
	ID:    "branch-model",
	Title: "One model of unit on a branch",
	Why: "Trunk connectors and the listing belong to one model; a mixed branch is used " +
		"outside the listing of both, even when the amps fit.",
	Clauses: working.Clauses{2017: "110.3(B)", 2020: "110.3(B), 690.33(C)", 2023: "110.3(B), 690.33(C)"},
	Gives:   []working.Verdict{working.OK, working.Stop},
	On: onBranch(nil, func(_ *site.Plant, b *site.Branch, w *working.Sheet) working.Verdict {
		models := b.Groups()
		n := w.Fact("models", working.State(quantity.Count(len(models)), "models on branch "+b.ID, working.Origin{Kind: working.Computed, Path: "decisions.branches." + b.ID}))
		for _, g := range models {
			w.Note("%d × %s", g.Count, g.Inverter.ID)
		}
		return w.AtMost(n, working.Num(1))
	}),
}

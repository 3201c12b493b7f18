package rules

import (
	"fmt"
	"legwork/site"
	"legwork/working"
	"slices"
	"strings"
)

// SpacesFree is room for each breaker that the plan puts in or moves.
var SpacesFree = Rule{
	ID:    "spaces-free",
	Title: "Breaker has spaces of its own",
	Why: "Each source needs a breaker of its own, and two poles sit in two spaces one below " +
		"the other, on both legs; two spaces across from each other are on one leg.",
	Clauses: working.Clauses{
		2017: "705.12(B)(1), 408.54",
		2020: "705.12(A), 408.54",
		2023: "705.30(A), 408.54",
	},
	Mark:  "705.12 of 2017 seen, 2020 seen in part; the letter of 2023 not confirmed; 408.54 from memory",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onto(func(p *site.Plant) []entry {
		var out []entry
		for _, b := range p.Buses {
			for _, d := range b.Breakers {
				if b.Kind == site.PanelBus && !d.Lugs && (d.New || d.Moved) {
					out = append(out, entry{b, d})
				}
			}
		}
		return out
	}, func(e entry) string { return e.bus.ID + "/" + e.device.Place() },
		func(entry) bool { return false }, nil,
		func(_ *site.Plant, e entry, w *working.Sheet) working.Verdict {
			return w.Is(w.Fact("spaces "+e.device.SpaceList(), room(e.bus, e.device)), free)
		}),
}

const free = "free"

// room tells whether a breaker's spaces are free, and if not, for whom.
func room(b *site.Bus, d *site.Breaker) working.Fact[string] {
	means := "spaces for the breaker of " + d.Name + " in the " + b.Name
	out := working.Fact[string]{Value: free, Known: len(d.Spaces) > 0, Means: means, From: working.Origin{Kind: working.Computed, Path: "plan"},
		Ask: working.Missing{Path: b.ID + "/" + d.Place() + "/spaces", What: means, Find: "decide it, or let the plan choose"}}
	if b.Spaces.Known && len(d.Spaces) > 0 && slices.Max(d.Spaces) > int(b.Spaces.Value) {
		out.Value = fmt.Sprintf("not there: the panel has %d", int(b.Spaces.Value))
	}
	for i := 1; i < len(d.Spaces); i++ {
		if d.Spaces[i] != d.Spaces[i-1]+2 {
			out.Value = "not one below the other"
		}
	}
	var holders []string
	for _, o := range b.Breakers {
		shared := slices.ContainsFunc(o.Spaces, func(s int) bool {
			return slices.Contains(d.Spaces, s) && !(len(d.Spaces) == 1 && len(o.Spaces) == 1 && slices.Contains(b.Tandem, s))
		})
		if o != d && shared {
			holders = append(holders, o.Name)
		}
	}
	if len(holders) > 0 {
		out.Value = "taken by " + strings.Join(holders, ", ")
	}
	return out
}

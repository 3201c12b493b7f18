package rules

import (
	"fmt"
	"slices"

	"legwork/job"
	"legwork/site"
	"legwork/working"
)

// BusbarEnd is the position that the 120 % sum rests on.
var BusbarEnd = Rule{
	ID:    "busbar-end",
	Title: "Source breaker at the far end of the busbar",
	Why: "The 120 % sum holds only while main and source sit at opposite ends (or the " +
		"source at one end of a center-fed bar); in between a stretch can carry both.",
	Clauses: working.Clauses{
		2017: "705.12(B)(2)(3)(b), (d)",
		2020: "705.12(B)(3)(2), (4)",
		2023: "705.12(B)(2), (4)",
	},
	Mark:  "2017 seen; 2020 and 2023 seen in part",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: func(p *site.Plant, at func(string, bool, func(*working.Sheet) working.Verdict)) {
		for _, b := range p.Buses {
			if !takes(byOpposite)(p, b) && !takes(byCenter)(p, b) {
				continue
			}
			for _, d := range b.Entries() {
				at(fmt.Sprintf("%s/%s", b.ID, d.Place()), d.Existing != nil, func(w *working.Sheet) working.Verdict {
					w.Fact("feed", b.Feed)
					w.Fact("n_sp", b.Spaces)
					if len(d.Spaces) > 0 {
						w.Note("breaker of %s in spaces %s", d.Name, d.SpaceList())
					}
					return w.Is(w.Fact("position", whereOnBar(b, d)), farEnd)
				})
			}
		}
	},
}

// Where a source breaker sits, in words.
const (
	farEnd  = "at the far end"
	between = "not at the far end"
	// A center-fed bar takes sources at one end only.
	bothEnds = "at one end while another source sits at the other"
)

// top tells the top end of a bar from the bottom end.
func top(d *site.Breaker) bool { return len(d.Spaces) > 0 && slices.Min(d.Spaces) <= 2 }

func whereOnBar(b *site.Bus, d *site.Breaker) working.Fact[string] {
	end := b.AtEnd(d)
	out := working.Fact[string]{Value: between, Known: end.Known, Means: "where the breaker of " + d.Name + " sits on the busbar", From: end.From, Ask: end.Ask}
	if end.Value {
		out.Value = farEnd
	}
	if end.Value && b.Feed.Value == job.FeedCenter {
		for _, o := range b.Entries() {
			if b.AtEnd(o).Value && top(o) != top(d) {
				out.Value = bothEnds
			}
		}
	}
	return out
}

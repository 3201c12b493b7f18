package rules

import (
	"legwork/site"
	"legwork/working"
)

// BackfeedFastened is the fastener of a backfed plug-in breaker.
var BackfeedFastened = Rule{
	ID:    "backfeed-fastened",
	Title: "Breaker of a source that runs without the grid is fastened",
	Why: "A plug-in breaker that is live when pulled needs a fastener. Interactive inverters " +
		"fall silent without the grid and are excused; batteries and generators are not.",
	Clauses: working.Clauses{
		2017: "705.12(B)(5), 408.36(D)",
		2020: "705.12(E), 408.36(D)",
		2023: "705.30(E), 408.36(D)",
	},
	Mark:  "2017 and 2023 seen; 2020 seen in part",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onEntry(func(d *site.Breaker) bool {
		return d.Existing != nil && !(d.Existing.Kind.Known && d.Existing.Kind.Value == "PV")
	}, func(_ *site.Bus, d *site.Breaker, w *working.Sheet) working.Verdict {
		if !d.Existing.Kind.Known { // an interactive one would be excused
			return w.Is(w.Fact("kind", d.Existing.Kind), "PV")
		}
		w.Fact("kind", d.Existing.Kind)
		return yes(w, "fastened", d.Existing.Fastened)
	}),
}

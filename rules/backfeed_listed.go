package rules

import (
	"legwork/site"
	"legwork/working"
)

// BackfeedListed is the listing of a new breaker for its panel.
var BackfeedListed = Rule{
	ID:    "backfeed-listed",
	Title: "PV breaker listed for this panel",
	Why:   "A breaker that only fits mechanically is not tested on that bar; it may not hold or not open.",
	Clauses: working.Clauses{
		2017: "110.3(B)",
		2020: "110.3(B)",
		2023: "110.3(B)",
	},
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onEntry(isNew, func(_ *site.Bus, d *site.Breaker, w *working.Sheet) working.Verdict {
		return yes(w, "listed", d.Listed)
	}),
}

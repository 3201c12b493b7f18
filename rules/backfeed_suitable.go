package rules

import (
	"legwork/site"
	"legwork/working"
)

// BackfeedSuitable refuses breakers marked LINE and LOAD.
var BackfeedSuitable = Rule{
	ID:    "backfeed-suitable",
	Title: "PV breaker takes current from either side",
	Why:   "A breaker marked LINE and LOAD is tested one way only; backfed it may not open.",
	Clauses: working.Clauses{
		2017: "705.12(B)(4)",
		2020: "705.12(D)",
		2023: "705.30(D)",
	},
	Mark:  "2017 and 2023 seen; 2020 seen in part",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onEntry(isNew, func(_ *site.Bus, d *site.Breaker, w *working.Sheet) working.Verdict {
		return no(w, "line and load", d.LineLoad)
	}),
}

package rules

import (
	"legwork/job"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// VoltageReentry is the window in which units may start: the service itself,
// with no plant running, must lie inside it.
var VoltageReentry = Rule{
	ID:    "voltage-reentry",
	Title: "Service voltage lets the units start",
	Why: "A unit that waits to enter service is refused above 1.05 of nominal at its own " +
		"terminals, though it trips only at 1.10. A service that rises above that with no " +
		"plant running looks fine to a meter and keeps the plant off.",
	Basis: "IEEE 1547-2018 table 4, default",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onPlant(func(p *site.Plant, w *working.Sheet) working.Verdict {
		top := w.Fact("V_svc", p.Service.HighestVoltage)
		limit := limitOf(w, p, "V_start", "units start up to here", tables.EnterService)
		w.Note("measured with no plant running; the profile that the utility requires replaces the default")
		return w.AtMost(top, limit)
	}),
}

// onPlant is a rule about the service as a whole.
func onPlant(check func(*site.Plant, *working.Sheet) working.Verdict) Subject {
	return func(p *site.Plant, at func(string, bool, func(*working.Sheet) working.Verdict)) {
		at(job.ServiceEnd, false, func(w *working.Sheet) working.Verdict { return check(p, w) })
	}
}

// limitOf is a limit of the voltage-limits table at the site's nominal voltage.
func limitOf(w *working.Sheet, p *site.Plant, sym, means, row string) working.Term {
	nominal := w.Fact("V_nom", p.Nominal)
	return w.Let(sym, w.Cell("pu", "limit in parts of nominal", tables.UpperLimitOf(row)).By(nominal), means)
}

// topVoltage works out the highest voltage that the last unit of a branch sees:
// the highest measured at the service with no plant, and the whole rise.
func topVoltage(w *working.Sheet, p *site.Plant, b *site.Branch) working.Term {
	rise := riseToLastUnit(w, p, b)
	return w.Let("V_top", w.Fact("V_svc", p.Service.HighestVoltage).Plus(rise), "highest at the last unit")
}

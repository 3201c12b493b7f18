package rules

import (
	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// growth is how much 100 ft of rigid PVC conduit grow by for each °C: 4.06 in for
// 100 °F, 3.38e-5 a °F.
//
// Source: NFPA 70, Table 352.44, from memory.
const growth = inches(1200 * 3.38e-5 * 1.8)

// Expansion is the expansion fitting of plastic raceway in the weather.
var Expansion = Rule{
	ID:    "raceway-expansion",
	Title: "Plastic raceway can grow between its fixed ends",
	Why: "Plastic grows five times as much as steel; fixed at both ends it bows, pulls off its boxes or " +
		"breaks them. From a quarter of an inch on it takes an expansion fitting. Direct sun adds to the " +
		"span of temperature used here, that of the air.",
	Clauses: working.Clauses{2017: "300.7(B), 352.44", 2020: "300.7(B), 352.44", 2023: "300.7(B), 352.44(A)"},
	Mark:    "from memory",
	Stage:   SiteStage,
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onRun(func(_ *site.Plant, r *site.Run) bool { return plastic(r) && weather(r) != nil },
		func(p *site.Plant, r *site.Run, w *working.Sheet) working.Verdict {
			s := weather(r)
			kind := w.Fact("raceway", r.Conductors.Raceway)
			g := w.Fact("g", working.State(growth, "growth of 100 ft of PVC for each °C", working.Origin{Kind: working.Table, Path: "Table 352.44", Mark: "from memory"}))
			span := w.Let("T_span", w.Fact("T_hot", p.Hottest).Minus(w.Fact("T_cold", p.Coldest)), "span of the air's temperature")
			length := w.Fact("L", s.Length).Needs(w.Fact("place", s.Where))
			grows := w.Let("ΔL", g.By(length.Over(working.Of(quantity.Feet(100), "", working.Origin{}))).By(span.Over(working.Of(quantity.Celsius(1), "", working.Origin{}))), "change of length").Needs(kind)
			limit := working.Of(inches(0.25), "growth that takes a fitting", working.Origin{Kind: working.Table, Path: "352.44", Mark: "from memory"})
			if !grows.Known() || quantity.Compare(grows.Float(), limit.Float()) < 0 {
				return w.AtMost(grows, limit)
			}
			return w.Is(w.Fact("fitting", r.Seen["expansion_fitting"]), "yes")
		}),
}

func plastic(r *site.Run) bool {
	k := r.Conductors.Raceway.Value
	return k == tables.PVC40 || k == tables.PVC80
}

// weather is the longest segment out in the weather; one of unknown length or
// place first, nil when there is none.
func weather(r *site.Run) *site.Segment {
	var longest *site.Segment
	for _, s := range r.Segments {
		switch {
		case s.Where.Known && s.Where.Value != job.OnRoof && s.Where.Value != job.OnWall:
		case !s.Where.Known || !s.Length.Known:
			return s
		case longest == nil || s.Length.Value > longest.Length.Value:
			longest = s
		}
	}
	return longest
}

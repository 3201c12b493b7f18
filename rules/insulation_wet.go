package rules

import (
	"legwork/site"
	"legwork/working"
)

// InsulationWet is the rule for insulation in wet places.
var InsulationWet = Rule{
	ID:    "insulation-wet",
	Title: "Insulation for wet places where the run is wet",
	Why: "Water stands in every raceway outdoors and underground; a dry-only insulation " +
		"loses its strength there and ends in a ground fault.",
	Clauses: working.Clauses{
		2017: "300.5(B), 300.9, 310.10(C)",
		2020: "300.5(B), 300.9, 310.10(C)",
		2023: "300.5(B), 300.9, 310.10(C)",
	},
	Mark:  "from memory",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onRun(func(_ *site.Plant, r *site.Run) bool { return wetSegment(r) != nil },
		func(_ *site.Plant, r *site.Run, w *working.Sheet) working.Verdict {
			place := w.Fact("place", wetSegment(r).Where)
			kind := w.Fact("type", r.Conductors.Insulation)
			suits := working.State(dryOnly, "what the type is listed for", working.Origin{Kind: working.Computed})
			if r.Conductors.Insulation.Value.Wet() {
				suits.Value = forWet
			}
			if kind.Known() && place.Known() && suits.Value == dryOnly {
				w.Note("%s takes a type such as THWN-2 or XHHW-2 in its place", r.Name)
			}
			return w.Is(w.Fact("listed", suits.Term().Needs(kind).Needs(place)), forWet)
		}),
}

const (
	forWet  = "for wet places"
	dryOnly = "for dry places only"
)

// wetSegment is the first segment of a run that is wet, or of which nobody has
// said where it runs; nil when all are dry.
func wetSegment(r *site.Run) *site.Segment {
	var open *site.Segment
	for _, s := range r.Segments {
		switch {
		case !s.Where.Known:
			open = s
		case wet(s):
			return s
		}
	}
	return open
}

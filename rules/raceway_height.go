package rules

import (
	"fmt"

	"legwork/job"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// RacewayHeight is 2017's least height of a raceway above a roof in the sun.
var RacewayHeight = Rule{
	ID:    "raceway-height",
	Title: "Raceway in the sun not closer to the roof than the edition allows",
	Why: "2017 orders the height and, in its next sentence, adds to the temperature of what lies lower. " +
		"Some departments read the second as leave to lie lower; the strict reading is followed here. " +
		"2020 and 2023 kept only the adder.",
	Clauses: working.Clauses{2017: "310.15(B)(3)(c)"},
	Only:    []working.Edition{2017},
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: func(p *site.Plant, at func(string, bool, func(*working.Sheet) working.Verdict)) {
		for _, r := range p.Runs {
			for _, s := range r.Segments {
				if len(r.Circuits) == 0 || s.Where.Value != job.OnRoof || s.Sun.Known && !s.Sun.Value {
					continue
				}
				at(fmt.Sprintf("%s/%d", r.ID, s.Index+1), r.Existing, func(w *working.Sheet) working.Verdict {
					place, sun := w.Fact("place", s.Where), w.Fact("sun", s.Sun)
					least := w.Cell("h_min", "least height", cellInInches(tables.RooftopThresholdOf(w.Edition)), place, sun)
					return w.AtLeast(w.Fact("h", inInches(s.Height)), least)
				})
			}
		}
	},
}

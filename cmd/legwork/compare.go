package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"legwork/plan"
	"legwork/working"
)

// across is what one rule says about one place, edition by edition.
type across struct {
	first working.Finding
	by    map[working.Edition]working.Finding
}

// differs reports whether the editions come to another verdict or compare with
// another limit; a clause that only moved is no difference.
func (a across) differs(editions []editionReport) bool {
	said := ""
	for i, e := range editions {
		now := a.says(e.Edition)
		if i > 0 && now != said {
			return true
		}
		said = now
	}
	return false
}

// says is verdict and limit under an edition.
func (a across) says(e working.Edition) string {
	f, ok := a.by[e]
	switch {
	case !ok:
		return "does not apply"
	case f.NotCovered:
		return "not covered"
	case f.Test == nil:
		return string(f.Verdict)
	}
	return string(f.Verdict) + "  " + f.Test.String()
}

// writeCompare sets the editions side by side: first what they judge otherwise,
// with the clause of each, then how many findings read the same in all.
func writeCompare(w io.Writer, p *plan.Plan, r checkReport) error {
	var order []string
	byID := map[string]*across{}
	for _, f := range r.Findings {
		a := byID[f.ID()]
		if a == nil {
			a = &across{first: f, by: map[working.Edition]working.Finding{}}
			byID[f.ID()] = a
			order = append(order, f.ID())
		}
		a.by[f.Edition] = f
	}
	fmt.Fprint(w, "\nwhat the editions judge otherwise\n")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	same := 0
	for _, id := range order {
		a := byID[id]
		if !a.differs(r.Editions) {
			same++
			continue
		}
		fmt.Fprintf(t, "%s, %s\n", a.first.Title, p.Plant.PlaceName(a.first.Place))
		for _, e := range r.Editions {
			fmt.Fprintf(t, "  %d\t%s\t%s\n", e.Edition, a.says(e.Edition), a.by[e.Edition].Clause)
		}
	}
	if same == len(order) {
		fmt.Fprint(t, "  nothing: the same verdicts and limits, only clauses moved\n")
	} else {
		fmt.Fprintf(t, "%d more findings read the same in all but their clause\n", same)
	}
	return t.Flush()
}

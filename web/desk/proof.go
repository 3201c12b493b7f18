package desk

import (
	"context"
	"fmt"
	"slices"

	"legwork/rules"
	"legwork/scene/line"
	"legwork/sheets"
	"legwork/site"
	"legwork/web"
	"legwork/working"
)

// proof is every finding under an edition, and what they come to.
func (w *work) proof(ctx context.Context, e working.Edition) (web.Proof, error) {
	p := w.plan.Plant
	found, err := w.withFixes(ctx, e)
	if err != nil {
		return web.Proof{}, err
	}
	l := sheets.Line(p, found)
	return web.Proof{Edition: e, Editions: rules.Editions(), Findings: found, Line: l,
		Places: places(p, l), Said: said(p, e, found, w.missing(e))}, nil
}

// places names the places of findings in the order of the line. The branches
// stand on the roof; a tap's findings are told of its connection.
func places(p *site.Plant, l line.Line) []web.Place {
	var out []web.Place
	for _, n := range l.Nodes {
		switch root := site.PlaceRoot(n.ID); {
		case n.Kind == line.Roof:
			for _, b := range p.Branches {
				out = append(out, web.Place{ID: b.ID, Name: p.PlaceName(b.ID), Node: n.ID})
			}
		case root != n.ID:
			out = append(out, web.Place{ID: root, Name: n.Label, Node: n.ID})
		default:
			out = append(out, web.Place{ID: n.ID, Name: n.Label, Node: n.ID})
		}
	}
	return out
}

// most is how many obstacles a sentence names; more than that is a list, and
// the list stands below.
const most = 3

// said tells in one breath what stands between the plan and the counter of the
// building department.
func said(p *site.Plant, e working.Edition, found []working.Finding, missing []working.Missing) string {
	if e == 0 {
		return "Which edition of NFPA 70 is adopted here is not known: " + p.Edition.Ask.Find + ". Until then nothing is judged; the links show how each edition would."
	}
	if !rules.Covers(e) {
		return fmt.Sprintf("No rule here covers the edition of %d. Nothing is judged.", e)
	}
	stops := obstacles(p, found, working.Stop)
	all := slices.Clone(stops)
	for _, m := range missing {
		all = append(all, m.What)
	}
	if len(all) > 0 {
		verb, thing := "stand", "things"
		switch {
		case len(stops) == 0:
			thing = "missing facts"
		case len(missing) == 0:
			thing = "broken rules"
		}
		if len(all) == 1 {
			verb, thing = "stands", thing[:len(thing)-1]
		}
		rest := ""
		if n := len(all) - most; n > 0 {
			all = append(all[:most:most], number(n)+" more below")
		}
		return fmt.Sprintf("%s %s %s between this plan and the counter: %s%s.", upper(number(len(stops)+len(missing))), thing, verb, listed(all), rest)
	}
	looks := obstacles(p, found, working.Look)
	if len(looks) == 0 {
		return "Nothing that is judged here stands between this plan and the counter."
	}
	points := "point deserves"
	if len(looks) > 1 {
		points = "points deserve"
	}
	return fmt.Sprintf("Nothing that is judged here stands between this plan and the counter. %s %s a look: %s.", upper(number(len(looks))), points, listed(looks))
}

// obstacles words the findings of one verdict, one for each rule with all its
// places. What was there before is told on the page and stops no plan.
func obstacles(p *site.Plant, found []working.Finding, v working.Verdict) []string {
	var order []string
	at := map[string][]working.Finding{}
	for _, f := range found {
		if f.NotCovered || f.Existing || f.Verdict != v {
			continue
		}
		if at[f.Rule] == nil {
			order = append(order, f.Rule)
		}
		at[f.Rule] = append(at[f.Rule], f)
	}
	var out []string
	for _, rule := range order {
		var where []string
		for _, f := range at[rule] {
			name := p.PlaceName(f.Place)
			if p.Branch(site.PlaceRoot(f.Place)) == nil {
				name = "the " + name
			}
			if !slices.Contains(where, name) {
				where = append(where, name)
			}
		}
		f := at[rule][0]
		words := "“" + f.Title + "” at " + listed(where)
		if m := web.Spare(f); m != "" && len(at[rule]) == 1 {
			words += " (" + m + ")"
		}
		out = append(out, words)
	}
	return out
}

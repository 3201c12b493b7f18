package desk

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwork/job"
	"legwork/plan"
	"legwork/quantity"
	"legwork/rules"
	"legwork/sheets"
	"legwork/site"
	"legwork/web"
	"legwork/working"
)

// planOf words a plan for the page.
func planOf(pl *plan.Plan, found []working.Finding) web.Plan {
	p := pl.Plant
	out := web.Plan{Said: built(p)}
	out.Roof, out.RoofNotes = sheets.RoofFilling(p, 220)
	for _, b := range p.Branches {
		out.Branches = append(out.Branches, web.Branch{ID: b.ID, Units: len(b.Units), Where: span(b), Feed: string(b.Feed) + "-fed",
			Current: current(b.Groups()), Breaker: b.Breaker.Rating.String(), By: kindOf(b.By)})
	}
	for _, r := range p.Runs {
		out.Circuits = append(out.Circuits, circuit(r, tightest(found, r.ID)))
	}
	for _, c := range p.Decided.Connections {
		out.Choices = append(out.Choices, web.Choice{What: "point of connection", Value: landing(p, &c), By: kindOf(c.By), Governed: tightest(found, landed(p, &c))})
	}
	for _, m := range p.Decided.Moves {
		out.Choices = append(out.Choices, web.Choice{What: "breaker in " + p.PlaceName(m.Panel) + " moved", Value: "from " + spaces(m.From) + " to " + spaces(m.To), By: kindOf(m.By)})
	}
	for _, c := range pl.Choices {
		out.Choices = append(out.Choices, web.Choice{What: decision(p, c.Path), Value: c.Value, By: working.Chosen, Governed: []web.Reason{reason(c, found)}})
	}
	for _, m := range pl.Open {
		out.Open = append(out.Open, m.What)
	}
	return out
}

// built says the whole in a sentence.
func built(p *site.Plant) string {
	if len(p.Branches) == 0 {
		return ""
	}
	var units []string
	for _, b := range p.Branches {
		units = append(units, number(len(b.Units)))
	}
	said := upper(number(len(p.Branches)))
	switch {
	case len(units) == 1:
		said += " branch of " + units[0] + " units"
	case len(slices.Compact(slices.Clone(units))) == 1:
		said += " branches of " + units[0] + " units each"
	default:
		said += " branches of " + listed(units) + " units"
	}
	var out []string
	for i := range p.Decided.Connections {
		c := &p.Decided.Connections[i]
		out = append(out, landing(p, c))
	}
	switch b := p.Branches[0].Bus; {
	case len(out) > 0:
		said += "; the PV output lands on a " + listed(out)
	case b != nil:
		said += "; they land in the " + p.PlaceName(b.ID)
	}
	return said + "."
}

// landing says where an output meets the service.
func landing(p *site.Plant, c *job.Connection) string {
	if c.Kind == job.SupplySide {
		return "tap ahead of the main"
	}
	rating := "? A"
	if c.Breaker.Known {
		rating = working.State(c.Breaker.Value, "", working.Origin{}).String()
	}
	where := p.PlaceName(c.Panel)
	if len(c.Spaces) > 0 {
		where += ", spaces " + spaces(c.Spaces)
	}
	if c.Kind != job.BackfedBreaker {
		return string(c.Kind) + " of the " + where
	}
	return rating + " breaker in the " + where
}

// landed is the place whose findings judge a connection.
func landed(p *site.Plant, c *job.Connection) string {
	if c.Kind == job.SupplySide {
		return c.ID
	}
	return c.Panel
}

func spaces(list []int) string {
	return strings.Trim(strings.ReplaceAll(fmt.Sprint(list), " ", ", "), "[]")
}

func kindOf(by job.By) working.Kind {
	if by == job.Tool {
		return working.Chosen
	}
	return working.Given
}

// span names the stretches of a branch along its trunk, a plane at a time.
func span(b *site.Branch) string {
	var out []string
	for i := 0; i < len(b.Units); {
		j := i
		for j+1 < len(b.Units) && b.Units[j+1].Plane == b.Units[i].Plane {
			j++
		}
		plane := b.Units[i].Plane.ID
		within := func(u *site.Unit) string { return strings.TrimPrefix(u.Position, plane+"-") }
		said := "plane " + plane + ", " + within(b.Units[i])
		if j > i {
			said += " to " + within(b.Units[j])
		}
		out = append(out, said)
		i = j + 1
	}
	return strings.Join(out, "; ")
}

// current is what units put out together, "?" when a nameplate is silent.
func current(groups []site.Group) string {
	sum := 0.0
	for _, g := range groups {
		if !g.Inverter.Current.Known {
			return "?"
		}
		sum += float64(g.Count) * g.Inverter.Current.Value.Float()
	}
	return quantity.Unit("A").Figure(sum)
}

func circuit(r *site.Run, governed []web.Reason) web.Circuit {
	c := r.Conductors
	out := web.Circuit{ID: r.ID, Name: r.Name, Length: r.Length.String(), Ground: "raceway", By: kindOf(c.By), Governed: governed}
	if r.Existing {
		out.Name += ", existing"
		out.By = working.Given
	}
	lines := "?"
	if n := len(r.Circuits); n > 0 {
		lines = fmt.Sprint(2 * n)
	}
	out.Conductors = strings.TrimSpace(lines + " × " + c.Size.String() + " " + c.Material.String() + " " + c.Insulation.String())
	if !c.Size.Known {
		out.Conductors = "?"
	}
	if c.HasNeutral {
		out.Conductors += ", neutral " + c.Neutral.String()
	}
	if c.HasGround {
		out.Ground = c.Ground.String()
	} else if !c.Raceway.Known {
		out.Ground = "?"
	}
	out.Raceway = "?"
	if c.Trade.Known && c.Raceway.Known {
		out.Raceway = c.Trade.String() + " " + c.Raceway.String()
	}
	var devices []string
	for _, x := range r.Circuits {
		if s := x.Device.Rating.String(); !slices.Contains(devices, s) {
			devices = append(devices, s)
		}
	}
	out.Breaker = strings.Join(devices, ", ")
	return out
}

// tightest is the finding at a place that leaves the least to spare for its
// limit, or the first that does not pass: what governs the place.
func tightest(found []working.Finding, place string) []web.Reason {
	var best *working.Finding
	least := math.Inf(1)
	for i, f := range found {
		if f.NotCovered || f.Unconfirmed() || site.PlaceRoot(f.Place) != place {
			continue
		}
		switch part := part(f); {
		case f.Verdict == working.Stop || f.Verdict == working.Ask:
			return []web.Reason{{Finding: f.ID(), Title: f.Title, Verdict: f.Verdict}}
		case part < least:
			least, best = part, &found[i]
		}
	}
	if best == nil {
		return nil
	}
	return []web.Reason{{Finding: best.ID(), Title: best.Title + ", " + web.Spare(*best), Verdict: best.Verdict}}
}

// part is what is to spare as a part of the limit. A count met exactly is no
// tight place: one model is one model.
func part(f working.Finding) float64 {
	if f.Test == nil || f.Test.Right.Unit() == "" || !(f.Test.Right.Float() > 0) {
		return math.Inf(1)
	}
	return f.Test.Margin / f.Test.Right.Float()
}

// decision words the path of a choice: "decisions.runs.home.size" is "home run,
// size".
func decision(p *site.Plant, path string) string {
	parts := strings.SplitN(strings.TrimPrefix(path, "decisions."), ".", 3)
	if len(parts) < 3 {
		return path
	}
	name := p.PlaceName(parts[1])
	if parts[0] == "connections" {
		name = "point of connection"
	}
	return name + ", " + strings.ReplaceAll(parts[2], "_", " ")
}

// reason is why the tool chose, leading to the finding that governed.
func reason(c plan.Choice, found []working.Finding) web.Reason {
	parts := strings.SplitN(c.Path, ".", 4)
	r := web.Reason{Title: c.Why}
	if rule := rules.Find(c.Rule); rule != nil {
		for _, f := range found {
			if f.Rule == c.Rule && len(parts) > 2 && site.PlaceRoot(f.Place) == parts[2] {
				r.Finding, r.Verdict = f.ID(), f.Verdict
			}
		}
	}
	return r
}

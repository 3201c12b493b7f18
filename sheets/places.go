package sheets

import (
	"slices"
	"strings"

	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/line"
	"legwork/site"
	"legwork/working"
)

// places is the line of the plant and the worst verdict at each place.
type places struct {
	line  line.Line
	worst map[string]working.Verdict // by place root
}

// Line is the plant as a line of places, each with the worst verdict there.
func Line(p *site.Plant, findings []working.Finding) line.Line {
	return placesOf(&Input{Plant: p, Findings: findings}).line
}

func placesOf(in *Input) places {
	p := in.Plant
	out := places{worst: map[string]working.Verdict{}}
	for _, f := range in.Findings {
		if !f.NotCovered && !f.Unconfirmed() {
			root := site.PlaceRoot(f.Place)
			out.worst[root] = working.Worse(out.worst[root], f.Verdict)
		}
	}
	add := func(n line.Node) { out.line.Nodes = append(out.line.Nodes, n) }

	roof := line.Node{ID: "roof", Label: "roof", Sub: unitsOf(p), Kind: line.Roof, Strands: len(p.Branches)}
	for _, b := range p.Branches {
		roof.Verdict = working.Worse(roof.Verdict, out.worst[b.ID])
	}
	add(roof)
	for _, j := range p.Job.JunctionBoxes {
		strands := 0
		for _, b := range p.Branches {
			if b.From == j.ID {
				strands++
			}
		}
		add(line.Node{ID: j.ID, Label: clip(nameOr(j.Name.Value, "junction box"), 34), Kind: line.Junction, Strands: strands})
	}
	for _, r := range p.Runs {
		if slices.ContainsFunc(r.Circuits, func(c *site.Circuit) bool { return c.Branch != nil }) {
			add(line.Node{ID: r.ID, Label: clip(r.Name, 34), Sub: r.Length.String(), Kind: line.Run, Strands: len(r.Circuits), Verdict: out.worst[r.ID]})
		}
	}
	// Farthest from the service first; p.Buses has combiners before panels.
	buses := slices.Clone(p.Buses)
	slices.SortStableFunc(buses, func(a, b *site.Bus) int { return depth(b) - depth(a) })
	for _, b := range buses {
		kind := line.Panel
		if b.Kind == site.CombinerBus {
			kind = line.Combiner
		}
		add(line.Node{ID: b.ID, Label: clip(busName(b), 34), Sub: b.Rating.String() + " bus", Kind: kind, Existing: !b.New, Verdict: out.worst[b.ID]})
		if b.Up == nil {
			continue
		}
		add(line.Node{ID: b.Up.Run.ID, Label: clip(b.Up.Run.Name, 34), Sub: b.Up.Run.Length.String(), Kind: line.Run, Existing: b.Up.Run.Existing, Verdict: out.worst[b.Up.Run.ID]})
		if b.Up.Supply != nil {
			id := b.Up.Supply.Connection.ID + "/tap"
			add(line.Node{ID: id, Label: "tap ahead of the main", Kind: line.Tap, Verdict: out.worst[site.PlaceRoot(id)]})
		}
	}
	add(line.Node{ID: "service", Label: "utility meter", Kind: line.Meter, Existing: true, Verdict: out.worst["service"]})
	add(line.Node{ID: "utility", Label: "utility", Kind: line.Service, Existing: true})
	return out
}

// fitted shortens labels that stand above a second line, so that both stay
// within the strip.
func fitted(l line.Line, width float64) line.Line {
	l.Nodes = slices.Clone(l.Nodes)
	for i, n := range l.Nodes {
		if n.Sub != "" {
			l.Nodes[i].Label = wrapped(n.Label, scene.Note, font.Regular, width/float64(len(l.Nodes))-2, 1)[0]
		}
	}
	return l
}

// unitsOf counts the units, "? units" before there are any.
func unitsOf(p *site.Plant) string {
	if len(p.Units) == 0 {
		return "? units"
	}
	return plural(len(p.Units), "unit", "units")
}

// depth counts the ties from a bus to the service.
func depth(b *site.Bus) int {
	n := 0
	for ; b != nil && b.Up != nil; b = b.Up.To {
		n++
	}
	return n
}

func nameOr(name, other string) string {
	if strings.TrimSpace(name) == "" {
		return other
	}
	return name
}

func busName(b *site.Bus) string { return nameOr(b.Name, b.ID) }

// upper begins with a capital.
func upper(s string) string {
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// letterOf is a branch's place in the order that hatches follow.
func (in *Input) letterOf(b *site.Branch) int { return slices.Index(in.Plant.Branches, b) }

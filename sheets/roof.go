package sheets

import (
	"fmt"
	"slices"
	"strings"

	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/symbol"
	"legwork/site"
)

// roof draws the branches down to the buses.
func (d *diagram) roof() {
	var columns []*column
	for _, s := range d.lay.tiers {
		columns = append(columns, s.columns...)
	}
	columns = append(columns, d.lay.loose...)
	for _, c := range columns {
		d.branch(c)
	}
	if len(columns) == 0 {
		d.undecided()
	}
	for _, s := range d.lay.tiers {
		d.homeRuns(s)
	}
	d.junctions(columns)
	for _, c := range d.lay.loose {
		d.down(scene.New, c.x, d.lay.junction, d.lay.junction+8)
		d.g.Add(scene.Text{At: scene.Point{X: c.x, Y: d.lay.junction + 12}, Value: "?", Size: scene.Heading, Face: font.Bold, Anchor: scene.Middle})
		d.note("branch %s lands on no bus yet: decide it, or let the plan choose", c.branch.ID)
	}
}

// undecided stands for branches that nobody has chosen.
func (d *diagram) undecided() {
	at := scene.Rect{X: d.area.X, Y: d.lay.roof + roofHigh - 11, W: 30, H: 11, Stroke: scene.New.With(scene.Dashed), Fill: scene.Paper}
	d.g.Add(at, scene.Text{At: at.Middle().Plus(0, scene.Heading/2), Value: "?", Size: scene.Heading, Face: font.Bold, Anchor: scene.Middle})
	d.label(scene.Point{X: at.X, Y: at.Y - 9}, 80, []scene.Piece{bold(unitsOf(d.in.Plant))}, "branches not chosen yet")
	d.note("branches are not chosen yet")
	x := d.area.X + lineIn
	d.down(scene.New, x, at.Y+at.H, d.lay.junction)
	for i, j := range d.in.Plant.Job.JunctionBoxes {
		d.junction(j.ID, d.area.X+float64(i)*(d.lay.pitch+2), d.lay.pitch)
	}
}

func (d *diagram) branch(c *column) {
	b := c.branch
	wide := d.lay.pitch - 4
	g := scene.Group{ID: b.ID}
	var models []string
	for _, m := range b.Groups() {
		models = append(models, fmt.Sprintf("%d × %s", m.Count, m.Inverter.ID))
	}
	var planes []string
	for _, u := range b.Units {
		if !slices.Contains(planes, u.Plane.ID) {
			planes = append(planes, u.Plane.ID)
		}
	}
	word := "plane "
	if len(planes) > 1 {
		word = "planes "
	}
	amps := "? A"
	if f := d.in.found("branch-current", b.ID); f != nil && f.Test != nil && f.Test.Left.Known() {
		amps = f.Test.Left.String()
	}
	y := d.lay.roof + scene.Note
	for i, row := range []string{join(", ", models...), word + strings.Join(planes, ", "), amps + ", " + string(b.Feed) + "-fed"} {
		face := font.Regular
		if i == 0 {
			face = font.Bold
		}
		g.Add(scene.Text{At: scene.Point{X: c.left, Y: y}, Value: wrapped(row, scene.Note, face, wide, 1)[0], Size: scene.Note, Face: face})
		y += scene.Leading(scene.Note)
	}
	sample := scene.Rect{X: c.left, Y: d.lay.roof + roofHigh - 11, W: min(wide, 32) - symbol.InverterSide, H: 10}
	inverter := scene.Point{X: sample.X + sample.W + symbol.InverterSide/2, Y: sample.Y + 5}
	g.Add(symbol.Swatch(sample, b.ID, d.in.letterOf(b), scene.New), symbol.Inverter(inverter, scene.New))
	d.g.Add(g)
	d.down(scene.New, c.x, sample.Y+sample.H, d.lay.junction)
	if len(b.Units) > 0 && b.Units[0].Inverter.Trunk != nil {
		d.tag("trunk "+b.Units[0].Inverter.Trunk.ID, scene.Point{X: c.x, Y: (sample.Y + sample.H + d.lay.junction) / 2})
	}
}

// junctions draws the boxes over the conductors that enter them.
func (d *diagram) junctions(columns []*column) {
	var ids []string
	at := map[string][2]float64{}
	for _, c := range columns {
		id := c.branch.From
		span, seen := at[id]
		if !seen {
			ids = append(ids, id)
			span = [2]float64{c.left, c.left}
		}
		at[id] = [2]float64{min(span[0], c.left), max(span[1], c.left+d.lay.pitch-4)}
	}
	for _, id := range ids {
		d.junction(id, at[id][0], at[id][1]-at[id][0])
	}
}

// junction draws one box with its name.
func (d *diagram) junction(id string, x, wide float64) {
	name := "junction box ?"
	for _, j := range d.in.Plant.Job.JunctionBoxes {
		if j.ID == id {
			name = nameOr(j.Name.Value, id)
		}
	}
	r := scene.Rect{X: x, Y: d.lay.junction, W: wide, H: boxHigh, Stroke: scene.New, Fill: scene.Paper}
	g := scene.Group{ID: id}
	g.Add(r, symbol.JunctionBox(scene.Point{X: r.X + 3.5, Y: r.Y + r.H/2}, scene.Fine),
		scene.Text{At: scene.Point{X: r.X + 9, Y: r.Y + r.H/2 + scene.Note/2}, Size: scene.Note,
			Value: wrapped(name, scene.Note, font.Regular, r.W-11, 1)[0]})
	d.g.Add(g)
}

// homeRuns draws the conductors from the junction box to the stand's breakers:
// those of one raceway side by side, then each to its own.
func (d *diagram) homeRuns(s *stand) {
	from := d.lay.junction + boxHigh
	breaker := s.bar - breakerHigh + symbol.Reach
	for i := 0; i < len(s.columns); {
		j := i + 1
		for j < len(s.columns) && s.columns[j].branch.Run == s.columns[i].branch.Run {
			j++
		}
		same := s.columns[i:j]
		n := len(same)
		for k, c := range same {
			x := same[0].x + strand*float64(k)
			turn := s.top + titleHigh + strand*float64(n-1-k)
			if k == 0 {
				d.down(scene.New, x, from, breaker-symbol.Reach)
			} else {
				d.wire(scene.New, scene.Point{X: x, Y: from}, scene.Point{X: x, Y: turn}, scene.Point{X: c.x, Y: turn}, scene.Point{X: c.x, Y: breaker - symbol.Reach})
			}
			b := c.branch.Breaker
			d.g.Add(symbol.Breaker(scene.Point{X: c.x, Y: breaker}, scene.New))
			space := ""
			if len(b.Spaces) > 0 {
				space = "spaces " + b.SpaceList()
			}
			d.label(scene.Point{X: c.x + 4, Y: breaker - 1.6}, d.lay.pitch-6, rated(c.branch.ID, b), join(", ", poles(b), space))
		}
		if r := same[0].branch.Run; r != nil {
			x := same[0].x + strand*float64(n-1)
			y := from + (s.top-from)/2
			d.tag("run "+r.ID, scene.Point{X: x + 5.5, Y: y})
			rest := same[n-1].left + d.lay.pitch - (x + 10)
			if j == len(s.columns) {
				rest = s.x + s.w - (x + 12)
			}
			d.label(scene.Point{X: x + 10, Y: y - 2.2}, rest, []scene.Piece{say(clip(r.Name, 40) + ", "), shown(d.in, r.Length, font.Regular)}, warmest(r))
		} else {
			d.note("home run of branch %s is not in the document", same[0].branch.ID)
		}
		i = j
	}
}

// warmest names the hottest stretch of a run.
func warmest(r *site.Run) string {
	var hot *site.Segment
	for _, s := range r.Segments {
		if !s.Ambient.Known {
			return "air temperature ?"
		}
		if hot == nil || s.Ambient.Value > hot.Ambient.Value {
			hot = s
		}
	}
	if hot == nil {
		return ""
	}
	return fmt.Sprintf("hottest stretch: %s, %s", hot.Where, hot.Ambient)
}

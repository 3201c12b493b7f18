package sheets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwork/job"
	"legwork/quantity"
	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/frame"
	"legwork/scene/symbol"
	"legwork/site"
)

// roofScales are the scales that a roof is drawn at, inches on paper to a foot,
// the largest first; an architect's rule has them all but the last two.
var roofScales = []struct {
	name string
	inch float64
}{
	{`3/8" = 1'-0"`, 3.0 / 8}, {`1/4" = 1'-0"`, 1.0 / 4}, {`3/16" = 1'-0"`, 3.0 / 16}, {`1/8" = 1'-0"`, 1.0 / 8},
	{`3/32" = 1'-0"`, 3.0 / 32}, {`1/16" = 1'-0"`, 1.0 / 16}, {`1/32" = 1'-0"`, 1.0 / 32}, {`1/64" = 1'-0"`, 1.0 / 64},
}

// roofView is the roof seen from above, north up, laid into an area.
type roofView struct {
	p      *site.Plant
	g      scene.Group
	area   scene.Rect
	scale  string
	perFt  float64 // mm on paper to a foot
	origin scene.Point
	notes  []string
}

// Roof draws the planes of a plant to scale with their modules, branches and
// trunks. The notes tell what could not be drawn, and why. Nothing is drawn of a
// plane whose shape or place is not known.
func Roof(p *site.Plant, area scene.Rect) (g scene.Group, scale string, notes []string) {
	v := &roofView{p: p, area: area, g: scene.Group{ID: "roof"}}
	fields := v.fields()
	if len(fields) > 0 && v.fit(fields) {
		v.draw(fields)
	}
	return v.g, v.scale, v.notes
}

// RoofFilling draws the roof as large as a page of a given width shows it, at no
// scale of the list, with a north arrow; nil where nothing of it can be drawn.
func RoofFilling(p *site.Plant, width float64) (*scene.Scene, []string) {
	v := &roofView{p: p, g: scene.Group{ID: "roof"}}
	fields := v.fields()
	if len(fields) == 0 {
		return nil, v.notes
	}
	low, high := v.span(fields)
	const north, beside, below = 20, 33, 9 // room for the arrow and for names
	w, h := max(high.X-low.X, 1), max(high.Y-low.Y, 1)
	v.perFt = min((width-2*beside-north)/w, 0.6*width/h)
	size := scene.Size{W: width, H: h*v.perFt + 2*below}
	v.origin = scene.Point{X: (width-north-w*v.perFt)/2 - low.X*v.perFt, Y: size.H - below + low.Y*v.perFt}
	v.draw(fields)
	s := scene.Blank(size, "", "Roof plan")
	s.Add(v.g, symbol.North(scene.Point{X: width - 10, Y: 14}, 7, 0))
	return s, v.notes
}

// fields are the planes that can be drawn; of the others a note says what is
// missing.
func (v *roofView) fields() []*site.Field {
	p := v.p
	var fields []*site.Field
	for i := range p.Job.Planes {
		f := p.Field(&p.Job.Planes[i])
		if lacks := append(slices.Clone(f.Missing), f.Unplaced...); len(lacks) > 0 {
			var what []string
			for _, m := range lacks {
				what = append(what, m.What)
			}
			v.notes = append(v.notes, fmt.Sprintf("plane %s is not drawn: %s is missing", f.Plane.ID, strings.Join(what, ", ")))
			continue
		}
		fields = append(fields, f)
	}
	return fields
}

func (v *roofView) draw(fields []*site.Field) {
	p := v.p
	for _, f := range fields {
		v.plane(f)
	}
	for _, b := range p.Branches {
		v.trunk(b, fields)
	}
	for _, f := range fields {
		for _, u := range p.Units {
			if u.Plane == f.Plane {
				v.label(f, u)
			}
		}
		v.name(f)
	}
	for i := range p.Job.JunctionBoxes {
		if j := &p.Job.JunctionBoxes[i]; j.At.Known {
			v.g.Add(scene.Group{ID: j.ID, Items: []scene.Item{symbol.JunctionBox(v.at(j.At.Value), scene.New)}})
		} else {
			v.notes = append(v.notes, fmt.Sprintf("the place of the %s is not known; its cable is not drawn", nameOr(j.Name.Value, "junction box")))
		}
	}
}

// aroundRoof is the room kept around the planes for their names.
const aroundRoof = 9.0

// span is the lowest and the highest of all places in plan view, ft.
func (v *roofView) span(fields []*site.Field) (low, high scene.Point) {
	low, high = scene.Point{X: math.Inf(1), Y: math.Inf(1)}, scene.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	add := func(p job.Point) {
		low.X, low.Y = min(low.X, float64(p.X)), min(low.Y, float64(p.Y))
		high.X, high.Y = max(high.X, float64(p.X)), max(high.Y, float64(p.Y))
	}
	for _, f := range fields {
		for _, c := range f.Plane.Outline {
			add(c)
		}
	}
	for _, j := range v.p.Job.JunctionBoxes {
		if j.At.Known {
			add(j.At.Value)
		}
	}
	return low, high
}

// fit chooses the largest scale of the list at which all planes fit the area.
func (v *roofView) fit(fields []*site.Field) bool {
	low, high := v.span(fields)
	for _, s := range roofScales {
		k := s.inch * 25.4
		w, h := (high.X-low.X)*k, (high.Y-low.Y)*k
		if w <= v.area.W-2*aroundRoof && h <= v.area.H-2*aroundRoof {
			v.scale, v.perFt = s.name, k
			v.origin = scene.Point{X: v.area.X + (v.area.W-w)/2 - low.X*k, Y: v.area.Y + (v.area.H+h)/2 + low.Y*k}
			return true
		}
	}
	v.notes = append(v.notes, "the roof is too large for this sheet at any scale of the list")
	return false
}

// at is a place in plan view on the paper; north is up.
func (v *roofView) at(p job.Point) scene.Point {
	return scene.Point{X: v.origin.X + float64(p.X)*v.perFt, Y: v.origin.Y - float64(p.Y)*v.perFt}
}

func (v *roofView) corners(f *site.Field, r site.Rect) []scene.Point {
	var out []scene.Point
	for _, c := range f.Corners(r) {
		out = append(out, v.at(c))
	}
	return out
}

// plane draws outline, eave, setbacks, obstructions and modules of one plane.
func (v *roofView) plane(f *site.Field) {
	pl := f.Plane
	var outline []scene.Point
	for _, c := range pl.Outline {
		outline = append(outline, v.at(c))
	}
	v.g.Add(scene.Polygon{Points: outline, Stroke: scene.Existing})
	v.g.Add(scene.Line{A: outline[0], B: outline[1], Stroke: scene.Existing.Weight(0.9)}) // the eave
	v.setbacks(f)
	for i, o := range f.Obstructions() {
		c := v.corners(f, o)
		v.g.Add(scene.Polygon{Points: c, Stroke: scene.Existing, Fill: scene.Paper},
			scene.Line{A: c[0], B: c[2], Stroke: scene.Fine}, scene.Line{A: c[1], B: c[3], Stroke: scene.Fine})
		v.notes = append(v.notes, fmt.Sprintf("crossed on plane %s: %s", pl.ID, pl.Obstructions[i].ID))
	}
	for _, u := range v.p.Units {
		if u.Plane == pl {
			v.unit(f, u)
		}
	}
}

// setbacks draws the strips that stay free, as dotted lines.
func (v *roofView) setbacks(f *site.Field) {
	s := f.Plane.Setbacks
	width, height := f.Extent()
	lines := []struct {
		at   job.Fact[quantity.Feet]
		a, b [2]quantity.Feet
	}{
		{s.Eave, [2]quantity.Feet{0, s.Eave.Value}, [2]quantity.Feet{width, s.Eave.Value}},
		{s.Ridge, [2]quantity.Feet{0, height - s.Ridge.Value}, [2]quantity.Feet{width, height - s.Ridge.Value}},
		{s.Left, [2]quantity.Feet{s.Left.Value, 0}, [2]quantity.Feet{s.Left.Value, height}},
		{s.Right, [2]quantity.Feet{width - s.Right.Value, 0}, [2]quantity.Feet{width - s.Right.Value, height}},
	}
	for _, l := range lines {
		if l.at.Known && l.at.Value > 0 {
			v.g.Add(scene.Line{A: v.at(f.PlanView(l.a[0], l.a[1])), B: v.at(f.PlanView(l.b[0], l.b[1])), Stroke: scene.Fine.With(scene.Dotted)})
		}
	}
}

// unit draws the modules of a unit with the hatch of its branch.
func (v *roofView) unit(f *site.Field, u *site.Unit) {
	r := f.Unit(u)
	c := v.corners(f, r)
	g := scene.Group{ID: u.Position}
	if u.Branch != nil {
		g.Add(symbol.Branch(c, slices.Index(v.p.Branches, u.Branch)))
	}
	pen := scene.New
	if u.Branch == nil {
		pen = scene.Existing.With(scene.Dashed)
	}
	g.Add(scene.Polygon{Points: c, Stroke: pen})
	v.g.Add(g)
}

// letterR is the radius of a branch's letter at its feed, mm.
const letterR = 2.45

// label writes a unit's row and column below its middle, where the letters fit.
// It comes after the trunk, which passes behind it.
func (v *roofView) label(f *site.Field, u *site.Unit) {
	r := f.Unit(u)
	c := v.corners(f, r)
	level, upright := across(c)
	name := strings.TrimPrefix(u.Position, u.Plane.ID+"-")
	w := scene.Width(name, scene.Note, font.Regular)
	drop := max(letterR+0.1+scene.Note/2+0.5, 0.29*upright)
	if w+1 > level || drop+scene.Note/2 > upright/2 {
		return
	}
	at := v.at(f.PlanView(r.Center())).Plus(0, drop)
	v.g.Add(scene.Rect{X: at.X - w/2 - 0.5, Y: at.Y - scene.Note/2 - 0.5, W: w + 1, H: scene.Note + 1, Fill: scene.Paper},
		scene.Text{At: at.Plus(0, scene.Note/2), Value: name, Size: scene.Note, Anchor: scene.Middle})
}

// across is the level and the upright span through the middle of a drawn
// rectangle.
func across(c []scene.Point) (level, upright float64) {
	a := math.Hypot(c[1].X-c[0].X, c[1].Y-c[0].Y)
	b := math.Hypot(c[3].X-c[0].X, c[3].Y-c[0].Y)
	cos, sin := math.Abs(c[1].X-c[0].X)/a, math.Abs(c[1].Y-c[0].Y)/a
	span := func(along, square float64) float64 {
		const straight = 1e-9
		switch {
		case square < straight:
			return a
		case along < straight:
			return b
		}
		return min(a/along, b/square)
	}
	return span(cos, sin), span(sin, cos)
}

// name writes the plane's name, azimuth and pitch outside its eave; a jumper
// passes behind it.
func (v *roofView) name(f *site.Field) {
	a, b := v.at(f.Plane.Outline[0]), v.at(f.Plane.Outline[1])
	mid := scene.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	// Down the slope on paper: the eave runs left to right seen from the ground,
	// so that outside is at its right hand.
	nx, ny := -(b.Y-a.Y)/l, (b.X-a.X)/l
	said := fmt.Sprintf("%s   %s, %s", f.Plane.ID, azimuthOf(f.Plane), pitchOf(f.Plane))
	t := scene.Text{Value: said, Size: scene.Body, Face: font.Bold, Anchor: scene.Middle}
	reach := 2.2 + math.Abs(ny)*scene.Body/2 + math.Abs(nx)*t.Width()/2
	t.At = mid.Plus(nx*reach, ny*reach+scene.Body/2)
	w := t.Width()
	plate := scene.Rect{X: t.At.X - w/2 - 0.5, Y: t.At.Y - scene.Body - 0.5, W: w + 1, H: scene.Body + 1, Fill: scene.Paper}
	v.g.Add(scene.Group{ID: "plane-" + f.Plane.ID, Items: []scene.Item{plate, t}})
}

func azimuthOf(pl *job.Plane) string {
	if !pl.Azimuth.Known {
		return "azimuth ?"
	}
	return quantity.Trim(float64(pl.Azimuth.Value), 0) + "°"
}

func pitchOf(pl *job.Plane) string {
	if !pl.Pitch.Known {
		return "pitch ?"
	}
	return "pitch " + quantity.Trim(float64(pl.Pitch.Value), 0) + "°"
}

// trunk draws the cable of a branch through its units: solid from drop to drop,
// dashed where a jumper bridges, with the branch's letter at the feed and a cap
// at the end.
func (v *roofView) trunk(b *site.Branch, fields []*site.Field) {
	middle := func(u *site.Unit) (scene.Point, bool) {
		for _, f := range fields {
			if f.Plane == u.Plane {
				return v.at(f.PlanView(f.Unit(u).Center())), true
			}
		}
		return scene.Point{}, false
	}
	if len(b.Units) == 0 {
		return
	}
	g := scene.Group{ID: b.ID, Layer: "trunk"}
	box, known := v.box(b.From)
	for _, arm := range b.Trunk() {
		prev, from := box, known
		for i, s := range arm {
			at, drawn := middle(s.To)
			pen := scene.New.Weight(0.7)
			if s.Jumper || i == 0 || arm[i-1].To.Plane != s.To.Plane {
				pen = pen.With(scene.Dashed)
			}
			if drawn && from {
				g.Add(scene.Line{A: prev, B: at, Stroke: pen})
			}
			prev, from = at, drawn
		}
		if from {
			g.Add(symbol.Cap(prev))
		}
	}
	if feed, drawn := middle(b.Trunk()[0][0].To); drawn {
		size, _ := scene.FitText(b.ID, letterR, font.Bold, 1.5*letterR)
		g.Add(scene.Circle{Center: feed, R: letterR, Stroke: scene.New, Fill: scene.Paper},
			scene.Text{At: feed.Plus(0, size/2), Value: b.ID, Size: size, Face: font.Bold, Anchor: scene.Middle})
	}
	v.g.Add(g)
}

func (v *roofView) box(id string) (scene.Point, bool) {
	for _, j := range v.p.Job.JunctionBoxes {
		if j.ID == id && j.At.Known {
			return v.at(j.At.Value), true
		}
	}
	return scene.Point{}, false
}

// besideRoof is what the table of branches needs at the right.
const besideRoof = 78.0

func drawRoofPlan(in *Input) ([]*scene.Scene, error) {
	p := in.paper("E-101", []frame.Key{
		{Sign: frame.ExistingLine, Text: "roof, eave heavier"},
		{Sign: frame.NewLine, Text: "module, trunk cable"},
		{Sign: frame.GivenMark, Text: "given by a person"},
		{Sign: frame.ChosenMark, Text: "chosen or worked out"},
	},
		"Work at height: fall protection. Modules make DC as soon as light falls on them.",
		"Setbacks for fire access are local law: ask the fire department.",
	)
	page, room, err := p.next()
	if err != nil {
		return nil, err
	}
	area := room.Drawing
	area.W -= besideRoof + 6
	bar := 12.0
	area.H -= bar
	g, scale, notes := Roof(in.Plant, area)
	page.Add(g)
	foot := scene.Point{X: area.X, Y: area.Y + area.H + bar - 6}
	if scale != "" {
		perFt := perFoot(scale)
		fields, step := 4, 5.0
		page.Add(symbol.ScaleBar(foot, fields, step, perFt, "ft"))
		page.Add(scene.Text{At: foot.Plus(float64(fields)*step*perFt+14, 0), Value: "scale " + scale + " on this sheet size; the bar stays true", Size: scene.Note})
	}
	right := scene.Rect{X: area.X + area.W + 6, Y: area.Y, W: besideRoof, H: area.H}
	page.Add(symbol.North(scene.Point{X: right.X + right.W - 9, Y: right.Y + 14}, 8, 0))
	in.branchList(page, right, notes)
	return p.pages, nil
}

// perFoot is mm on paper to a foot at a scale of the list.
func perFoot(scale string) float64 {
	for _, s := range roofScales {
		if s.name == scale {
			return s.inch * 25.4
		}
	}
	return 0
}

// branchList tells each branch beside the roof: swatch, units, planes, feed,
// current; then the notes.
func (in *Input) branchList(page *scene.Scene, at scene.Rect, notes []string) {
	y := at.Y + scene.Heading
	page.Add(scene.Text{At: scene.Point{X: at.X, Y: y}, Value: "Branches", Size: scene.Heading, Face: font.Bold})
	y += 9
	for i, b := range in.Plant.Branches {
		page.Add(symbol.Swatch(scene.Rect{X: at.X, Y: y, W: 14, H: 9}, b.ID, i, scene.New))
		rows := []string{fmt.Sprintf("%d units, %s-fed", len(b.Units), b.Feed)}
		if n := len(b.Units); n > 0 {
			rows = append(rows, fmt.Sprintf("%s to %s", b.Units[0].Position, b.Units[n-1].Position))
			trunk := b.Units[0].Inverter.Trunk
			rows = append(rows, fmt.Sprintf("trunk %s: %s %s", trunk.ID, trunk.Size, trunk.Material.Value.Short()))
		}
		t, below := lines(scene.Point{X: at.X + 18, Y: y + scene.Note}, rows, scene.Note, font.Regular)
		page.Add(t)
		y = max(y+9, below) + 4
	}
	y += 4
	if len(notes) == 0 {
		return
	}
	page.Add(scene.Text{At: scene.Point{X: at.X, Y: y + scene.Heading}, Value: "Notes", Size: scene.Heading, Face: font.Bold})
	y += 2*scene.Heading + 3
	for _, n := range notes {
		t, below := lines(scene.Point{X: at.X, Y: y}, scene.Wrap(n, scene.Note, font.Regular, at.W), scene.Note, font.Regular)
		page.Add(t)
		y = below + 1.5
	}
}

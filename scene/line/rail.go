package line

import (
	"math"

	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/symbol"
)

// RailStep is the least height of one place on a rail, RoofHeight that of the
// roof; a place with many lines of words takes as much as these ask.
const (
	RailStep   = 18.0
	RoofHeight = 22.0
)

const (
	axis        = 18.0 // from the rail's left edge
	halfLine    = 1.7  // of a line of words, from its middle
	wordsApart  = 3.0  // between the words of two places
	labelAt     = axis + 9
	swatchHigh  = 6.0
	swatchWide  = 9.0
	swatchPitch = 10.5
)

// Rail draws the line from top to bottom, its upper left corner at at, and
// returns its height.
func (l Line) Rail(at scene.Point, width float64) (g scene.Group, height float64) {
	stops := make([]stop, len(l.Nodes))
	y := at.Y
	for i, n := range l.Nodes {
		stops[i] = l.stop(n, scene.Point{X: at.X, Y: y}, width)
		y += stops[i].high
	}
	for i := range max(0, len(stops)-1) {
		g.Add(l.Nodes[i].strands(stops[i].center, stops[i+1].center))
	}
	for i, s := range stops {
		n, c := l.Nodes[i], s.center
		node := scene.Group{ID: n.ID, Link: n.Link}
		node.Add(scene.Rect{X: at.X, Y: s.top, W: width, H: s.high}) // all of it can be touched
		if n.Kind == Tap {
			node.Add(scene.Line{A: c, B: c.Plus(-halfWide-3, 0), Stroke: scene.Existing})
		}
		if n.ID != "" && n.ID == l.Here {
			node.Add(here(c, s.glyph))
		}
		node.Add(s.glyph, symbol.Verdict(scene.Point{X: at.X + width - verdictR - 0.5, Y: c.Y}, verdictR, n.Verdict), s.words)
		g.Add(node)
	}
	return g, y - at.Y
}

// stop is one place laid out on the rail.
type stop struct {
	top, high    float64
	center       scene.Point
	glyph, words scene.Group
}

// stop lays a place out, its upper left corner at at.
func (l Line) stop(n Node, at scene.Point, width float64) stop {
	s := stop{top: at.Y, high: RailStep, center: at.Plus(axis, 0)}
	face := font.Regular
	if n.ID != "" && n.ID == l.Here {
		face = font.Bold
	}
	left, beside := labelAt, width-labelAt-2*verdictR-2
	if n.Kind == Roof {
		s.high = RoofHeight
		if right := n.swatches(s.center).Bounds().MaxX - at.X + 2.5; right > left {
			beside -= right - left
			left = right
		}
	}
	label, sub := n.wrapped(beside, face)
	rise := scene.Leading(scene.Note) * float64(len(label)+len(sub)-1) / 2 // of the words from their middle
	if n.Kind == Roof {
		// The samples stand at the top, the strands come together below them.
		s.center.Y += max(1+swatchHigh/2, rise+halfLine)
		s.high = max(s.high, s.center.Y-at.Y+rise+halfLine+wordsApart)
	} else {
		s.high = max(s.high, 2*rise+2*halfLine+wordsApart)
		s.center.Y += s.high / 2
	}
	s.glyph = n.glyph(s.center)
	if n.Kind == Roof {
		s.glyph = n.swatches(s.center)
	}
	s.words = words(scene.Point{X: at.X + left, Y: s.center.Y - rise + scene.Note/2}, label, sub, face)
	return s
}

// wrapped breaks label and second line to a width.
func (n Node) wrapped(width float64, face font.Face) (label, sub []string) {
	label = scene.Wrap(n.Label, scene.Body, face, width)
	if n.Sub != "" {
		sub = scene.Wrap(n.Sub, scene.Note, font.Regular, width)
	}
	return label, sub
}

// words sets label and second line from the base line at at on.
func words(at scene.Point, label, sub []string, face font.Face) scene.Group {
	var g scene.Group
	step := scene.Leading(scene.Note)
	for _, s := range label {
		g.Add(scene.Text{At: at, Value: s, Size: scene.Body, Face: face})
		at = at.Plus(0, step)
	}
	for _, s := range sub {
		g.Add(scene.Text{At: at, Value: s, Size: scene.Note, Color: scene.Muted})
		at = at.Plus(0, step)
	}
	return g
}

// swatches shows the branches of a roof side by side.
func (n Node) swatches(c scene.Point) scene.Group {
	if n.Strands < 1 || n.Strands > mostDrawn {
		return n.glyph(c)
	}
	var g scene.Group
	pitch, wide := n.swatch()
	for i := range n.Strands {
		x := c.X + (float64(i)-float64(n.Strands-1)/2)*pitch
		g.Add(symbol.Swatch(scene.Rect{X: x - wide/2, Y: c.Y - swatchHigh/2, W: wide, H: swatchHigh}, string(rune('A'+i)), i, n.pen()))
	}
	return g
}

// swatch is pitch and width of a roof's samples: narrower where many.
func (n Node) swatch() (pitch, wide float64) {
	pitch = min(swatchPitch, 2*axis/float64(n.Strands))
	return pitch, pitch - (swatchPitch - swatchWide)
}

// strands runs the conductors of n down to the next node. From the roof's
// samples they come together, the outer ones bending lower so that none cross.
func (n Node) strands(from, to scene.Point) scene.Group {
	var g scene.Group
	offsets := n.offsets()
	for i, dx := range offsets {
		if n.Kind != Roof || len(offsets) == 1 {
			g.Add(scene.Line{A: from.Plus(dx, -lap), B: to.Plus(dx, 0), Stroke: n.pen()})
			continue
		}
		pitch, _ := n.swatch()
		outward := float64(i) - float64(len(offsets)-1)/2
		start := from.Plus(outward*pitch, swatchHigh/2)
		bend := from.Y + swatchHigh/2 + 3 + strandStep*math.Abs(outward)
		g.Add(scene.Polyline{Points: []scene.Point{start, {X: start.X, Y: bend}, {X: to.X + dx, Y: bend}, to.Plus(dx, 0)}, Stroke: n.pen()})
	}
	mid := scene.Point{X: to.X, Y: (from.Y + to.Y) / 2}
	g.Add(count(mid, n.Strands, scene.Point{X: 4, Y: scene.Note / 2}))
	return g
}

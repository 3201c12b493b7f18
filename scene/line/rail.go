package line

import (
	"math"

	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/symbol"
)

// RailStep is the height of one place on a rail; the roof takes RoofHeight.
const (
	RailStep   = 18.0
	RoofHeight = 22.0
)

const (
	axis        = 18.0 // from the rail's left edge
	labelAt     = axis + 9
	swatchHigh  = 6.0
	swatchWide  = 9.0
	swatchPitch = 10.5
)

// Rail draws the line from top to bottom, its upper left corner at at, and
// returns its height.
func (l Line) Rail(at scene.Point, width float64) (g scene.Group, height float64) {
	var centers []scene.Point
	y := at.Y
	for _, n := range l.Nodes {
		step := RailStep
		if n.Kind == Roof {
			step = RoofHeight
			centers = append(centers, scene.Point{X: at.X + axis, Y: y + 1 + swatchHigh/2})
		} else {
			centers = append(centers, scene.Point{X: at.X + axis, Y: y + step/2})
		}
		y += step
	}
	for i := range max(0, len(l.Nodes)-1) {
		g.Add(l.Nodes[i].strands(centers[i], centers[i+1]))
	}
	y = at.Y
	for i, n := range l.Nodes {
		c, step := centers[i], RailStep
		if n.Kind == Roof {
			step = RoofHeight
		}
		node := scene.Group{ID: n.ID, Link: n.Link}
		node.Add(scene.Rect{X: at.X, Y: y, W: width, H: step}) // all of it can be touched
		if n.Kind == Tap {
			node.Add(scene.Line{A: c, B: c.Plus(-halfWide-3, 0), Stroke: scene.Existing})
		}
		glyph := n.glyph(c)
		left, beside := at.X+labelAt, width-labelAt-2*verdictR-2
		if n.Kind == Roof {
			glyph = n.swatches(c)
			if right := glyph.Bounds().MaxX + 2.5; right > left {
				beside -= right - left
				left = right
			}
		}
		face := font.Regular
		if n.ID != "" && n.ID == l.Here {
			face = font.Bold
			node.Add(here(c, glyph))
		}
		node.Add(glyph, symbol.Verdict(scene.Point{X: at.X + width - verdictR - 0.5, Y: c.Y}, verdictR, n.Verdict))
		node.Add(n.words(scene.Point{X: left, Y: c.Y}, beside, face))
		g.Add(node)
		y += step
	}
	return g, y - at.Y
}

// words sets label and second line, their middle at the height of at.
func (n Node) words(at scene.Point, width float64, face font.Face) scene.Group {
	lines := scene.Wrap(n.Label, scene.Body, face, width)
	var sub []string
	if n.Sub != "" {
		sub = scene.Wrap(n.Sub, scene.Note, font.Regular, width)
	}
	step := scene.Leading(scene.Note)
	y := at.Y - step*float64(len(lines)+len(sub)-1)/2 + scene.Note/2
	var g scene.Group
	for _, s := range lines {
		g.Add(scene.Text{At: scene.Point{X: at.X, Y: y}, Value: s, Size: scene.Body, Face: face})
		y += step
	}
	for _, s := range sub {
		g.Add(scene.Text{At: scene.Point{X: at.X, Y: y}, Value: s, Size: scene.Note, Color: scene.Muted})
		y += step
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

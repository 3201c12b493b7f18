package line

import (
	"legwork/scene"
	"legwork/scene/symbol"
)

// StripAbove is how far a strip reaches above its axis.
const StripAbove = halfHigh + verdictGap + 2*verdictR

const verdictGap = 2.4 // between a place and its verdict; the frame of Here fits in

// enough is the column width, mm, from which on second lines are set.
const enough = 24

// Strip draws the line from left to right along the axis that begins at at,
// width wide, and returns how far it reaches below the axis. Labels wrap to
// their column.
func (l Line) Strip(at scene.Point, width float64) (g scene.Group, below float64) {
	if len(l.Nodes) == 0 {
		return g, 0
	}
	column := width / float64(len(l.Nodes))
	center := func(i int) scene.Point { return at.Plus((float64(i)+0.5)*column, 0) }

	for i := range len(l.Nodes) - 1 { // strands first: glyphs stand upon them
		n := l.Nodes[i]
		for _, dy := range n.offsets() {
			g.Add(scene.Line{A: center(i).Plus(0, dy), B: center(i+1).Plus(0, dy), Stroke: n.pen()})
		}
		g.Add(count(center(i).Plus(column/2, 0), n.Strands, scene.Point{X: 0, Y: -2.4}))
	}
	below = halfHigh
	var nodes []scene.Group
	for i, n := range l.Nodes {
		c := center(i)
		node := scene.Group{ID: n.ID, Link: n.Link}
		if n.Kind == Tap { // the house goes off to the side
			node.Add(scene.Line{A: c, B: c.Plus(0, halfHigh), Stroke: scene.Existing})
		}
		glyph := n.glyph(c)
		if n.ID != "" && n.ID == l.Here {
			node.Add(here(c, glyph))
		}
		node.Add(glyph, symbol.Verdict(c.Plus(0, -halfHigh-verdictGap-verdictR), verdictR, n.Verdict))

		y := c.Y + halfHigh + 2.4 + scene.Note
		set := func(s string, color scene.Color) {
			if s == "" {
				return
			}
			t := scene.Text{At: scene.Point{X: c.X, Y: y}, Value: s, Size: scene.Note, Anchor: scene.Middle, Color: color}
			block, next := scene.Block(t, column-0.8)
			node.Add(block)
			y = next.Y
		}
		set(n.Label, scene.None)
		if column >= enough {
			set(n.Sub, scene.Muted)
		}
		below = max(below, y-scene.Leading(scene.Note)+1-at.Y)
		nodes = append(nodes, node)
	}
	for i, node := range nodes { // the whole column can be touched
		reach := scene.Rect{X: at.X + float64(i)*column, Y: at.Y - StripAbove, W: column, H: StripAbove + below}
		node.Items = append([]scene.Item{reach}, node.Items...)
		g.Add(node)
	}
	return g, below
}

package line

import (
	"strings"

	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/symbol"
)

// StripAbove is how far a strip reaches above its axis.
const StripAbove = halfHigh + verdictGap + 2*verdictR

const verdictGap = 2.4 // between a place and its verdict; the frame of Here fits in

// enough is the column width, mm, from which on second lines are set.
const enough = 24

// air is what a column keeps free beside its widest word, mm.
const air = 0.8

// columns are the edges of the places' columns: all of one width when every
// word and box fits into that, else each as wide as these ask and an equal
// share of what is left. Where even that is too much, words are broken.
func (l Line) columns(width float64) []float64 {
	equal := width / float64(len(l.Nodes))
	fits, rest := true, width
	needs := make([]float64, len(l.Nodes))
	for i, n := range l.Nodes {
		needs[i] = n.glyph(scene.Point{}).Bounds().Rect().W + air
		for _, word := range strings.Fields(n.Label) {
			needs[i] = max(needs[i], scene.Width(word, scene.Note, font.Regular)+air+0.01)
		}
		fits = fits && needs[i] <= equal
		rest -= needs[i]
	}
	edges := make([]float64, len(l.Nodes)+1)
	for i := range l.Nodes {
		column := equal
		if !fits && rest >= 0 {
			column = needs[i] + rest/float64(len(l.Nodes))
		}
		edges[i+1] = edges[i] + column
	}
	return edges
}

// Strip draws the line from left to right along the axis that begins at at,
// width wide, and returns how far it reaches below the axis. Labels wrap to
// their column.
func (l Line) Strip(at scene.Point, width float64) (g scene.Group, below float64) {
	if len(l.Nodes) == 0 {
		return g, 0
	}
	edges := l.columns(width)
	wide := func(i int) float64 { return edges[i+1] - edges[i] }
	center := func(i int) scene.Point { return at.Plus((edges[i]+edges[i+1])/2, 0) }

	for i := range len(l.Nodes) - 1 { // strands first: glyphs stand upon them
		n := l.Nodes[i]
		for _, dy := range n.offsets() {
			g.Add(scene.Line{A: center(i).Plus(-lap, dy), B: center(i+1).Plus(0, dy), Stroke: n.pen()})
		}
		g.Add(count(at.Plus(edges[i+1], 0), n.Strands, scene.Point{X: 0, Y: -2.4}))
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

		y := c.Y + halfHigh + 3.2 + scene.Note
		set := func(s string, color scene.Color) {
			if s == "" {
				return
			}
			t := scene.Text{At: scene.Point{X: c.X, Y: y}, Value: s, Size: scene.Note, Anchor: scene.Middle, Color: color}
			block, next := scene.Block(t, wide(i)-air)
			node.Add(block)
			y = next.Y
		}
		set(n.Label, scene.None)
		if wide(i) >= enough {
			set(n.Sub, scene.Muted)
		}
		below = max(below, y-scene.Leading(scene.Note)+1-at.Y)
		nodes = append(nodes, node)
	}
	for i, node := range nodes { // the whole column can be touched
		reach := scene.Rect{X: at.X + edges[i], Y: at.Y - StripAbove, W: wide(i), H: StripAbove + below}
		node.Items = append([]scene.Item{reach}, node.Items...)
		g.Add(node)
	}
	return g, below
}

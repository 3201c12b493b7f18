// Package line draws the plant as a line of places, from the roof to the
// utility: as a strip (phone, sheet margin) or as a rail (desk). Each place is
// a group with its id and link and wears the worst verdict found there.
//
// The drawing is the job's own: as many strands as there are circuits, a node
// for each panel between. It holds no rules; who calls it has walked the site.
package line

import (
	"fmt"
	"strings"

	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/symbol"
	"legwork/working"
)

// Kind is what stands at a node.
type Kind string

// The kinds of places.
const (
	Roof     Kind = "roof"     // the branches; Strands of them
	Junction Kind = "junction" // a box
	Run      Kind = "run"      // conductors in a raceway
	Combiner Kind = "combiner" // a panelboard for the branches
	Panel    Kind = "panel"    // main panel or subpanel
	Tap      Kind = "tap"      // a connection ahead of the main; the house goes off to the side
	Meter    Kind = "meter"    // the utility's
	Service  Kind = "service"  // the utility's transformer
)

// Node is one place on the line.
type Node struct {
	ID       string // place id
	Label    string
	Sub      string // second line: size, count; left out where room is short
	Kind     Kind
	Strands  int // circuits that leave the node toward the utility; 0 counts as 1
	Existing bool
	Verdict  working.Verdict // worst found here; empty for none
	Link     string
}

// Line is the places in order, from the roof to the utility.
type Line struct {
	Nodes []Node
	Here  string // id of the place in view; empty for none
}

const (
	verdictR   = 2.0
	halfWide   = 4.5 // of a box on the line
	halfHigh   = 3.5
	strandStep = 1.7
	lap        = 0.1 // strands overlap where they meet, or a screen shows the seam
	mostDrawn  = 5   // strands; more are one stroke with a figure
)

func (n Node) pen() scene.Stroke {
	if n.Existing {
		return scene.Existing
	}
	return scene.New
}

// offsets are where the strands of a node lie beside the line's axis.
func (n Node) offsets() []float64 {
	if n.Strands <= 1 || n.Strands > mostDrawn {
		return []float64{0}
	}
	var out []float64
	for i := range n.Strands {
		out = append(out, (float64(i)-float64(n.Strands-1)/2)*strandStep)
	}
	return out
}

// letters names the branches of a roof: "A B C", or "A to H" where many.
func letters(strands int) string {
	letter := func(i int) string { return string(rune('A' + i)) }
	switch {
	case strands < 1:
		return "?" // branches not chosen yet
	case strands > mostDrawn:
		return "A to " + letter(strands-1)
	}
	var out []string
	for i := range strands {
		out = append(out, letter(i))
	}
	return strings.Join(out, " ")
}

// glyph draws what stands at the node.
func (n Node) glyph(c scene.Point) scene.Group {
	pen := n.pen()
	box := scene.Rect{X: c.X - halfWide, Y: c.Y - halfHigh, W: 2 * halfWide, H: 2 * halfHigh, Stroke: pen, Fill: scene.Paper}
	across := func(dy float64) scene.Line {
		return scene.Line{A: c.Plus(-2.2, dy), B: c.Plus(2.2, dy), Stroke: pen}
	}
	upright := func(dx float64) scene.Line {
		return scene.Line{A: c.Plus(dx, -2), B: c.Plus(dx, 2), Stroke: pen.Weight(0.8)}
	}
	letter := func(s string) scene.Text {
		return scene.Text{At: c.Plus(0, scene.Note/2), Value: s, Size: scene.Note, Face: font.Bold, Anchor: scene.Middle}
	}
	var g scene.Group
	switch n.Kind {
	case Roof:
		w := max(2*halfWide, scene.Width(letters(n.Strands), scene.Note, font.Bold)+3)
		box.X, box.W = c.X-w/2, w
		g.Add(box, letter(letters(n.Strands)))
	case Junction:
		g.Add(symbol.JunctionBox(c, pen))
	case Run: // the strands themselves
	case Combiner:
		g.Add(box, across(-1.8), across(0), across(1.8))
	case Panel:
		g.Add(box, upright(-1.8), upright(1.8))
	case Tap:
		g.Add(symbol.Joint(c))
	case Meter:
		g.Add(scene.Circle{Center: c, R: 4.4, Stroke: pen, Fill: scene.Paper}, letter("kWh"))
	case Service:
		g.Add(scene.Circle{Center: c.Plus(0, -1.4), R: 2.1, Stroke: pen, Fill: scene.Paper}, scene.Circle{Center: c.Plus(0, 1.4), R: 2.1, Stroke: pen})
	default:
		panic(fmt.Sprintf("line: no drawing for a place of kind %q", n.Kind))
	}
	return g
}

// here frames the place in view.
func here(c scene.Point, g scene.Group) scene.Rect {
	b := g.Bounds()
	if b.Empty() {
		b = scene.Around(c.Plus(-halfWide, -halfHigh), c.Plus(halfWide, halfHigh))
	}
	frame := b.Rect().Inset(-1.3)
	frame.Stroke = scene.New.Weight(0.9)
	return frame
}

// count is the figure on a stroke that stands for more strands than are drawn.
func count(c scene.Point, strands int, sideways scene.Point) scene.Group {
	var g scene.Group
	if strands > mostDrawn {
		g.Add(scene.Line{A: c.Plus(-1, 1.6), B: c.Plus(1, -1.6), Stroke: scene.Fine},
			scene.Text{At: c.Plus(sideways.X, sideways.Y), Value: fmt.Sprint(strands), Size: scene.Note, Anchor: scene.Middle})
	}
	return g
}

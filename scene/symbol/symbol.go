// Package symbol draws the trade's symbols.
//
// A symbol on a conductor stands with its center on it, the conductor running
// up and down; its leads reach as far as the constant beside it says, so that
// conductors meet it there. scene.Turn lays it over. The pen tells existing
// from new work.
//
// Source: IEEE Std 315-1975 as the habit of US one-line diagrams has it; where
// that is silent, our own and said so. Geometry is on a grid of 2.5 mm.
package symbol

import (
	"math"

	"legwork/scene"
	"legwork/scene/font"
)

// G is the grid step, mm.
const G = 2.5

// Reach is how far the leads of Breaker, Fuse, Switch and Transformer reach
// from the center, mm.
const Reach = 2 * G

func lead(c scene.Point, from, to float64, pen scene.Stroke) scene.Line {
	return scene.Line{A: c.Plus(0, from), B: c.Plus(0, to), Stroke: pen}
}

// centered sets capitals with their middle at c.
func centered(c scene.Point, s string, size float64, face font.Face) scene.Text {
	return scene.Text{At: c.Plus(0, size/2), Value: s, Size: size, Face: face, Anchor: scene.Middle}
}

// Breaker is a molded-case circuit breaker: an arc of 120 degrees over a gap.
func Breaker(c scene.Point, pen scene.Stroke) scene.Group {
	r := G / math.Sin(math.Pi/3)
	return scene.Group{Items: []scene.Item{
		lead(c, -Reach, -G, pen), lead(c, G, Reach, pen),
		scene.Arc{Center: c.Plus(-r/2, 0), R: r, From: -60, To: 60, Stroke: pen},
	}}
}

// Fuse is a box with the conductor through it.
func Fuse(c scene.Point, pen scene.Stroke) scene.Group {
	return scene.Group{Items: []scene.Item{
		scene.Rect{X: c.X - G/2, Y: c.Y - 1.5*G, W: G, H: 3 * G, Stroke: pen, Fill: scene.Paper},
		lead(c, -Reach, Reach, pen),
	}}
}

// Switch is a disconnect switch, open: the blade hangs on its pivot below.
func Switch(c scene.Point, pen scene.Stroke) scene.Group {
	const pivot = 0.2 * G
	length := 2.5 * G
	sin, cos := math.Sincos(math.Pi / 6)
	foot := c.Plus(0, G)
	return scene.Group{Items: []scene.Item{
		lead(c, -Reach, -G-pivot, pen), lead(c, G+pivot, Reach, pen),
		scene.Line{A: foot.Plus(pivot*sin, -pivot*cos), B: foot.Plus(length*sin, -length*cos), Stroke: pen},
		scene.Circle{Center: c.Plus(0, -G), R: pivot, Stroke: scene.Fine, Fill: scene.Paper},
		scene.Circle{Center: foot, R: pivot, Stroke: scene.Fine, Fill: scene.Paper},
	}}
}

// Transformer is a two-winding transformer: circles overlapping by a third.
func Transformer(c scene.Point, pen scene.Stroke) scene.Group {
	const r = 1.2 * G
	return scene.Group{Items: []scene.Item{
		scene.Circle{Center: c.Plus(0, -Reach+r), R: r, Stroke: pen},
		scene.Circle{Center: c.Plus(0, Reach-r), R: r, Stroke: pen},
	}}
}

// Busbar is the bar itself, drawn over what joins it.
func Busbar(from, to scene.Point) scene.Line {
	return scene.Line{A: from, B: to, Stroke: scene.Stroke{Width: 1.2, Color: scene.Ink}}
}

// CTReach is the radius of a CT's ring; the conductor runs through it.
const CTReach = 0.75 * G

// CT is a current transformer on a one-line diagram: ring, polarity dot where
// current goes in, and beside it the arrow printed on the case, pointing down.
func CT(c scene.Point, pen scene.Stroke) scene.Group {
	return scene.Group{Items: []scene.Item{
		scene.Circle{Center: c, R: CTReach, Stroke: pen},
		scene.Circle{Center: c.Plus(-G, -0.8*G), R: 0.25 * G, Fill: scene.Ink},
		Arrow(c.Plus(1.3*G, -G), c.Plus(1.3*G, G), scene.Fine),
	}}
}

// Window is a CT seen from its side on a three-wire diagram, our own: the
// conductors that pass the window run through it. It measures 5 g by 2 g.
func Window(c scene.Point, pen scene.Stroke) scene.Polygon {
	return scene.Polygon{Points: ellipse(c, 2.5*G, G), Stroke: pen}
}

func ellipse(c scene.Point, rx, ry float64) []scene.Point {
	const n = 72
	points := make([]scene.Point, n)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		points[i] = c.Plus(rx*cos, ry*sin)
	}
	return points
}

// Arrow is a line with a filled head at its end.
func Arrow(from, to scene.Point, pen scene.Stroke) scene.Group {
	length := math.Hypot(to.X-from.X, to.Y-from.Y)
	ux, uy := (to.X-from.X)/length, (to.Y-from.Y)/length
	long, wide := 1.5+2*pen.Width, 0.45+0.6*pen.Width
	neck := to.Plus(-long*ux, -long*uy)
	return scene.Group{Items: []scene.Item{
		scene.Line{A: from, B: neck, Stroke: pen},
		scene.Polygon{Points: []scene.Point{to, neck.Plus(-wide*uy, wide*ux), neck.Plus(wide*uy, -wide*ux)}, Fill: pen.Color},
	}}
}

// MeterReach is the radius of a meter's circle.
const MeterReach = 2 * G

// Meter is a circle with letters: M, kWh, P.
func Meter(c scene.Point, letters string, pen scene.Stroke) scene.Group {
	size, _ := scene.FitText(letters, scene.Heading, font.Bold, 1.6*MeterReach)
	return scene.Group{Items: []scene.Item{
		scene.Circle{Center: c, R: MeterReach, Stroke: pen, Fill: scene.Paper},
		centered(c, letters, size, font.Bold),
	}}
}

// Ground is the earth symbol, hanging from its top.
func Ground(top scene.Point, pen scene.Stroke) scene.Group {
	g := scene.Group{Items: []scene.Item{lead(top, 0, G, pen)}}
	for i, half := range []float64{1.5 * G, G, 0.5 * G} {
		at := top.Plus(0, G+0.6*G*float64(i))
		g.Add(scene.Line{A: at.Plus(-half, 0), B: at.Plus(half, 0), Stroke: pen})
	}
	return g
}

// Joint is the dot where conductors join.
func Joint(c scene.Point) scene.Circle {
	return scene.Circle{Center: c, R: 0.3 * G, Fill: scene.Ink}
}

// Terminal is an open circle to land a conductor on.
func Terminal(c scene.Point) scene.Circle {
	return scene.Circle{Center: c, R: 0.4 * G, Stroke: scene.Fine, Fill: scene.Paper}
}

// BondingJumper joins the neutral bar to the ground bar, from above down, with
// its letters MBJ beside it.
func BondingJumper(neutral, ground scene.Point, pen scene.Stroke) scene.Group {
	mid := scene.Point{X: (neutral.X + ground.X) / 2, Y: (neutral.Y + ground.Y) / 2}
	return scene.Group{Items: []scene.Item{
		scene.Line{A: neutral, B: ground, Stroke: pen},
		Joint(neutral), Joint(ground),
		scene.Text{At: mid.Plus(0.6*G, scene.Note/2), Value: "MBJ", Size: scene.Note, Face: font.Bold},
	}}
}

// InverterSide is the side of an inverter's square.
const InverterSide = 4 * G

// Inverter is a square with DC in at the upper left, AC out at the lower right.
func Inverter(c scene.Point, pen scene.Stroke) scene.Group {
	const h = InverterSide / 2
	detail := scene.Fine
	dc := c.Plus(-0.5*h, -0.5*h)
	ac := c.Plus(0.5*h, 0.5*h)
	g := scene.Group{Items: []scene.Item{
		scene.Rect{X: c.X - h, Y: c.Y - h, W: 2 * h, H: 2 * h, Stroke: pen, Fill: scene.Paper},
		scene.Line{A: c.Plus(-h, h), B: c.Plus(h, -h), Stroke: detail},
		scene.Line{A: dc.Plus(-0.3*h, -0.1*h), B: dc.Plus(0.3*h, -0.1*h), Stroke: detail},
	}}
	for _, x := range []float64{-0.3, -0.07, 0.16} { // dashed stroke under it
		g.Add(scene.Line{A: dc.Plus(x*h, 0.1*h), B: dc.Plus((x+0.14)*h, 0.1*h), Stroke: detail})
	}
	wave := scene.Polyline{Stroke: detail}
	for i := -12; i <= 12; i++ {
		x := float64(i) / 12
		wave.Points = append(wave.Points, ac.Plus(0.32*h*x, -0.17*h*math.Sin(math.Pi*x)))
	}
	g.Add(wave)
	return g
}

// Module is a PV module in plan, with the notch that marks its upper short side.
func Module(at scene.Rect, pen scene.Stroke) scene.Group {
	top := scene.Point{X: at.X + at.W/2, Y: at.Y}
	notch := 0.16 * at.W
	at.Stroke = pen
	return scene.Group{Items: []scene.Item{
		at,
		scene.Polyline{Points: []scene.Point{top.Plus(-notch, 0), top.Plus(0, 1.2*notch), top.Plus(notch, 0)}, Stroke: pen},
	}}
}

// JunctionBox is a square with J; the side is 2 g.
func JunctionBox(c scene.Point, pen scene.Stroke) scene.Group {
	return scene.Group{Items: []scene.Item{
		scene.Rect{X: c.X - G, Y: c.Y - G, W: 2 * G, H: 2 * G, Stroke: pen, Fill: scene.Paper},
		centered(c, "J", scene.Note, font.Bold),
	}}
}

// Drop is a trunk connector under its trunk cable, our own.
func Drop(c scene.Point) scene.Polygon {
	half := scene.Polygon{Fill: scene.Ink}
	for deg := 180.0; deg <= 360; deg += 15 {
		half.Points = append(half.Points, scene.Arc{Center: c, R: 0.5 * G}.At(deg))
	}
	return half
}

// Cap is the seal at a trunk cable's end, our own.
func Cap(c scene.Point) scene.Rect {
	return scene.Rect{X: c.X - 0.4*G, Y: c.Y - 0.4*G, W: 0.8 * G, H: 0.8 * G, Fill: scene.Ink}
}

// Enclosure is the boundary of a box with what is in it.
func Enclosure(at scene.Rect) scene.Rect {
	at.Stroke = scene.Existing.With(scene.DashDot)
	return at
}

// TagRadius is the radius of a Tag.
const TagRadius = 3

// Tag is a number in a circle that leads to a row of a schedule.
func Tag(c scene.Point, number string) scene.Group {
	size, _ := scene.FitText(number, scene.Body, font.Bold, 1.6*TagRadius)
	return scene.Group{Items: []scene.Item{
		scene.Circle{Center: c, R: TagRadius, Stroke: scene.Existing, Fill: scene.Paper},
		centered(c, number, size, font.Bold),
	}}
}

package symbol

import (
	"math"
	"strconv"

	"legwork/scene"
	"legwork/scene/font"
)

// North is an arrow of radius r to true north; turned is how far north lies
// clockwise of the sheet's top, degrees.
func North(c scene.Point, r, turned float64) scene.Group {
	sin, cos := math.Sincos(turned * math.Pi / 180)
	at := func(right, up float64) scene.Point {
		return c.Plus(r*(right*cos+up*sin), r*(right*sin-up*cos))
	}
	letter := at(0, 1+0.85*scene.Heading/r)
	return scene.Group{Items: []scene.Item{
		scene.Circle{Center: c, R: r, Stroke: scene.Existing},
		scene.Polygon{Points: []scene.Point{at(0, 1), at(0, -0.55), at(-0.6, -0.8)}, Fill: scene.Ink},
		scene.Polygon{Points: []scene.Point{at(0, 1), at(0.6, -0.8), at(0, -0.55)}, Stroke: scene.Existing, Fill: scene.Paper},
		centered(letter, "N", scene.Heading, font.Bold),
	}}
}

// ScaleBar is a bar that stays true when the sheet is copied smaller: fields
// of step units each, perUnit mm on paper to a unit. at is its left end.
func ScaleBar(at scene.Point, fields int, step, perUnit float64, unit string) scene.Group {
	const h = 1.4
	var g scene.Group
	for i := range fields {
		fill := scene.Ink
		if i%2 == 1 {
			fill = scene.Paper
		}
		g.Add(scene.Rect{X: at.X + float64(i)*step*perUnit, Y: at.Y - h, W: step * perUnit, H: h, Stroke: scene.Fine, Fill: fill})
	}
	for i := 0; i <= fields; i++ {
		label := strconv.FormatFloat(float64(i)*step, 'f', -1, 64)
		x := at.X + float64(i)*step*perUnit
		t := scene.Text{At: scene.Point{X: x, Y: at.Y + 1.2 + scene.Note}, Value: label, Size: scene.Note, Anchor: scene.Middle}
		g.Add(t)
		if i == fields { // the unit follows the last figure, which stays centered
			t.At.X += t.Width()/2 + 1
			t.Value, t.Anchor = unit, scene.Start
			g.Add(t)
		}
	}
	return g
}

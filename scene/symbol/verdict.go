package symbol

import (
	"fmt"
	"math"

	"legwork/scene"
	"legwork/working"
)

// lookInk is what stands on amber, on white paper and on a dark screen.
const lookInk scene.Color = "#1c1500"

// Verdict draws a verdict about r to each side of c: ok a filled disc, look a
// triangle, stop an octagon, ask an open square with a question mark. The
// empty verdict draws nothing.
func Verdict(c scene.Point, r float64, v working.Verdict) scene.Group {
	line := scene.Stroke{Width: 0.16 * r, Color: scene.Ink}
	var g scene.Group
	switch v {
	case "":
	case working.OK:
		g.Add(scene.Circle{Center: c, R: 0.82 * r, Fill: scene.OKColor})
	case working.Look:
		line.Color = lookInk
		g.Add(scene.Polygon{Points: []scene.Point{c.Plus(0, -0.95*r), c.Plus(1.03*r, 0.84*r), c.Plus(-1.03*r, 0.84*r)}, Stroke: line, Fill: scene.LookColor})
		line.Width = 0.2 * r
		g.Add(scene.Line{A: c.Plus(0, -0.32*r), B: c.Plus(0, 0.3*r), Stroke: line})
		g.Add(scene.Circle{Center: c.Plus(0, 0.55*r), R: 0.13 * r, Fill: lookInk})
	case working.Stop:
		octagon := scene.Polygon{Fill: scene.StopColor}
		for i := range 8 {
			sin, cos := math.Sincos(math.Pi/8 + float64(i)*math.Pi/4)
			octagon.Points = append(octagon.Points, c.Plus(r*cos, r*sin))
		}
		g.Add(octagon, scene.Rect{X: c.X - 0.52*r, Y: c.Y - 0.14*r, W: 1.04 * r, H: 0.28 * r, Fill: scene.Paper})
	case working.Ask:
		line.Color = scene.AskColor
		g.Add(scene.Rect{X: c.X - 0.82*r, Y: c.Y - 0.82*r, W: 1.64 * r, H: 1.64 * r, Stroke: line, Fill: scene.Paper})
		hook := scene.Arc{Center: c.Plus(0, -0.22*r), R: 0.28 * r, From: -90, To: 180, Stroke: line}
		g.Add(hook, scene.Line{A: hook.At(-90), B: hook.At(-90).Plus(0, 0.18*r), Stroke: line})
		g.Add(scene.Circle{Center: c.Plus(0, 0.5*r), R: 0.12 * r, Fill: scene.AskColor})
	default:
		panic(fmt.Sprintf("symbol: no shape for verdict %q", v))
	}
	return g
}

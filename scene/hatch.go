package scene

import (
	"math"
	"slices"
)

// Pattern is a way of hatching.
type Pattern int

// The patterns; slanted ones are named by their angle.
const (
	Plain Pattern = iota // none
	Slant45
	Slant135
	Cross // 45 and 135
	Vertical
	Horizontal
	Dots
)

// Hatch fills an area with lines, or dots of the stroke's width in radius, at
// a pitch in mm. Lines are cut at the area's edge. The pitch is stretched or
// pressed so that a whole number of steps spans the area, half a step at each
// side: no line falls upon an edge. The area is a simple polygon; where it
// crosses itself, the even-odd rule decides.
func Hatch(area []Point, pattern Pattern, pitch float64, stroke Stroke) Group {
	var g Group
	if pitch <= 0 || len(area) < 3 {
		return g
	}
	switch pattern {
	case Slant45:
		hatchLines(&g, area, 45, pitch, stroke)
	case Slant135:
		hatchLines(&g, area, 135, pitch, stroke)
	case Cross:
		hatchLines(&g, area, 45, pitch, stroke)
		hatchLines(&g, area, 135, pitch, stroke)
	case Vertical:
		hatchLines(&g, area, 90, pitch, stroke)
	case Horizontal:
		hatchLines(&g, area, 0, pitch, stroke)
	case Dots:
		hatchDots(&g, area, pitch, stroke)
	}
	return g
}

func hatchLines(g *Group, area []Point, deg, pitch float64, stroke Stroke) {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	// Along the lines runs u, across them v; y points down.
	u := func(p Point) float64 { return p.X*cos - p.Y*sin }
	v := func(p Point) float64 { return p.X*sin + p.Y*cos }
	at := func(u, v float64) Point { return Point{u*cos + v*sin, -u*sin + v*cos} }

	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range area {
		low, high = min(low, v(p)), max(high, v(p))
	}
	for _, level := range levels(low, high, pitch) {
		var cuts []float64
		for i, a := range area {
			b := area[(i+1)%len(area)]
			if (v(a) < level) != (v(b) < level) { // half-open: a corner counts once
				cuts = append(cuts, u(a)+(u(b)-u(a))*(level-v(a))/(v(b)-v(a)))
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			if cuts[i+1]-cuts[i] > 0.01 {
				g.Add(Line{at(cuts[i], level), at(cuts[i+1], level), stroke})
			}
		}
	}
}

func hatchDots(g *Group, area []Point, pitch float64, stroke Stroke) {
	r := stroke.Width
	box := Around(area...)
	for _, y := range levels(box.MinY, box.MaxY, pitch) {
		for _, x := range levels(box.MinX, box.MaxX, pitch) {
			p := Point{x, y}
			if Inside(area, p) && fromEdge(area, p) >= r {
				g.Add(Circle{Center: p, R: r, Fill: stroke.Color})
			}
		}
	}
}

// levels are the middles of about (high-low)/pitch equal steps, at least one.
func levels(low, high, pitch float64) []float64 {
	n := max(1, math.Round((high-low)/pitch))
	var out []float64
	for k := 0.5; k < n; k++ {
		out = append(out, low+k*(high-low)/n)
	}
	return out
}

// Inside reports whether p lies in the polygon, by the even-odd rule.
func Inside(area []Point, p Point) bool {
	in := false
	for i, a := range area {
		b := area[(i+1)%len(area)]
		if (a.Y < p.Y) != (b.Y < p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// fromEdge is the distance from p to the polygon's edge.
func fromEdge(area []Point, p Point) float64 {
	least := math.Inf(1)
	for i, a := range area {
		b := area[(i+1)%len(area)]
		dx, dy := b.X-a.X, b.Y-a.Y
		t := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			t = min(1, max(0, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l))
		}
		least = min(least, math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy))
	}
	return least
}

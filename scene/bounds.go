package scene

import "math"

// Box is a range of x and y. The zero Box is empty.
type Box struct{ MinX, MinY, MaxX, MaxY float64 }

// Empty reports whether nothing is in the box; a level line is something.
func (b Box) Empty() bool { return b == Box{} }

// Union is the box round both.
func (b Box) Union(c Box) Box {
	switch {
	case b.Empty():
		return c
	case c.Empty():
		return b
	}
	return Box{min(b.MinX, c.MinX), min(b.MinY, c.MinY), max(b.MaxX, c.MaxX), max(b.MaxY, c.MaxY)}
}

// Rect is the box as a rectangle, unpainted.
func (b Box) Rect() Rect { return Rect{X: b.MinX, Y: b.MinY, W: b.MaxX - b.MinX, H: b.MaxY - b.MinY} }

// Around is the box around points.
func Around(points ...Point) Box {
	if len(points) == 0 {
		return Box{}
	}
	b := Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range points {
		b = Box{min(b.MinX, p.X), min(b.MinY, p.Y), max(b.MaxX, p.X), max(b.MaxY, p.Y)}
	}
	return b
}

// Bounds of each kind of item.

func (l Line) Bounds() Box     { return Around(l.A, l.B) }
func (p Polyline) Bounds() Box { return Around(p.Points...) }
func (p Polygon) Bounds() Box  { return Around(p.Points...) }
func (r Rect) Bounds() Box     { return Around(r.Corners()...) }
func (t Text) Bounds() Box     { return Around(t.corners()...) }

func (c Circle) Bounds() Box {
	return Around(c.Center.Plus(-c.R, -c.R), c.Center.Plus(c.R, c.R))
}

func (a Arc) Bounds() Box {
	b := Around(a.At(a.From), a.At(a.To))
	for deg := math.Ceil(a.From/90) * 90; deg < a.To; deg += 90 {
		b = b.Union(Around(a.At(deg)))
	}
	return b
}

func (g Group) Bounds() Box {
	var b Box
	for _, item := range g.Items {
		b = b.Union(item.Bounds())
	}
	return b
}

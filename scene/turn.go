package scene

// Turn returns the item turned by quarters of a circle, counterclockwise as
// seen, about a point. Lettering moves with it and stays upright.
func Turn(item Item, about Point, quarters int) Item {
	return item.turned(about, ((quarters%4)+4)%4)
}

func (p Point) turned(about Point, quarters int) Point {
	dx, dy := p.X-about.X, p.Y-about.Y
	for range quarters {
		dx, dy = dy, -dx
	}
	return about.Plus(dx, dy)
}

func turnedAll(points []Point, about Point, quarters int) []Point {
	out := make([]Point, len(points))
	for i, p := range points {
		out[i] = p.turned(about, quarters)
	}
	return out
}

func (l Line) turned(about Point, q int) Item {
	l.A, l.B = l.A.turned(about, q), l.B.turned(about, q)
	return l
}

func (p Polyline) turned(about Point, q int) Item {
	p.Points = turnedAll(p.Points, about, q)
	return p
}

func (p Polygon) turned(about Point, q int) Item {
	p.Points = turnedAll(p.Points, about, q)
	return p
}

func (r Rect) turned(about Point, q int) Item {
	b := Around(turnedAll(r.Corners(), about, q)...).Rect()
	b.Stroke, b.Fill = r.Stroke, r.Fill
	return b
}

func (c Circle) turned(about Point, q int) Item {
	c.Center = c.Center.turned(about, q)
	return c
}

func (a Arc) turned(about Point, q int) Item {
	a.Center = a.Center.turned(about, q)
	a.From, a.To = a.From+90*float64(q), a.To+90*float64(q)
	return a
}

// The middle of the capitals is what turns, so a letter in a circle stays in it.
func (t Text) turned(about Point, q int) Item {
	center := Point{t.Start().X + t.Width()/2, t.At.Y - t.Size/2}
	to := center.turned(about, q)
	t.At = t.At.Plus(to.X-center.X, to.Y-center.Y)
	return t
}

func (g Group) turned(about Point, q int) Item {
	items := make([]Item, len(g.Items))
	for i, item := range g.Items {
		items[i] = item.turned(about, q)
	}
	g.Items = items
	return g
}

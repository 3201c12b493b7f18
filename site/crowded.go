package site

import (
	"fmt"
	"math"

	"legwork/job"
	"legwork/quantity"
)

// Crowding is a module where none can be, or where none may be.
type Crowding struct {
	Position string `json:"position"`
	By       string `json:"by"` // "the edge of the plane", "the setback at the ridge", "chimney"
}

// Crowded lists the modules of a field that reach over the outline of their
// plane, into a setback or over an obstruction. The document states setbacks;
// which ones fire access asks for is for the local department to say.
func (f *Field) Crowded() []Crowding {
	if len(f.Missing)+len(f.Unplaced) > 0 {
		return nil
	}
	var out []Crowding
	g := f.Plane.Grid
	omitted := map[string]bool{}
	for _, o := range g.Omit {
		omitted[o] = true
	}
	for row := 1; row <= g.Rows; row++ {
		for col := 1; col <= g.Columns; col++ {
			at := job.Position{Plane: f.Plane.ID, Row: row, Col: col}
			if omitted[at.String()] {
				continue
			}
			r := f.Module(at)
			for _, by := range append(f.edges(r), f.under(r)...) {
				out = append(out, Crowding{at.String(), by})
			}
		}
	}
	return out
}

func (f *Field) under(r Rect) []string {
	var out []string
	for i, o := range f.obstructions {
		if r.Along < o.Along+o.Width && o.Along < r.Along+r.Width && r.Up < o.Up+o.Height && o.Up < r.Up+r.Height {
			out = append(out, f.Plane.Obstructions[i].ID)
		}
	}
	return out
}

// edges names what a rectangle crosses at the outline. Distances are taken in
// the plane, square to each edge; the outline is convex, as roof planes are cut
// at concave corners.
func (f *Field) edges(r Rect) []string {
	const slack = quantity.Feet(0.02) // corners are stated to a hundredth of a foot
	corners := [4][2]quantity.Feet{{r.Along, r.Up}, {r.Along + r.Width, r.Up}, {r.Along + r.Width, r.Up + r.Height}, {r.Along, r.Up + r.Height}}
	var out []string
	n := len(f.Plane.Outline)
	for i := range n {
		a, b := f.inPlane(f.Plane.Outline[i]), f.inPlane(f.Plane.Outline[(i+1)%n])
		name, setback := f.edge(i)
		dx, dy := float64(b[0]-a[0]), float64(b[1]-a[1])
		length := math.Hypot(dx, dy)
		if length == 0 {
			continue
		}
		nearest := quantity.Feet(math.Inf(1))
		for _, c := range corners { // left of the edge is inside
			nearest = min(nearest, quantity.Feet((dx*float64(c[1]-a[1])-dy*float64(c[0]-a[0]))/length))
		}
		switch {
		case nearest < -slack:
			out = append(out, "the edge of the plane")
		case nearest < setback-slack:
			out = append(out, fmt.Sprintf("the setback at the %s", name))
		}
	}
	return out
}

// edge names an edge of the outline: the eave is the first, the right edge
// follows, the left one is the last; between them is the ridge.
func (f *Field) edge(i int) (name string, setback quantity.Feet) {
	s := f.Plane.Setbacks
	switch {
	case i == 0:
		return "eave", s.Eave.Value
	case i == 1:
		return "right edge", s.Right.Value
	case i == len(f.Plane.Outline)-1:
		return "left edge", s.Left.Value
	}
	return "ridge", s.Ridge.Value
}

// inPlane is a place in plan view measured in the plane.
func (f *Field) inPlane(p job.Point) [2]quantity.Feet {
	ex, ey := f.eave()
	o := f.Plane.Outline[0]
	dx, dy := float64(p.X-o.X), float64(p.Y-o.Y)
	return [2]quantity.Feet{quantity.Feet(dx*ex + dy*ey), quantity.Feet((dy*ex - dx*ey) / math.Cos(radians(f.Plane.Pitch.Value)))}
}

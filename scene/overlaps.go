package scene

import (
	"fmt"
	"math"
)

// Fault is something on a sheet that a reader would stumble over.
type Fault struct {
	Kind  string // "text on text", "line through text", "outside the frame", "too small"
	Text  string
	Other string // what it collides with
	At    Point
}

// String prints the fault with its place, mm.
func (f Fault) String() string {
	s := fmt.Sprintf("%s: %q at %.1f, %.1f", f.Kind, f.Text, f.At.X, f.At.Y)
	if f.Other != "" {
		s += ": " + f.Other
	}
	return s
}

const slack = 0.1 // mm that two things may share before it counts

// Overlaps finds lettering that lies on lettering, is crossed by a line that
// no fill hides, leaves the frame, or is smaller than MinLetter. Of a text
// crossed by lines only the first is told.
func Overlaps(s *Scene) []Fault {
	painted := flatten(nil, s.Items)
	frame := s.Frame
	if frame.W == 0 {
		frame = Rect{W: s.Size.W, H: s.Size.H}
	}
	var faults []Fault
	for k, item := range painted {
		t, ok := item.(Text)
		if !ok {
			continue
		}
		if t.Size < MinLetter-1e-9 {
			faults = append(faults, Fault{"too small", t.Value, fmt.Sprintf("%.2f mm, least %.2f mm", t.Size, MinLetter), t.At})
		}
		box := t.corners()
		if box == nil {
			continue
		}
		for _, c := range box {
			if c.X < frame.X || c.Y < frame.Y || c.X > frame.X+frame.W || c.Y > frame.Y+frame.H {
				faults = append(faults, Fault{"outside the frame", t.Value, "", t.At})
				break
			}
		}
		for _, other := range painted[:k] {
			if o, ok := other.(Text); ok && convexMeet(box, o.corners()) {
				faults = append(faults, Fault{"text on text", t.Value, fmt.Sprintf("%q", o.Value), t.At})
			}
		}
		if line := strikes(painted, k, t); line != nil {
			faults = append(faults, Fault{"line through text", t.Value, fmt.Sprintf("%T in %.1f", line, line.Bounds()), t.At})
		}
	}
	return faults
}

// flatten lists primitives in the order of painting.
func flatten(out, items []Item) []Item {
	for _, item := range items {
		if g, ok := item.(Group); ok {
			out = flatten(out, g.Items)
		} else {
			out = append(out, item)
		}
	}
	return out
}

// strikes returns the first stroke seen through the capitals of painted[k].
// Below the baseline an underline may run.
func strikes(painted []Item, k int, t Text) Item {
	start, w := t.Start(), t.Width()
	if w <= 2*slack {
		return nil
	}
	sin, cos := math.Sincos(t.Angle * math.Pi / 180)
	at := func(along, up float64) Point { return start.Plus(along*cos-up*sin, -along*sin-up*cos) }
	body := []Point{at(slack, t.Size-slack), at(w-slack, t.Size-slack), at(w-slack, slack), at(slack, slack)}
	for j, item := range painted {
		if !crosses(item, body) {
			continue
		}
		hidden := false
		for m := j + 1; m < k && !hidden; m++ {
			hidden = fills(painted[m], body)
		}
		if !hidden {
			return item
		}
	}
	return nil
}

// crosses reports whether a stroke of the item meets the box.
func crosses(item Item, box []Point) bool {
	near, of := item.Bounds(), Around(box...)
	if near.MinX > of.MaxX || near.MaxX < of.MinX || near.MinY > of.MaxY || near.MaxY < of.MinY {
		return false
	}
	path, closed := outline(item)
	for i, a := range path {
		if i+1 == len(path) && !closed {
			break
		}
		b := path[(i+1)%len(path)]
		if convexMeet(box, []Point{a, b}) {
			return true
		}
	}
	return false
}

// outline is the path of an item that a reader sees: stroked, or the edge of a
// fill darker than paper; arcs in pieces of 10 degrees or less.
func outline(item Item) (path []Point, closed bool) {
	around := func(a Arc) (out []Point) {
		n := int(math.Ceil((a.To - a.From) / 10))
		for i := 0; i <= n; i++ {
			out = append(out, a.At(a.From+(a.To-a.From)*float64(i)/float64(n)))
		}
		return out
	}
	seen := func(s Stroke, fill Color) bool { return s.Width > 0 || fill != None && fill != Paper }
	switch i := item.(type) {
	case Line:
		return []Point{i.A, i.B}, false
	case Polyline:
		return i.Points, false
	case Arc:
		return around(i), false
	case Polygon:
		if seen(i.Stroke, i.Fill) {
			return i.Points, true
		}
	case Rect:
		if seen(i.Stroke, i.Fill) {
			return i.Corners(), true
		}
	case Circle:
		if seen(i.Stroke, i.Fill) {
			return around(Arc{Center: i.Center, R: i.R, To: 360}), true
		}
	}
	return nil, false
}

// fills reports whether the item paints over the whole box.
func fills(item Item, box []Point) bool {
	var area []Point
	switch i := item.(type) {
	case Polygon:
		if i.Fill == None {
			return false
		}
		area = i.Points
	case Rect:
		if i.Fill == None {
			return false
		}
		area = i.Corners()
	case Circle:
		if i.Fill == None {
			return false
		}
		for _, c := range box {
			if math.Hypot(c.X-i.Center.X, c.Y-i.Center.Y) > i.R {
				return false
			}
		}
		return true
	default:
		return false
	}
	for _, c := range box {
		if !Inside(area, c) {
			return false
		}
	}
	return true
}

// convexMeet reports whether two convex shapes share more than slack, by
// looking for an axis on which their shadows lie apart.
func convexMeet(a, b []Point) bool {
	if len(a) == 0 || len(b) == 0 {
		return false
	}
	for _, shape := range [][]Point{a, b} {
		for i, p := range shape {
			q := shape[(i+1)%len(shape)]
			nx, ny := p.Y-q.Y, q.X-p.X
			l := math.Hypot(nx, ny)
			if l == 0 {
				continue
			}
			nx, ny = nx/l, ny/l
			lowA, highA := shadow(a, nx, ny)
			lowB, highB := shadow(b, nx, ny)
			gap := slack
			if len(b) == 2 {
				gap = 0 // a stroke has no width here; the box was made smaller
			}
			if highA-lowB <= gap || highB-lowA <= gap {
				return false
			}
		}
	}
	return true
}

func shadow(shape []Point, nx, ny float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range shape {
		d := p.X*nx + p.Y*ny
		low, high = min(low, d), max(high, d)
	}
	return low, high
}

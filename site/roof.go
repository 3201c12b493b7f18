package site

import (
	"fmt"
	"math"

	"legwork/job"
	"legwork/quantity"
	"legwork/working"
)

// Field is the field of modules on one plane, true to scale. Places in the plane
// are measured along the eave from the left end of the outline, and up the slope
// from the eave; in plan view the slope shrinks by the cosine of the pitch.
type Field struct {
	Plane    *job.Plane
	Missing  []working.Missing // without these the field has no shape
	Unplaced []working.Missing // without these it has no place in plan view

	width, height quantity.Feet // of a module, along the eave and up the slope
	gap, rowGap   quantity.Feet
	columnBreak   map[int]quantity.Feet // whole gap after a column
	rowBreak      map[int]quantity.Feet
	obstructions  []Rect
}

// Rect is a rectangle in a plane by its lower left corner, as seen from the
// ground facing the plane.
type Rect struct {
	Along, Up     quantity.Feet
	Width, Height quantity.Feet
}

// Center is the middle of the rectangle.
func (r Rect) Center() (along, up quantity.Feet) { return r.Along + r.Width/2, r.Up + r.Height/2 }

// Field returns the field of a plane.
func (p *Plant) Field(pl *job.Plane) *Field {
	f := &Field{Plane: pl, columnBreak: map[int]quantity.Feet{}, rowBreak: map[int]quantity.Feet{}}
	at := "planes." + pl.ID + "."
	shape := func(v working.Fact[quantity.Feet]) quantity.Feet { return have(&f.Missing, v) }
	for _, u := range p.Units {
		if u.Plane != pl {
			continue
		}
		f.width, f.height = shape(u.Module.Width), shape(u.Module.Length)
		if pl.Grid.Orientation == job.Landscape {
			f.width, f.height = f.height, f.width
		}
		break
	}
	f.gap = shape(fact(pl.Grid.Gap, at+"grid.gap", "gap between modules", tape))
	f.rowGap = f.gap
	if pl.Grid.RowGap.Stated() {
		f.rowGap = shape(fact(pl.Grid.RowGap, at+"grid.row_gap", "gap between rows", tape))
	}
	for k, b := range pl.Grid.Breaks {
		width := shape(fact(b.Width, fmt.Sprintf("%sgrid.breaks[%d].width", at, k), "gap after "+b.After, tape))
		if row, after := b.Place(); row {
			f.rowBreak[after] = width
		} else {
			f.columnBreak[after] = width
		}
	}
	for _, o := range pl.Obstructions {
		side := func(v job.Fact[quantity.Feet], key, means string) quantity.Feet {
			return shape(fact(v, at+"obstructions."+o.ID+"."+key, means+" of the "+o.ID, tape))
		}
		f.obstructions = append(f.obstructions, Rect{
			side(o.FromLeft, "from_left", "distance from the left edge"), side(o.FromEave, "from_eave", "distance from the eave"),
			side(o.Width, "width", "width"), side(o.Height, "height", "height")})
	}
	for _, v := range []working.Fact[quantity.Feet]{
		fact(pl.Grid.FromLeft, at+"grid.from_left", "left edge of the plane to the first column", tape),
		fact(pl.Grid.FromEave, at+"grid.from_eave", "eave to the first row", tape),
	} {
		have(&f.Unplaced, v)
	}
	have(&f.Unplaced, fact(pl.Pitch, at+"pitch", "pitch of the plane", ask{"pitch gauge, or rise over run", ""}))
	if len(pl.Outline) < 3 {
		f.Unplaced = append(f.Unplaced, working.Missing{Path: at + "outline", What: "corners of the plane in plan view", Find: tape.find})
	}
	return f
}

// have takes a value, or notes what is missing.
func have[T any](missing *[]working.Missing, f working.Fact[T]) T {
	if !f.Known {
		*missing = append(*missing, f.Ask)
	}
	return f.Value
}

// Module is the rectangle of a module at a position.
func (f *Field) Module(at job.Position) Rect {
	r := Rect{Along: f.Plane.Grid.FromLeft.Value, Up: f.Plane.Grid.FromEave.Value, Width: f.width, Height: f.height}
	for c := 1; c < at.Col; c++ {
		r.Along += f.width + f.after(f.columnBreak, c, f.gap)
	}
	for row := 1; row < at.Row; row++ {
		r.Up += f.height + f.after(f.rowBreak, row, f.rowGap)
	}
	return r
}

func (f *Field) after(breaks map[int]quantity.Feet, n int, gap quantity.Feet) quantity.Feet {
	if b, ok := breaks[n]; ok {
		return b
	}
	return gap
}

// Unit is the rectangle over all modules of a unit.
func (f *Field) Unit(u *Unit) Rect {
	var out Rect
	for i, at := range u.Positions {
		p, _ := job.ParsePosition(at) // made by this package
		m := f.Module(p)
		if i == 0 {
			out = m
		}
		out.Width = m.Along + m.Width - out.Along
	}
	return out
}

// Obstructions are the rectangles that neither module nor cable goes through, in
// the order of the document.
func (f *Field) Obstructions() []Rect { return f.obstructions }

// PlanView is a place of the plane seen from above.
//
//	(x, y) = corner + along · ê + up · cos(pitch) · n̂
//
//	ê  from the first corner of the outline to the second, along the eave
//	n̂  ê turned left: up the slope, as the eave runs left to right
func (f *Field) PlanView(along, up quantity.Feet) job.Point {
	ex, ey := f.eave()
	flat := float64(up) * math.Cos(radians(f.Plane.Pitch.Value))
	o := f.Plane.Outline[0]
	return job.Point{
		X: o.X + quantity.Feet(float64(along)*ex-flat*ey),
		Y: o.Y + quantity.Feet(float64(along)*ey+flat*ex)}
}

// Corners are the corners of a rectangle in plan view, from the lower left one
// counterclockwise.
func (f *Field) Corners(r Rect) [4]job.Point {
	return [4]job.Point{f.PlanView(r.Along, r.Up), f.PlanView(r.Along+r.Width, r.Up),
		f.PlanView(r.Along+r.Width, r.Up+r.Height), f.PlanView(r.Along, r.Up+r.Height)}
}

// eave is the direction of the drawn eave, of length 1.
func (f *Field) eave() (x, y float64) {
	a, b := f.Plane.Outline[0], f.Plane.Outline[1]
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	l := math.Hypot(dx, dy)
	if l == 0 {
		return 1, 0
	}
	return dx / l, dy / l
}

// Faces is the direction in which the drawn plane faces: square to its eave,
// down the slope. It ought to be the stated azimuth.
func (f *Field) Faces() quantity.Degrees {
	x, y := f.eave()
	return quantity.Degrees(math.Mod(90+math.Atan2(x, y)*180/math.Pi+360, 360))
}

func radians(d quantity.Degrees) float64 { return float64(d) * math.Pi / 180 }

// Way is the length of cable between the middles of two units of the field,
// along the rows and up the slope, round obstructions.
func (f *Field) Way(a, b *Unit) quantity.Feet {
	au, av := f.Unit(a).Center()
	bu, bv := f.Unit(b).Center()
	first := f.along(au, bu, av) + f.upward(av, bv, bu)
	second := f.upward(av, bv, au) + f.along(au, bu, bv)
	return min(first, second)
}

// along is the way along a row, and round each obstruction in it by its nearer
// side and back.
func (f *Field) along(from, to, up quantity.Feet) quantity.Feet {
	from, to = min(from, to), max(from, to)
	way := to - from
	for _, o := range f.obstructions {
		if from < o.Along+o.Width && to > o.Along && up > o.Up && up < o.Up+o.Height {
			way += 2 * min(up-o.Up, o.Up+o.Height-up)
		}
	}
	return way
}

// upward is the way up the slope, with the same care.
func (f *Field) upward(from, to, along quantity.Feet) quantity.Feet {
	from, to = min(from, to), max(from, to)
	way := to - from
	for _, o := range f.obstructions {
		if from < o.Up+o.Height && to > o.Up && along > o.Along && along < o.Along+o.Width {
			way += 2 * min(along-o.Along, o.Along+o.Width-along)
		}
	}
	return way
}

// Across is the length of cable between units on two planes: the straight way in
// plan view, stretched as if it climbed the steeper of the two. Heights are not
// in the document; what the way over ridge and wall adds is the planner's price.
func Across(f *Field, a *Unit, g *Field, b *Unit) quantity.Feet {
	return stretched(f.middle(a), g.middle(b), max(f.Plane.Pitch.Value, g.Plane.Pitch.Value))
}

// FromBox is the length of cable from a junction box to the middle of a unit.
func (f *Field) FromBox(box job.Point, u *Unit) quantity.Feet {
	return stretched(box, f.middle(u), f.Plane.Pitch.Value)
}

func (f *Field) middle(u *Unit) job.Point {
	return f.PlanView(f.Unit(u).Center())
}

func stretched(a, b job.Point, pitch quantity.Degrees) quantity.Feet {
	return quantity.Feet(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)) / math.Cos(radians(pitch)))
}

// Extent is the size of the drawn plane: along the eave, and up the slope to its
// highest corner.
func (f *Field) Extent() (along, up quantity.Feet) {
	ex, ey := f.eave()
	o := f.Plane.Outline[0]
	slope := math.Cos(radians(f.Plane.Pitch.Value))
	for _, c := range f.Plane.Outline {
		dx, dy := float64(c.X-o.X), float64(c.Y-o.Y)
		along = max(along, quantity.Feet(dx*ex+dy*ey))
		up = max(up, quantity.Feet((dy*ex-dx*ey)/slope))
	}
	return along, up
}

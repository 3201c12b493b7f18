// Package scene is a drawing on paper before any file format: primitives in
// millimetres, origin at the top left of the sheet, x to the right, y down.
//
// Angles are in degrees, counterclockwise as seen on the paper, from the
// direction of x. Later items are painted over earlier ones. Writers (svg,
// pdf) render primitives only; hatching, underlines and arrows are already
// lines here, so that every writer shows the same.
//
// Line weights and lettering after ASME Y14.2: two weights in a ratio of 2:1,
// lettering sizes given as the height of capitals.
package scene

import "math"

// Point is a place on the sheet, mm.
type Point struct{ X, Y float64 }

// Plus returns p moved by dx, dy.
func (p Point) Plus(dx, dy float64) Point { return Point{p.X + dx, p.Y + dy} }

// Size is a sheet's width and height, mm.
type Size struct{ W, H float64 }

// Sheet sizes, landscape, but for Letter, which is a page in the hand.
//
// Source: ANSI/ASME Y14.1, sizes A (8.5 × 11 in), B (11 × 17 in), D (22 × 34 in).
var (
	Letter = Size{215.9, 279.4}
	ANSIB  = Size{431.8, 279.4}
	ANSID  = Size{863.6, 558.8}
)

// Scene is one sheet.
type Scene struct {
	Size   Size
	Number string // "E-601"; links say "sheet:E-601"
	Title  string
	Frame  Rect // lettering must stay inside; none means the whole sheet
	Items  []Item
}

// Blank is an empty sheet.
func Blank(size Size, number, title string) *Scene {
	return &Scene{Size: size, Number: number, Title: title}
}

// Add paints items over what is there.
func (s *Scene) Add(items ...Item) { s.Items = append(s.Items, items...) }

// Item is a primitive or a group of them.
type Item interface {
	// Bounds is the box around the item without stroke width; for text the
	// box around its ink. Nothing drawn gives the zero Box.
	Bounds() Box
	turned(about Point, quarters int) Item
}

// Line is one straight stroke.
type Line struct {
	A, B   Point
	Stroke Stroke
}

// Polyline is an open path.
type Polyline struct {
	Points []Point
	Stroke Stroke
}

// Polygon is a closed path.
type Polygon struct {
	Points []Point
	Stroke Stroke
	Fill   Color
}

// Rect is an upright rectangle, its top left corner at X, Y.
type Rect struct {
	X, Y, W, H float64
	Stroke     Stroke
	Fill       Color
}

// Circle is a circle.
type Circle struct {
	Center Point
	R      float64
	Stroke Stroke
	Fill   Color
}

// Arc is a part of a circle from From counterclockwise to To (degrees, To > From).
type Arc struct {
	Center   Point
	R        float64
	From, To float64
	Stroke   Stroke
}

// At is the point of the arc's circle at angle deg.
func (a Arc) At(deg float64) Point {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return Point{a.Center.X + a.R*cos, a.Center.Y - a.R*sin}
}

// Group is items that belong together: a place, a layer, a link.
type Group struct {
	ID    string // place id, for finding what was tapped
	Layer string // "conductors", "notes"; inherited by what is inside
	Link  string // "sheet:E-603", or an address: /path, #part, https://…
	Items []Item
}

// Add paints items over what is in the group.
func (g *Group) Add(items ...Item) { g.Items = append(g.Items, items...) }

// Corners are the rectangle's corners, clockwise from the top left.
func (r Rect) Corners() []Point {
	return []Point{{r.X, r.Y}, {r.X + r.W, r.Y}, {r.X + r.W, r.Y + r.H}, {r.X, r.Y + r.H}}
}

// Inset is the rectangle d smaller on each side, unpainted.
func (r Rect) Inset(d float64) Rect {
	return Rect{X: r.X + d, Y: r.Y + d, W: r.W - 2*d, H: r.H - 2*d}
}

// Middle is the rectangle's center.
func (r Rect) Middle() Point { return Point{r.X + r.W/2, r.Y + r.H/2} }

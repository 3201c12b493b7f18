package scene

import (
	"fmt"
	"strconv"
)

// Color is "#rrggbb"; the empty Color paints nothing.
type Color string

// Ink is plain black and white, so that a laser printer screens no line.
const (
	None  Color = ""
	Ink   Color = "#000000"
	Paper Color = "#ffffff"
	Muted Color = "#555555" // second voice; contrast 7.5 on white
)

// Okabe–Ito colors, told apart by most color-blind readers.
//
// Source: M. Okabe and K. Ito, Color Universal Design, 2002; values from
// memory, as in the project's table of symbols.
const (
	Blue          Color = "#0072b2"
	Vermillion    Color = "#d55e00"
	BluishGreen   Color = "#009e73"
	ReddishPurple Color = "#cc79a7"
	Orange        Color = "#e69f00"
	SkyBlue       Color = "#56b4e9"
)

// Verdict colors come third, after shape and word. All but LookColor hold a
// contrast of 4.5 or more on white; that one has a dark outline.
const (
	OKColor   Color = "#2e6b3a"
	LookColor Color = "#f0b429"
	StopColor Color = "#a61c1c"
	AskColor  Color = "#1f3fa8"
)

// RGB splits the color. It panics on what is not "#rrggbb": colors are
// written in the program, never read.
func (c Color) RGB() (r, g, b uint8) {
	n, err := strconv.ParseUint(string(c[1:]), 16, 24)
	if err != nil || len(c) != 7 || c[0] != '#' {
		panic(fmt.Sprintf("scene: %q is no color", string(c)))
	}
	return uint8(n >> 16), uint8(n >> 8), uint8(n)
}

// Dash is a line's pattern.
type Dash int

// The patterns.
const (
	Solid   Dash = iota
	Dashed       // by others; communication
	DashDot      // enclosure; equipment ground
	Dotted
)

// Pattern is marks and gaps in turn, mm; empty for Solid.
func (d Dash) Pattern() []float64 {
	switch d {
	case Dashed:
		return []float64{3, 1.2}
	case DashDot:
		return []float64{5, 1.2, 0.8, 1.2}
	case Dotted:
		return []float64{0.6, 0.9}
	}
	return nil
}

// String names the pattern in dumps.
func (d Dash) String() string {
	return [...]string{"solid", "dashed", "dashdot", "dotted"}[d]
}

// Stroke is how a line is drawn; Width 0 draws none.
type Stroke struct {
	Width float64 // mm
	Dash  Dash
	Color Color
}

// The strokes whose weight has a meaning, and the busbar's.
var (
	Existing = Stroke{0.3, Solid, Ink}
	New      = Stroke{0.6, Solid, Ink}
	ByOthers = Stroke{0.45, Dashed, Ink}
	Fine     = Stroke{0.25, Solid, Ink}  // leaders, dimensions, symbol detail
	Rule     = Stroke{0.2, Solid, Muted} // between table rows
)

// Weight is the stroke with another width, mm.
func (s Stroke) Weight(width float64) Stroke { s.Width = width; return s }

// With is the stroke with another pattern.
func (s Stroke) With(d Dash) Stroke { s.Dash = d; return s }

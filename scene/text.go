package scene

import (
	"math"
	"strings"

	"legwork/scene/font"
)

// Anchor is the point of a text's baseline that stands at Text.At.
type Anchor int

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// String names the anchor as SVG and dumps do.
func (a Anchor) String() string { return [...]string{"start", "middle", "end"}[a] }

// Text is one line of lettering. At is on its baseline.
type Text struct {
	At     Point
	Value  string
	Size   float64 // height of capitals, mm
	Face   font.Face
	Anchor Anchor
	Angle  float64 // degrees counterclockwise: 90 reads from the bottom up
	Color  Color   // None is Ink
}

// Lettering sizes, height of capitals in mm.
const (
	Note    = 2.4 // notes and tables: the least that may be printed
	Body    = 2.7
	Heading = 3.4
	Big     = 4.2
)

// MinLetter is the least height of capitals on the printed sheet.
const MinLetter = Note

// Ink is the color the text is set in.
func (t Text) Ink() Color {
	if t.Color == None {
		return Ink
	}
	return t.Color
}

// Width is how far the text runs.
func (t Text) Width() float64 { return Width(t.Value, t.Size, t.Face) }

// Start is the baseline's left end.
func (t Text) Start() Point {
	back := t.Width() * [...]float64{0, 0.5, 1}[t.Anchor]
	sin, cos := math.Sincos(t.Angle * math.Pi / 180)
	return t.At.Plus(-back*cos, back*sin)
}

// corners is the box around the ink, as it lies on the paper.
func (t Text) corners() []Point {
	above, below := t.Face.Reach(t.Value, t.Size)
	if above+below <= 0 {
		return nil
	}
	start, w := t.Start(), t.Width()
	sin, cos := math.Sincos(t.Angle * math.Pi / 180)
	at := func(along, up float64) Point {
		return start.Plus(along*cos-up*sin, -along*sin-up*cos)
	}
	return []Point{at(0, above), at(w, above), at(w, -below), at(0, -below)}
}

// Width is how far s runs with capitals size mm high, mm.
func Width(s string, size float64, face font.Face) float64 { return face.Width(s, size) }

// FitText is the largest size from size down to MinLetter at which s runs no
// farther than width. When even the least is too large it returns MinLetter
// and false: wrap then.
func FitText(s string, size float64, face font.Face, width float64) (float64, bool) {
	if w := Width(s, size, face); w > width {
		size *= width / w
	}
	if size < MinLetter {
		return MinLetter, false
	}
	return size, true
}

// Wrap breaks s into lines that run no farther than width. It breaks at
// spaces and at line breaks; a no-break space holds a value to its unit. A
// word wider than a line is broken between letters, so nothing is lost.
func Wrap(s string, size float64, face font.Face, width float64) []string {
	var lines []string
	for _, paragraph := range strings.Split(s, "\n") {
		line := ""
		for _, word := range strings.Split(paragraph, " ") {
			joined := word
			if line != "" {
				joined = line + " " + word
			}
			if Width(joined, size, face) <= width {
				line = joined
				continue
			}
			if line != "" {
				lines = append(lines, line)
			}
			for Width(word, size, face) > width {
				cut := 0
				for i, r := range word {
					next := i + len(string(r))
					if cut > 0 && Width(word[:next], size, face) > width {
						break
					}
					cut = next
				}
				if cut >= len(word) {
					break // one letter is wider than the line
				}
				lines, word = append(lines, word[:cut]), word[cut:]
			}
			line = word
		}
		lines = append(lines, line)
	}
	return lines
}

// Leading is the distance between baselines for capitals of size mm: capitals
// and as much again less a fifth. ASME Y14.2 asks for half to one letter height
// between lines.
func Leading(size float64) float64 { return 1.8 * size }

// Block sets s in lines no wider than width, the first baseline at t.At, and
// returns the baseline that a next line would have.
func Block(t Text, width float64) (Group, Point) {
	var g Group
	for _, line := range Wrap(t.Value, t.Size, t.Face, width) {
		row := t
		row.Value = line
		g.Add(row)
		t.At.Y += Leading(t.Size)
	}
	return g, t.At
}

// Mark tells how a value came to be; it survives a copying machine.
type Mark int

// The marks.
const (
	Chosen  Mark = iota // by the plan: upright
	Given               // by a person, seen on site: underlined
	Assumed             // in brackets
)

// Piece is a part of a line with one face and one mark.
type Piece struct {
	Value string
	Face  font.Face
	Mark  Mark
}

// Pieces sets parts after one another on one level line that stands with
// anchor at at.
func Pieces(at Point, size float64, anchor Anchor, pieces ...Piece) Group {
	var g Group
	x := 0.0
	for _, p := range pieces {
		if p.Mark == Assumed {
			p.Value = "[" + p.Value + "]"
		}
		t := Text{At: Point{x, at.Y}, Value: p.Value, Size: size, Face: p.Face}
		g.Add(t)
		if p.Mark == Given {
			y := at.Y + 0.28*size
			g.Add(Line{Point{x, y}, Point{x + t.Width(), y}, Fine})
		}
		x += t.Width()
	}
	shift := at.X - x*[...]float64{0, 0.5, 1}[anchor]
	for i, item := range g.Items {
		switch item := item.(type) {
		case Text:
			item.At.X += shift
			g.Items[i] = item
		case Line:
			item.A.X += shift
			item.B.X += shift
			g.Items[i] = item
		}
	}
	return g
}

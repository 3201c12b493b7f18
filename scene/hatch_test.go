package scene

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// star draws a simple polygon, mostly not convex: corners round a center.
func star(t *rapid.T) []Point {
	n := rapid.IntRange(3, 12).Draw(t, "corners")
	var area []Point
	for i := range n {
		r := rapid.Float64Range(4, 40).Draw(t, "radius")
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		area = append(area, Point{100 + r*cos, 100 + r*sin})
	}
	return area
}

func surface(area []Point) float64 {
	sum := 0.0
	for i, a := range area {
		b := area[(i+1)%len(area)]
		sum += a.X*b.Y - b.X*a.Y
	}
	return math.Abs(sum) / 2
}

func TestHatchStaysInItsArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		area := star(t)
		pattern := Pattern(rapid.IntRange(int(Slant45), int(Dots)).Draw(t, "pattern"))
		pitch := rapid.Float64Range(0.5, 6).Draw(t, "pitch")
		for _, item := range Hatch(area, pattern, pitch, Fine).Items {
			switch i := item.(type) {
			case Line:
				for _, end := range []Point{i.A, i.B} {
					if d := fromEdge(area, end); d > 1e-6 {
						t.Fatalf("a line ends %.4f mm off the edge", d)
					}
				}
				for _, share := range []float64{0.001, 0.3, 0.5, 0.8, 0.999} {
					p := Point{i.A.X + share*(i.B.X-i.A.X), i.A.Y + share*(i.B.Y-i.A.Y)}
					if !Inside(area, p) && fromEdge(area, p) > 1e-6 {
						t.Fatalf("a line runs outside at %v", p)
					}
				}
			case Circle:
				if !Inside(area, i.Center) || fromEdge(area, i.Center) < i.R-1e-9 {
					t.Fatalf("the dot at %v is cut by the edge", i.Center)
				}
			}
		}
	})
}

// Lines at distance d fill an area: their length times d is the area, but for
// a step at the edge.
func TestHatchFillsItsArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		area := star(t)
		pattern := rapid.SampledFrom([]Pattern{Slant45, Slant135, Vertical, Horizontal}).Draw(t, "pattern")
		lines := Hatch(area, pattern, 0.25, Fine).Items
		across := map[Pattern]float64{Slant45: 45, Slant135: 135, Vertical: 90, Horizontal: 0}[pattern]
		sin, cos := math.Sincos(across * math.Pi / 180)
		low, high := shadow(area, sin, cos)
		step := (high - low) / math.Round((high-low)/0.25)
		total := 0.0
		for _, item := range lines {
			l := item.(Line)
			total += math.Hypot(l.B.X-l.A.X, l.B.Y-l.A.Y) * step
		}
		if want := surface(area); math.Abs(total-want) > 0.02*want+5 {
			t.Fatalf("%d lines stand for %.1f mm², the area is %.1f mm²", len(lines), total, want)
		}
	})
}

func TestHatchByHand(t *testing.T) {
	square := Rect{X: 10, Y: 20, W: 8, H: 6}.Corners()
	level := Hatch(square, Horizontal, 2, Fine).Items
	want := []Line{{Point{10, 21}, Point{18, 21}, Fine}, {Point{10, 23}, Point{18, 23}, Fine}, {Point{10, 25}, Point{18, 25}, Fine}}
	if len(level) != len(want) {
		t.Fatalf("%d level lines, want %d", len(level), len(want))
	}
	for i := range want {
		if got := level[i].Bounds(); got != want[i].Bounds() {
			t.Errorf("line %d at %v, want %v", i, got, want[i].Bounds())
		}
	}
	if n := len(Hatch(square, Vertical, 2, Fine).Items); n != 4 {
		t.Errorf("%d upright lines in 8 mm at 2 mm, want 4", n)
	}
	if n := len(Hatch(square, Dots, 2, Fine).Items); n != 12 {
		t.Errorf("%d dots in 8 × 6 mm at 2 mm, want 12", n)
	}
	if n := len(Hatch(square, Plain, 2, Fine).Items) + len(Hatch(square, Cross, 0, Fine).Items) + len(Hatch(square[:2], Cross, 1, Fine).Items); n != 0 {
		t.Errorf("%d lines where none are due", n)
	}
	// Up to the right: the slant of 45 degrees rises, that of 135 falls.
	rising := Hatch(square, Slant45, 2, Fine).Items[0].(Line)
	if (rising.B.X-rising.A.X)*(rising.B.Y-rising.A.Y) >= 0 {
		t.Errorf("45 degrees runs from %v to %v", rising.A, rising.B)
	}
}

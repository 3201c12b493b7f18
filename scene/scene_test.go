package scene

import (
	"flag"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"legwork/scene/font"
)

var update = flag.Bool("update", false, "rewrite golden files")

// onceOfEach has each kind of item once.
func onceOfEach() *Scene {
	s := Blank(ANSIB, "E-601", `One "line" & more`)
	g := Group{ID: "MP", Layer: "panels", Link: "sheet:E-603"}
	g.Add(Rect{X: 20, Y: 20, W: 40, H: 30, Stroke: New, Fill: Paper})
	g.Add(Text{At: Point{40, 30}, Value: "main panel", Size: Body, Face: font.Bold, Anchor: Middle})
	s.Add(g,
		Line{Point{1, 2}, Point{3, 4.005}, ByOthers},
		Polyline{[]Point{{0, 0}, {5, 0}, {5, 5}}, Existing},
		Polygon{Points: []Point{{0, 0}, {5, 0}, {5, 5}}, Fill: Blue},
		Circle{Center: Point{10, 10}, R: 3, Stroke: Fine},
		Arc{Center: Point{10, 10}, R: 4, From: -60, To: 60, Stroke: New.With(DashDot)},
		Text{At: Point{80, 80}, Value: "PV output → panel", Size: Note, Angle: 90, Anchor: End, Color: Muted},
		Text{At: Point{90, 80}, Value: "123456789012", Size: Note, Face: font.Mono},
	)
	return s
}

func TestDump(t *testing.T) {
	const file = "testdata/once_of_each.scene"
	got := onceOfEach().Dump()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil || got != string(want) {
		t.Errorf("dump differs from %s (%v):\n%s", file, err, got)
	}
}

func TestBounds(t *testing.T) {
	for _, c := range []struct {
		name string
		item Item
		want Box
	}{
		{"line", Line{Point{3, 1}, Point{1, 5}, New}, Box{1, 1, 3, 5}},
		{"circle", Circle{Center: Point{5, 5}, R: 2}, Box{3, 3, 7, 7}},
		{"quarter arc, upper right", Arc{R: 2, From: 0, To: 90}, Box{0, -2, 2, 0}},
		{"half arc over the top", Arc{R: 2, From: 0, To: 180}, Box{-2, -2, 2, 0}},
		{"arc through the right", Arc{R: 2, From: -90, To: 90}, Box{0, -2, 2, 2}},
		{"H, level", Text{At: Point{10, 10}, Value: "H", Size: 3, Anchor: End}, Box{10 - Width("H", 3, font.Regular), 7, 10, 10}},
		{"H, upward", Text{At: Point{10, 10}, Value: "H", Size: 3, Angle: 90}, Box{7, 10 - Width("H", 3, font.Regular), 10, 10}},
		{"spaces only", Text{At: Point{10, 10}, Value: "  ", Size: 3}, Box{}},
		{"group", Group{Items: []Item{Line{Point{3, 1}, Point{1, 5}, New}, Circle{Center: Point{5, 5}, R: 2}}}, Box{1, 1, 7, 7}},
		{"empty group", Group{}, Box{}},
	} {
		got := c.item.Bounds()
		for _, d := range []float64{got.MinX - c.want.MinX, got.MinY - c.want.MinY, got.MaxX - c.want.MaxX, got.MaxY - c.want.MaxY} {
			if math.Abs(d) > 1e-9 {
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
				break
			}
		}
	}
}

func TestTurn(t *testing.T) {
	down := Line{Point{10, 10}, Point{10, 14}, New}
	if got, want := Turn(down, Point{10, 10}, 1).(Line).B, (Point{14, 10}); got != want {
		t.Errorf("a lead down, a quarter counterclockwise, ends at %v, want %v to the right", got, want)
	}
	items := onceOfEach().Items
	for _, item := range items {
		a, b := item, item
		for range 4 {
			a = Turn(a, Point{30, 40}, 1)
		}
		b = Turn(Turn(b, Point{30, 40}, 3), Point{30, 40}, -3)
		for _, got := range []Item{a, b} {
			x := Scene{Items: []Item{got}}
			y := Scene{Items: []Item{item}}
			if _, isArc := item.(Arc); isArc {
				if d := got.Bounds(); math.Abs(d.MinX-item.Bounds().MinX) > 1e-9 || math.Abs(d.MaxY-item.Bounds().MaxY) > 1e-9 {
					t.Errorf("arc turned full circle lies at %v", d)
				}
				continue
			}
			if x.Dump() != y.Dump() {
				t.Errorf("turned full circle:\n%swant\n%s", x.Dump(), y.Dump())
			}
		}
	}
}

func TestSheetSizesAreInchesOfTheStandard(t *testing.T) {
	for _, c := range []struct {
		got  Size
		w, h float64 // inches, ANSI/ASME Y14.1
	}{{Letter, 8.5, 11}, {ANSIB, 17, 11}, {ANSID, 34, 22}} {
		if math.Abs(c.got.W-25.4*c.w) > 1e-9 || math.Abs(c.got.H-25.4*c.h) > 1e-9 {
			t.Errorf("%v is not %g × %g in", c.got, c.w, c.h)
		}
	}
}

func TestWrap(t *testing.T) {
	w := Width("the service", Note, font.Regular)
	for _, c := range []struct {
		name, in string
		want     []string
	}{
		{"at spaces", "the service stays live", []string{"the service", "stays live"}},
		{"a value keeps its unit", "the bus 15.03\u00a0A", []string{"the bus", "15.03\u00a0A"}},
		{"at line breaks", "a\n\nb", []string{"a", "", "b"}},
		{"nothing", "", []string{""}},
	} {
		if got := Wrap(c.in, Note, font.Regular, w); strings.Join(got, "|") != strings.Join(c.want, "|") {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.StringOfN(rapid.RuneFrom([]rune("abWΩ0 .\u00a0😀")), 0, 60, -1).Draw(t, "text")
		width := rapid.Float64Range(6, 60).Draw(t, "width")
		lines := Wrap(in, Note, font.Bold, width)
		strip := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if strip(strings.Join(lines, "")) != strip(in) {
			t.Fatalf("%q became %q", in, lines)
		}
		for _, l := range lines {
			if Width(strings.TrimSpace(l), Note, font.Bold) > width {
				t.Fatalf("%q runs farther than %.2f mm", l, width)
			}
		}
	})
}

func TestFitText(t *testing.T) {
	full := Width("2207 Larkbarrow Street", 4.2, font.Bold)
	for _, c := range []struct {
		name  string
		width float64
		size  float64
		fits  bool
	}{
		{"room to spare", full + 1, 4.2, true},
		{"three quarters", 0.75 * full, 3.15, true},
		{"too narrow for the least lettering", 0.5 * full, MinLetter, false},
	} {
		size, fits := FitText("2207 Larkbarrow Street", 4.2, font.Bold, c.width)
		if math.Abs(size-c.size) > 1e-9 || fits != c.fits {
			t.Errorf("%s: %.3f mm %t, want %.3f mm %t", c.name, size, fits, c.size, c.fits)
		}
	}
}

func TestPiecesFollowOneAnother(t *testing.T) {
	parts := []Piece{{Value: "bus "}, {Value: "225 A", Mark: Given}, {Value: "10 kA", Mark: Assumed, Face: font.Bold}}
	whole := Width("bus ", Body, font.Regular) + Width("225 A", Body, font.Regular) + Width("[10 kA]", Body, font.Bold)
	for _, anchor := range []Anchor{Start, Middle, End} {
		g := Pieces(Point{100, 50}, Body, anchor, parts...)
		first, last := g.Items[0].(Text), g.Items[len(g.Items)-1].(Text)
		if got := last.At.X + last.Width() - first.At.X; math.Abs(got-whole) > 1e-9 {
			t.Errorf("%s: runs %.3f mm, want %.3f mm", anchor, got, whole)
		}
		want := 100 - whole*[]float64{0, 0.5, 1}[anchor]
		if math.Abs(first.At.X-want) > 1e-9 {
			t.Errorf("%s: begins at %.3f, want %.3f", anchor, first.At.X, want)
		}
		if last.Value != "[10 kA]" {
			t.Errorf("assumed value is set as %q", last.Value)
		}
	}
}

func TestFollowable(t *testing.T) {
	for link, want := range map[string]bool{
		"https://example.org/a": true, "/job/1?at=MP": true, "#MP": true, "HTTP://EXAMPLE.ORG": true,
		"javascript:alert(1)": false, "JavaScript:x": false, "data:text/html,x": false, "//elsewhere.example": false, "": false, "x": false,
	} {
		if Followable(link) != want {
			t.Errorf("%q: %t, want %t", link, !want, want)
		}
	}
}

// Contrast on white after WCAG 2.1, "relative luminance" and "contrast ratio".
func TestColorsThatMustBeRead(t *testing.T) {
	contrast := func(c Color) float64 {
		r, g, b := c.RGB()
		linear := func(v uint8) float64 {
			s := float64(v) / 255
			if s <= 0.03928 {
				return s / 12.92
			}
			return math.Pow((s+0.055)/1.055, 2.4)
		}
		return 1.05 / (0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b) + 0.05)
	}
	for c, want := range map[Color]float64{Muted: 7, OKColor: 4.5, StopColor: 4.5, AskColor: 4.5, Blue: 4.5} {
		if got := contrast(c); got < want {
			t.Errorf("%s on white: %.2f, want %.1f", c, got, want)
		}
	}
	if got := contrast(Ink); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white: %.2f, the standard says 21", got)
	}
}

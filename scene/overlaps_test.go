package scene

import "testing"

func TestOverlaps(t *testing.T) {
	word := func(x, y float64, s string) Text { return Text{At: Point{x, y}, Value: s, Size: 3} }
	upright := func(x, y float64, s string) Text { return Text{At: Point{x, y}, Value: s, Size: 3, Angle: 90} }
	across := Line{Point{0, 48.5}, Point{200, 48.5}, New}
	for _, c := range []struct {
		name  string
		items []Item
		want  string // kind of the only fault; none
	}{
		{"apart", []Item{word(20, 50, "main"), word(60, 50, "panel")}, ""},
		{"next line", []Item{word(20, 50, "main"), word(20, 55, "panel")}, ""},
		{"one on the other", []Item{word(20, 50, "main"), word(22, 51, "panel")}, "text on text"},
		{"inside groups", []Item{Group{Items: []Item{word(20, 50, "main")}}, Group{Items: []Item{word(22, 51, "panel")}}}, "text on text"},
		{"upright through level", []Item{word(20, 50, "main panel"), upright(25, 55, "bus")}, "text on text"},
		{"upright beside level", []Item{word(20, 50, "main"), upright(50, 50, "bus")}, ""},
		{"slanted past a corner", []Item{word(20, 50, "mmmm"), Text{At: Point{34, 60}, Value: "mmmm", Size: 3, Angle: 45}}, ""},
		{"blank on text", []Item{word(20, 50, "main"), word(20, 50, "  ")}, ""},
		{"out at the left", []Item{word(9, 50, "main")}, "outside the frame"},
		{"out at the right", []Item{word(198, 50, "main")}, "outside the frame"},
		{"tail below the frame", []Item{word(20, 189.8, "gauge")}, "outside the frame"},
		{"just inside", []Item{word(10, 13, "HHH")}, ""},
		{"too small", []Item{Text{At: Point{20, 50}, Value: "fine print", Size: 2.3}}, "too small"},
		{"just large enough", []Item{Text{At: Point{20, 50}, Value: "print", Size: MinLetter}}, ""},
		{"struck through", []Item{word(20, 50, "main"), across}, "line through text"},
		{"written over a line", []Item{across, word(20, 50, "main")}, "line through text"},
		{"line hidden by a fill", []Item{across, Rect{X: 15, Y: 40, W: 40, H: 20, Fill: Paper}, word(20, 50, "main")}, ""},
		{"fill too small to hide it", []Item{across, Rect{X: 15, Y: 40, W: 7, H: 20, Fill: Paper}, word(20, 50, "main")}, "line through text"},
		{"fill painted before the line", []Item{Rect{X: 15, Y: 40, W: 40, H: 20, Fill: Paper}, across, word(20, 50, "main")}, "line through text"},
		{"underlined", []Item{Pieces(Point{20, 50}, 3, Start, Piece{Value: "gauge 225 A", Mark: Given})}, ""},
		{"in a circle", []Item{Circle{Center: Point{50, 50}, R: 5, Stroke: New}, Text{At: Point{50, 51.5}, Value: "M", Size: 3, Anchor: Middle}}, ""},
		{"circle through it", []Item{Circle{Center: Point{50, 50}, R: 2, Stroke: New}, Text{At: Point{50, 51.5}, Value: "kWh", Size: 3, Anchor: Middle}}, "line through text"},
		{"hatched over", []Item{Hatch(Rect{X: 15, Y: 40, W: 40, H: 20}.Corners(), Slant45, 2, Fine), word(20, 50, "main")}, "line through text"},
		{"room held by nothing painted", []Item{word(20, 50, "main"), Rect{X: 22, Y: 40, W: 40, H: 20}}, ""},
		{"dots over it", []Item{Hatch(Rect{X: 15, Y: 40, W: 40, H: 20}.Corners(), Dots, 2, Fine), word(20, 50, "main")}, "line through text"},
		{"arc through it", []Item{Arc{Center: Point{25, 60}, R: 11.5, From: 60, To: 120, Stroke: New}, word(20, 50, "main")}, "line through text"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := Blank(ANSIB, "", "")
			s.Frame = Rect{X: 10, Y: 10, W: 190, H: 180}
			s.Add(c.items...)
			got := Overlaps(s)
			switch {
			case c.want == "" && len(got) > 0:
				t.Errorf("found %v, want nothing", got)
			case c.want != "" && (len(got) != 1 || got[0].Kind != c.want):
				t.Errorf("found %v, want one %q", got, c.want)
			}
		})
	}
}

func TestOverlapsWithoutFrameUsesTheSheet(t *testing.T) {
	s := Blank(Letter, "", "")
	s.Add(Text{At: Point{215, 100}, Value: "over the edge", Size: 3})
	if got := Overlaps(s); len(got) != 1 || got[0].Kind != "outside the frame" {
		t.Errorf("found %v", got)
	}
}

package sheets_test

import (
	"math"
	"strings"
	"testing"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/plan"
	"legwork/scene"
	"legwork/sheets"
)

func roofOf(t *testing.T, doc *job.Document) (map[string][]scene.Point, string, []string) {
	t.Helper()
	p, err := plan.Fill(doc)
	if err != nil {
		t.Fatal(err)
	}
	g, scale, notes := sheets.Roof(p.Plant, scene.Rect{X: 10, Y: 10, W: 240, H: 200})
	outlines := map[string][]scene.Point{}
	for _, item := range g.Items {
		unit, ok := item.(scene.Group)
		if !ok {
			continue
		}
		for _, part := range unit.Items {
			if poly, ok := part.(scene.Polygon); ok && strings.Contains(unit.ID, "-r") {
				outlines[unit.ID] = poly.Points
			}
		}
	}
	return outlines, scale, notes
}

// S1 by hand at 1/4 in to the foot, 6.35 mm: a module 44.6 in wide is
// 3.7167 ft, 23.60 mm along the eave; 67.8 in long at a pitch of 22° it covers
// 5.65 × 0.92718 = 5.2386 ft in plan view, 33.26 mm.
func TestRoofIsTrueToScale(t *testing.T) {
	outlines, scale, _ := roofOf(t, houses.Get(t, "quillfeather").Doc)
	if scale != `1/4" = 1'-0"` {
		t.Fatalf("scale %s, want 1/4 in to the foot", scale)
	}
	if len(outlines) != 14 {
		t.Fatalf("%d modules drawn, want 14", len(outlines))
	}
	for at, c := range outlines {
		side := func(a, b scene.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }
		if got := side(c[0], c[1]); math.Abs(got-23.60) > 0.01 {
			t.Errorf("%s is %.2f mm wide, want 23.60", at, got)
		}
		if got := side(c[1], c[2]); math.Abs(got-33.26) > 0.01 {
			t.Errorf("%s is %.2f mm up the slope, want 33.26", at, got)
		}
	}
}

func TestRoofDrawsEveryUnit(t *testing.T) {
	for _, h := range houses.All(t) {
		p, err := plan.Fill(h.Doc)
		if err != nil {
			t.Fatal(err)
		}
		outlines, _, _ := roofOf(t, h.Doc)
		for _, u := range p.Plant.Units {
			if outlines[u.Position] == nil {
				t.Errorf("%s: %s is not drawn", h.Name, u.Position)
			}
		}
	}
}

// A plane without a pitch has no place in plan view: it is named, not drawn at a
// guess.
func TestRoofSaysWhatItCannotDraw(t *testing.T) {
	doc, err := houses.Get(t, "quillfeather").Doc.Set("planes[0].pitch", "?")
	if err != nil {
		t.Fatal(err)
	}
	outlines, _, notes := roofOf(t, doc)
	if len(outlines) != 0 || len(notes) == 0 || !strings.Contains(notes[0], "plane S is not drawn: pitch of the plane is missing") {
		t.Errorf("drew %d modules, said %q", len(outlines), notes)
	}
}

// The drawing for a page collides nowhere and leaves nothing outside, for every
// house.
func TestRoofFillingIsClean(t *testing.T) {
	for _, h := range houses.All(t) {
		p, err := plan.Fill(h.Doc)
		if err != nil {
			t.Fatal(err)
		}
		s, _ := sheets.RoofFilling(p.Plant, 220)
		if s == nil {
			t.Errorf("%s: nothing drawn", h.Name)
			continue
		}
		for _, fault := range scene.Overlaps(s) {
			t.Errorf("%s: %v", h.Name, fault)
		}
	}
}

package site_test

import (
	"math"
	"strings"
	"testing"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/quantity"
	"legwork/site"
)

func resolve(t *testing.T, doc *job.Document) *site.Plant {
	t.Helper()
	p, err := site.Resolve(doc, job.Decisions{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func near(got, want quantity.Feet) bool { return math.Abs(float64(got-want)) < 0.005 }

// TestPlanView by hand. Plane S of larkbarrow faces south at 34°, its eave runs
// east from (20, 30) ft; a portrait module is 44.6 × 69.4 in, the gap 1 in, both
// offsets 2 ft. S-r2-c3: 24 + 2 × 45.6 = 115.2 in = 9.6 ft along; 24 + 70.4 =
// 94.4 in = 7.8667 ft up; in plan view 7.8667 × cos 34° = 6.5218 ft. Plane E
// faces east: its eave runs north from (60, 30), up the slope is west.
func TestPlanView(t *testing.T) {
	p := resolve(t, houses.Get(t, "larkbarrow").Doc)
	for _, c := range []struct {
		plane    int
		row, col int
		x, y     quantity.Feet
	}{
		{0, 1, 1, 22, 30 + 2*0.829038},
		{0, 2, 3, 29.6, 36.5218},
		{1, 2, 3, 60 - 6.5218, 39.6},
	} {
		pl := &p.Job.Planes[c.plane]
		f := p.Field(pl)
		r := f.Module(job.Position{Plane: pl.ID, Row: c.row, Col: c.col})
		got := f.Corners(r)[0]
		if !near(got.X, c.x) || !near(got.Y, c.y) {
			t.Errorf("%s row %d column %d: corner at %.3f, %.3f ft, want %.3f, %.3f", pl.ID, c.row, c.col, got.X, got.Y, c.x, c.y)
		}
	}
}

// TestHousesHoldTheirModules: the drawn eaves face where the azimuth says, and
// every module lies on its plane.
func TestHousesHoldTheirModules(t *testing.T) {
	for _, h := range houses.All(t) {
		p := resolve(t, h.Doc)
		for i := range h.Doc.Planes {
			f := p.Field(&h.Doc.Planes[i])
			if len(f.Missing)+len(f.Unplaced) > 0 {
				t.Errorf("%s %s: missing %v %v", h.Name, f.Plane.ID, f.Missing, f.Unplaced)
				continue
			}
			if off := math.Abs(math.Remainder(float64(f.Faces()-f.Plane.Azimuth.Value), 360)); off > 0.5 {
				t.Errorf("%s %s: the drawn eave faces %.1f°, the azimuth is %.1f°", h.Name, f.Plane.ID, f.Faces(), f.Plane.Azimuth.Value)
			}
			if c := f.Crowded(); len(c) > 0 {
				t.Errorf("%s %s: %v", h.Name, f.Plane.ID, c)
			}
		}
	}
}

// TestWayRoundAChimney by hand, in quillfeather: modules 44.6 × 67.8 in, gap
// 1 in, offsets 24 in. The middles of c1 and c3 in row 1 are 2 × 45.6 in = 7.6 ft
// apart, 24 + 33.9 in = 4.825 ft above the eave. A chimney from 4 ft to 6 ft up
// stands between them: round its lower side and back is 2 × 0.825 ft more.
func TestWayRoundAChimney(t *testing.T) {
	doc := houses.Get(t, "quillfeather").Doc
	pl := &doc.Planes[0]
	way := func() quantity.Feet {
		p := resolve(t, doc)
		return p.Field(pl).Way(p.Units[0], p.Units[2])
	}
	if got := way(); !near(got, 7.6) {
		t.Errorf("way %.3f ft, want 7.6", got)
	}
	ft := func(v quantity.Feet) job.Fact[quantity.Feet] { return job.Fact[quantity.Feet]{Value: v, Known: true} }
	pl.Obstructions = []job.Obstruction{{ID: "chimney", FromLeft: ft(6), FromEave: ft(4), Width: ft(2), Height: ft(2)}}
	if got := way(); !near(got, 7.6+1.65) {
		t.Errorf("way round the chimney %.3f ft, want 9.25", got)
	}
	// From 6 to 8 ft it lies under c2 (5.8 to 9.52 ft) alone, and reaches no row 2.
	c := resolve(t, doc).Field(pl).Crowded()
	if len(c) != 1 || c[0] != (site.Crowding{Position: "S-r1-c2", By: "chimney"}) {
		t.Errorf("crowded: %v", c)
	}
}

// TestSetback by hand: the slope of quillfeather is 16 ft, its two rows end
// 24 + 2 × 67.8 + 1 = 160.6 in = 13.38 ft up: 2.62 ft are left at the ridge.
func TestSetback(t *testing.T) {
	doc := houses.Get(t, "quillfeather").Doc
	for ridge, want := range map[quantity.Feet]int{2.5: 0, 3: 7} {
		doc.Planes[0].Setbacks.Ridge = job.Fact[quantity.Feet]{Value: ridge, Known: true}
		c := resolve(t, doc).Field(&doc.Planes[0]).Crowded()
		if len(c) != want || want > 0 && c[0] != (site.Crowding{Position: "S-r2-c1", By: "the setback at the ridge"}) {
			t.Errorf("setback of %.1f ft: %v, want %d modules", ridge, c, want)
		}
	}
}

// TestUnitsOfSeveralModules: seven columns with two inputs a unit are three
// pairs and a single; an empty position parts its neighbors.
func TestUnitsOfSeveralModules(t *testing.T) {
	doc := houses.Get(t, "quillfeather").Doc
	for _, c := range []struct {
		inputs int
		omit   []string
		want   string
	}{
		{1, nil, "c1 c2 c3 c4 c5 c6 c7"},
		{2, nil, "c1+c2 c3+c4 c5+c6 c7"},
		{4, nil, "c1+c2+c3+c4 c5+c6+c7"},
		{2, []string{"S-r1-c2"}, "c1 c3+c4 c5+c6 c7"},
	} {
		doc.Equipment.Inverters[0].ModulesPerUnit = job.Fact[int]{Value: c.inputs, Known: true}
		doc.Planes[0].Grid.Omit = c.omit
		var row []string
		p := resolve(t, doc)
		for _, u := range p.Units {
			if strings.HasPrefix(u.Position, "S-r1-") {
				row = append(row, strings.ReplaceAll(strings.Join(u.Positions, "+"), "S-r1-", ""))
			}
		}
		if got := strings.Join(row, " "); got != c.want {
			t.Errorf("%d inputs, without %v: %s, want %s", c.inputs, c.omit, got, c.want)
		}
	}
	// A branch lists positions; it carries units.
	p, err := site.Resolve(doc, job.Decisions{Branches: []job.Branch{{ID: "A", Units: []string{"S-r2-c7..c1"}, From: "roof_box", Lands: "combiner"}}})
	if err != nil || len(p.Branches[0].Units) != 4 {
		t.Errorf("branch over seven modules with two inputs: %v, %v", p, err)
	}
}

package symbol

import (
	"math"
	"strings"
	"testing"

	"legwork/scene"
	"legwork/working"
)

// Conductors drawn to the leads' ends must meet them.
func TestLeadsReachAsFarAsTheConstantsSay(t *testing.T) {
	c := scene.Point{X: 100, Y: 100}
	meter := func(c scene.Point, pen scene.Stroke) scene.Group { return Meter(c, "M", pen) }
	for name, s := range map[string]struct {
		draw  func(scene.Point, scene.Stroke) scene.Group
		reach float64
	}{
		"breaker": {Breaker, Reach}, "fuse": {Fuse, Reach}, "switch": {Switch, Reach},
		"transformer": {Transformer, Reach}, "meter": {meter, MeterReach},
	} {
		b := s.draw(c, scene.New).Bounds()
		if math.Abs(b.MinY-(100-s.reach)) > 1e-9 || math.Abs(b.MaxY-(100+s.reach)) > 1e-9 {
			t.Errorf("%s reaches from %.2f to %.2f, want %.2f each way", name, b.MinY-100, b.MaxY-100, s.reach)
		}
	}
}

// The breaker's arc must close the gap between its leads.
func TestBreakerArcMeetsItsLeads(t *testing.T) {
	g := Breaker(scene.Point{}, scene.New)
	upper, lower, arc := g.Items[0].(scene.Line), g.Items[1].(scene.Line), g.Items[2].(scene.Arc)
	for _, pair := range [][2]scene.Point{{upper.B, arc.At(arc.To)}, {lower.A, arc.At(arc.From)}} {
		if d := math.Hypot(pair[0].X-pair[1].X, pair[0].Y-pair[1].Y); d > 1e-9 {
			t.Errorf("arc and lead are %.3f mm apart", d)
		}
	}
}

// An open switch must look open: the blade ends clear of the upper contact.
func TestSwitchStandsOpen(t *testing.T) {
	g := Switch(scene.Point{}, scene.New)
	blade := g.Items[2].(scene.Line)
	if d := math.Hypot(blade.B.X, blade.B.Y+G); d < G/2 {
		t.Errorf("the blade ends %.2f mm from the contact", d)
	}
}

// A CT that is turned round shows its arrow and its dot the other way.
func TestCTTurnedRound(t *testing.T) {
	tip := func(item scene.Item) scene.Point {
		arrow := item.(scene.Group).Items[2].(scene.Group)
		return arrow.Items[1].(scene.Polygon).Points[0]
	}
	dot := func(item scene.Item) scene.Point { return item.(scene.Group).Items[1].(scene.Circle).Center }
	ct := CT(scene.Point{}, scene.New)
	back := scene.Turn(ct, scene.Point{}, 2)
	if tip(ct).Y <= 0 || tip(back).Y >= 0 {
		t.Errorf("arrow tips at %v and, turned, %v", tip(ct), tip(back))
	}
	if dot(ct).Y >= 0 || dot(back).Y <= 0 {
		t.Errorf("dots at %v and, turned, %v: current goes in where the arrow begins", dot(ct), dot(back))
	}
}

func TestBranchesDifferWithoutColor(t *testing.T) {
	seen := map[scene.Pattern]int{}
	for i := range 6 {
		s := BranchStyle(i)
		if j, twice := seen[s.Pattern]; twice {
			t.Errorf("branches %d and %d have one hatch", j, i)
		}
		seen[s.Pattern] = i
	}
	if BranchStyle(6).Pitch != 2*BranchStyle(0).Pitch || BranchStyle(6).Pattern != BranchStyle(0).Pattern {
		t.Errorf("seventh branch is drawn as %+v", BranchStyle(6))
	}
}

func TestVerdictsDifferWithoutColor(t *testing.T) {
	seen := map[string]working.Verdict{}
	for _, v := range []working.Verdict{"", working.OK, working.Look, working.Stop, working.Ask} {
		s := scene.Scene{Items: []scene.Item{Verdict(scene.Point{}, 2, v)}}
		shape := s.Dump()
		for _, c := range []scene.Color{scene.OKColor, scene.LookColor, scene.StopColor, scene.AskColor, lookInk} {
			shape = strings.ReplaceAll(shape, string(c), "ink")
		}
		if other, twice := seen[shape]; twice {
			t.Errorf("%q and %q have one shape", v, other)
		}
		seen[shape] = v
		if b := s.Items[0].Bounds(); b.MinX < -2.1 || b.MaxX > 2.1 || b.MinY < -2.1 || b.MaxY > 2.1 {
			t.Errorf("%q leaves its room: %v", v, b)
		}
	}
}

func TestNorthPointsWhereItShould(t *testing.T) {
	tip := func(turned float64) scene.Point {
		return North(scene.Point{}, 10, turned).Items[1].(scene.Polygon).Points[0]
	}
	for turned, want := range map[float64]scene.Point{0: {X: 0, Y: -10}, 90: {X: 10, Y: 0}, 180: {X: 0, Y: 10}} {
		if got := tip(turned); math.Hypot(got.X-want.X, got.Y-want.Y) > 1e-9 {
			t.Errorf("north %g° clockwise of the top points to %v, want %v", turned, got, want)
		}
	}
}

func TestScaleBarMeasures(t *testing.T) {
	// 1:48 (1/4 in = 1 ft): a foot is 304.8/48 = 6.35 mm, 20 ft are 127 mm.
	bar := ScaleBar(scene.Point{}, 4, 5, 304.8/48, "ft")
	last := bar.Items[3].(scene.Rect)
	if got := last.X + last.W; math.Abs(got-127) > 1e-9 {
		t.Errorf("20 ft are %.3f mm long, want 127 mm", got)
	}
}

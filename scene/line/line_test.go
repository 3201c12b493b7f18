package line

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwork/scene"
	"legwork/scene/pdf"
	"legwork/scene/svg"
	"legwork/working"
)

var (
	update = flag.Bool("update", false, "rewrite golden files")
	keep   = flag.String("keep", "", "folder to write the pictures to, to be looked at")
)

// three is a house with three branches, invented.
var three = Line{Here: "CB", Nodes: []Node{
	{ID: "roof", Label: "roof", Sub: "27 units", Kind: Roof, Strands: 3, Verdict: working.OK, Link: "/job/1/proof?at=roof"},
	{ID: "JB", Label: "junction box", Kind: Junction, Strands: 3, Link: "/job/1/proof?at=JB"},
	{ID: "home", Label: "home run", Sub: "10 AWG, 62 ft", Kind: Run, Strands: 3, Verdict: working.Look, Link: "/job/1/proof?at=home"},
	{ID: "CB", Label: "combiner", Sub: "3 of 3 filled", Kind: Combiner, Verdict: working.OK, Link: "/job/1/proof?at=CB"},
	{ID: "out", Label: "PV output", Sub: "6 AWG, 18 ft", Kind: Run, Verdict: working.Stop, Link: "/job/1/proof?at=out"},
	{ID: "MP", Label: "main panel", Sub: "bus label?", Kind: Panel, Existing: true, Verdict: working.Ask, Link: "/job/1/proof?at=MP"},
	{ID: "UM", Label: "utility meter", Kind: Meter, Existing: true, Link: "/job/1/proof?at=UM"},
	{ID: "SV", Label: "service", Sub: "9.4 kA", Kind: Service, Existing: true, Verdict: working.OK, Link: "/job/1/proof?at=SV"},
}}

// many is a roof with more branches than strands are drawn, joined ahead of the main.
var many = Line{Nodes: []Node{
	{ID: "roof", Label: "roof", Sub: "88 units on four planes", Kind: Roof, Strands: 8},
	{ID: "home", Label: "home run", Kind: Run, Strands: 8},
	{ID: "CB", Label: "combiner", Kind: Combiner, Verdict: working.OK},
	{ID: "TP", Label: "tap ahead of the main", Kind: Tap, Existing: true, Verdict: working.Look},
	{ID: "UM", Label: "utility meter", Kind: Meter, Existing: true},
}}

func board() *scene.Scene {
	s := scene.Blank(scene.ANSIB, "G-003", "The line")
	for i, l := range []Line{three, many} {
		y := 20 + 50*float64(i)
		wide, _ := l.Strip(scene.Point{X: 10, Y: y}, 250)
		phone, _ := l.Strip(scene.Point{X: 10, Y: 120 + y}, 100)
		rail, _ := l.Rail(scene.Point{X: 270 + 80*float64(i), Y: 10}, 70)
		s.Add(wide, phone, rail)
	}
	five := Line{Nodes: []Node{{ID: "roof", Label: "roof", Kind: Roof, Strands: 5}, {ID: "JB", Label: "junction box", Kind: Junction, Strands: 5}, {Label: "home runs", Kind: Run, Strands: 5}}}
	rail, _ := five.Rail(scene.Point{X: 350, Y: 150}, 70)
	unknown := Line{Nodes: []Node{{ID: "roof", Label: "branches not chosen", Kind: Roof}, {Label: "combiner", Kind: Combiner}}}
	other, _ := unknown.Rail(scene.Point{X: 350, Y: 220}, 70)
	s.Add(rail, other)
	return s
}

func TestBoard(t *testing.T) {
	s := board()
	for _, f := range scene.Overlaps(s) {
		t.Error(f)
	}
	const file = "testdata/board.scene"
	got := s.Dump()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if want, err := os.ReadFile(file); err != nil || got != string(want) {
		t.Errorf("board differs from %s (%v); look at it with -keep DIR, then -update", file, err)
	}
	if *keep != "" {
		var b bytes.Buffer
		if _, err := pdf.Write(&b, []*scene.Scene{s}, pdf.Options{}); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(*keep, "line.pdf"), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// Each place is one link that covers its column, and says its verdict by shape.
func TestEachPlaceCanBeTouched(t *testing.T) {
	strip, below := three.Strip(scene.Point{X: 0, Y: StripAbove}, 100)
	rail, height := three.Rail(scene.Point{}, 70)
	if want := RoofHeight + 7*RailStep; height != want {
		t.Errorf("rail is %.1f mm high, want %.1f", height, want)
	}
	for name, c := range map[string]struct {
		g      scene.Group
		w, h   float64
		leastW float64
		leastH float64
	}{
		"strip": {strip, 100, StripAbove + below, 10, StripAbove},
		"rail":  {rail, 70, height, 70, RailStep},
	} {
		places := map[string]bool{}
		for _, item := range c.g.Items {
			node, ok := item.(scene.Group)
			if !ok || node.Link == "" {
				continue
			}
			places[node.ID] = true
			b := node.Bounds().Rect()
			if b.W < c.leastW-1e-9 || b.H < c.leastH {
				t.Errorf("%s: %s can be touched on %.1f × %.1f mm", name, node.ID, b.W, b.H)
			}
			if b.X < -1e-9 || b.Y < -1e-9 || b.X+b.W > c.w+1e-9 || b.Y+b.H > c.h+1e-9 {
				t.Errorf("%s: %s leaves its room", name, node.ID)
			}
		}
		if len(places) != len(three.Nodes) {
			t.Errorf("%s: %d places, want %d", name, len(places), len(three.Nodes))
		}
	}
}

// A place with a name longer than anybody wishes takes the height that its words
// ask, also on the roof, so that nothing overlaps.
func TestLongNamesOnARail(t *testing.T) {
	const long = "the subpanel in the workshop behind the detached garage beside the old orchard"
	l := Line{Nodes: []Node{
		{ID: "roof", Label: "roof of the barn that was built in two parts", Sub: "88 units on four planes and a porch", Kind: Roof, Strands: 3},
		{ID: "a", Label: long, Sub: "100 A bus", Kind: Panel, Verdict: working.OK},
		{ID: "b", Label: long, Sub: "180 ft", Kind: Run},
		{ID: "c", Label: long, Kind: Panel},
	}}
	rail, height := l.Rail(scene.Point{X: 5, Y: 5}, 62)
	s := scene.Blank(scene.Size{W: 80, H: height + 10}, "", "")
	s.Add(rail)
	for _, f := range scene.Overlaps(s) {
		t.Error(f)
	}
	if b := rail.Bounds().Rect(); b.Y < 5-1e-9 || b.H > height+1e-9 {
		t.Errorf("drawn from %.2f over %.2f mm, told to be from 5 over %.2f", b.Y, b.H, height)
	}
}

func TestStrandsAreCounted(t *testing.T) {
	for _, c := range []struct{ strands, drawn int }{{0, 1}, {1, 1}, {3, 3}, {5, 5}, {6, 1}} {
		if got := len(Node{Strands: c.strands}.offsets()); got != c.drawn {
			t.Errorf("%d strands: %d drawn, want %d", c.strands, got, c.drawn)
		}
	}
	for strands, want := range map[int]string{0: "?", 2: "A B", 8: "A to H"} {
		if got := letters(strands); got != want {
			t.Errorf("%d branches are named %q, want %q", strands, got, want)
		}
	}
}

// On a phone the eight places of a house keep their words whole.
func TestNarrowStripBreaksNoWord(t *testing.T) {
	strip, _ := three.Strip(scene.Point{}, 100)
	s := scene.Blank(scene.Size{W: 100, H: 40}, "", "")
	s.Add(strip)
	dump := s.Dump()
	for _, n := range three.Nodes {
		for _, word := range strings.Fields(n.Label) {
			if !strings.Contains(dump, word+"\"") && !strings.Contains(dump, word+" ") {
				t.Errorf("%q is broken", word)
			}
		}
	}
}

func TestStripOnAPage(t *testing.T) {
	s := scene.Blank(scene.Size{W: 100, H: 30}, "", "")
	strip, _ := three.Strip(scene.Point{Y: StripAbove}, 100)
	s.Add(strip)
	var b bytes.Buffer
	if _, err := svg.Write(&b, s, svg.Options{Themed: true, Fluid: true, IDPrefix: "line-"}); err != nil {
		t.Fatal(err)
	}
	for _, n := range three.Nodes {
		if !strings.Contains(b.String(), `<a href="`+n.Link+`"><g id="line-`+n.ID+`"`) {
			t.Errorf("no link to %s", n.ID)
		}
	}
}

func TestEmptyLine(t *testing.T) {
	strip, below := Line{}.Strip(scene.Point{}, 100)
	rail, height := Line{}.Rail(scene.Point{}, 100)
	if len(strip.Items)+len(rail.Items) != 0 || below != 0 || height != 0 {
		t.Error("nothing draws something")
	}
}

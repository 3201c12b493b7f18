package frame

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwork/scene"
	"legwork/scene/line"
	"legwork/scene/pdf"
	"legwork/working"
)

var (
	update = flag.Bool("update", false, "rewrite golden files")
	keep   = flag.String("keep", "", "folder to write the sheet to, to be looked at")
)

// full is a block with everything in it; the house is invented.
func full() Block {
	return Block{
		Job: "2207 Larkbarrow Street", Address: "Denver, Colorado", Invented: true,
		Answers: "From each unit to the utility: what carries the current, what protects it, what disconnects it, what could flow in a fault?",
		Plant: []Row{
			{"Units", "27 × 400 VA, 240 V"}, {"AC rating", "10.8 kVA, 45.09 A"},
			{"Modules", "27 × 435 W = 11.75 kW DC"}, {"Code", "NFPA 70, 2023"}, {"Coldest, hottest", "−24 °C, 34 °C"},
		},
		Read: append([]Key{{TagSign, "conductor, see schedule"}, {VerdictShapes, ""}}, UsualKeys...),
		Cautions: []string{
			"Service conductors, also those inside the grid CTs, stay live with the main off.",
			"Units start by themselves 5 min after voltage returns.",
		},
		Firm: "Example Electric (invented)", Number: "E-601", Title: "One-line diagram",
		Sheet: 4, Of: 18, Revision: "revision A, not issued", Date: "2026-03-02",
	}
}

func places() line.Line {
	return line.Line{Here: "CB", Nodes: []line.Node{
		{ID: "roof", Label: "roof", Sub: "27 units", Kind: line.Roof, Strands: 3, Verdict: working.OK},
		{ID: "JB", Label: "junction box", Kind: line.Junction, Strands: 3},
		{ID: "CB", Label: "combiner", Sub: "3 of 3 filled", Kind: line.Combiner, Verdict: working.Look},
		{ID: "MP", Label: "main panel", Sub: "bus label?", Kind: line.Panel, Existing: true, Verdict: working.Ask},
		{ID: "UM", Label: "utility meter", Kind: line.Meter, Existing: true},
	}}
}

func draw(t *testing.T, b Block) (*scene.Scene, Room) {
	t.Helper()
	s, room, err := Sheet(b)
	if err != nil {
		t.Fatal(err)
	}
	AddLine(s, room, places())
	return s, room
}

func TestSheet(t *testing.T) {
	s, _ := draw(t, full())
	const file = "testdata/full.scene"
	got := s.Dump()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if want, err := os.ReadFile(file); err != nil || got != string(want) {
		t.Errorf("sheet differs from %s (%v); look at it with -keep DIR, then -update", file, err)
	}
	if *keep != "" {
		var b bytes.Buffer
		if _, err := pdf.Write(&b, []*scene.Scene{s}, pdf.Options{}); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(*keep, "frame.pdf"), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func TestNothingCollides(t *testing.T) {
	long := full()
	long.Job = "118 Quillfeather Lane, rear building above the old carriage house"
	long.Address = "Unincorporated Larkbarrow County, Colorado 80000-0000"
	long.Firm = "Example Electric and Daughters of Larkbarrow (invented)"
	long.License = "EC.0000000 (invented), Larkbarrow County 00-0000"
	long.Title = "Three-wire diagram of combiner, main panel, CTs and terminals"
	long.Plant[0].Value = "27 × 400 VA and 14 × 350 VA, 240 V, on four roof planes"
	long.Read = UsualKeys
	long.Cautions = long.Cautions[:1]
	for name, b := range map[string]Block{
		"full": full(), "long": long,
		"bare": {Job: "x", Number: "G-001", Title: "Cover", Sheet: 1, Of: 1},
	} {
		s, room := draw(t, b)
		for _, f := range scene.Overlaps(s) {
			t.Errorf("%s: %s", name, f)
		}
		// Where the pen goes and where the drawing goes nothing is printed.
		for what, r := range map[string]scene.Rect{"notes": room.Notes, "drawing": room.Drawing} {
			for _, l := range texts(s.Items) {
				b := l.Bounds()
				if b.MinX < r.X+r.W && b.MaxX > r.X && b.MinY < r.Y+r.H && b.MaxY > r.Y {
					t.Errorf("%s: %q is printed in the room for %s", name, l.Value, what)
				}
			}
		}
	}
}

func TestWhatEverySheetSays(t *testing.T) {
	s, _ := draw(t, full())
	var all []string
	for _, l := range texts(s.Items) {
		all = append(all, l.Value)
	}
	page := strings.Join(all, " ")
	for _, want := range []string{Review, "Invented house, for demonstration", "E-601", "4 of 18", "revision A, not issued", "2026-03-02", "initials", "License", "Example Electric (invented)"} {
		if !strings.Contains(page, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
	real := full()
	real.Invented = false
	s, _ = draw(t, real)
	for _, l := range texts(s.Items) {
		if strings.Contains(l.Value, "demonstration") {
			t.Error("a real job is marked invented")
		}
	}
}

func TestTooMuchIsRefused(t *testing.T) {
	b := full()
	for range 12 {
		b.Cautions = append(b.Cautions, b.Cautions[0])
	}
	if _, _, err := Sheet(b); err == nil || !strings.Contains(err.Error(), "E-601") {
		t.Errorf("a title block that cannot hold its words gives %v", err)
	}
	b = full()
	b.Firm = strings.Repeat("Example Electric ", 9)
	if _, _, err := Sheet(b); err == nil || !strings.Contains(err.Error(), "firm") {
		t.Errorf("a firm that does not fit gives %v", err)
	}
}

func texts(items []scene.Item) []scene.Text {
	var out []scene.Text
	for _, item := range items {
		switch i := item.(type) {
		case scene.Text:
			out = append(out, i)
		case scene.Group:
			out = append(out, texts(i.Items)...)
		}
	}
	return out
}

package symbol

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
	"time"

	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/pdf"
	"legwork/scene/svg"
	"legwork/working"
)

var (
	update = flag.Bool("update", false, "rewrite golden files")
	keep   = flag.String("keep", "", "folder to write the gallery to, to be looked at")
)

// gallery shows every symbol with its name.
func gallery() *scene.Scene {
	s := scene.Blank(scene.ANSIB, "G-002", "Symbols")
	s.Frame = scene.Rect{X: 10, Y: 10, W: 411.8, H: 259.4}
	s.Add(scene.Rect{X: 10, Y: 10, W: 411.8, H: 259.4, Stroke: scene.New})
	s.Add(scene.Text{At: scene.Point{X: 20, Y: 22}, Value: "Symbols", Size: 4.2, Face: font.Bold})
	n := 0
	cell := func(name string, draw func(c scene.Point) []scene.Item) {
		c := scene.Point{X: 38 + 44.5*float64(n%9), Y: 46 + 42*float64(n/9)}
		g := scene.Group{ID: name, Items: draw(c)}
		g.Add(scene.Text{At: c.Plus(0, 19), Value: name, Size: scene.Note, Anchor: scene.Middle})
		s.Add(g)
		n++
	}
	on := func(draw func(c scene.Point, pen scene.Stroke) scene.Group, reach float64, pen scene.Stroke) func(scene.Point) []scene.Item {
		return func(c scene.Point) []scene.Item {
			return []scene.Item{lead(c, -12, -reach, pen), lead(c, reach, 12, pen), draw(c, pen)}
		}
	}
	cell("breaker, new", on(Breaker, Reach, scene.New))
	cell("breaker, existing", on(Breaker, Reach, scene.Existing))
	cell("breaker, laid over", func(c scene.Point) []scene.Item {
		return []scene.Item{scene.Turn(Breaker(c, scene.New), c, 1)}
	})
	cell("fuse", on(Fuse, Reach, scene.New))
	cell("disconnect switch", on(Switch, Reach, scene.New))
	cell("transformer, by others", on(Transformer, Reach, scene.ByOthers.With(scene.Solid)))
	cell("CT, arrow down", func(c scene.Point) []scene.Item {
		return []scene.Item{lead(c, -12, 12, scene.New), CT(c, scene.Existing)}
	})
	cell("CT, arrow up", func(c scene.Point) []scene.Item {
		return []scene.Item{lead(c, -12, 12, scene.New), scene.Turn(CT(c, scene.Existing), c, 2)}
	})
	cell("CT window, three-wire", func(c scene.Point) []scene.Item {
		return []scene.Item{lead(c.Plus(-3, 0), -12, 12, scene.New), lead(c.Plus(3, 0), -12, 12, scene.New), lead(c.Plus(9, 0), -12, 12, scene.New), Window(c, scene.Existing)}
	})
	cell("meter", on(func(c scene.Point, pen scene.Stroke) scene.Group { return Meter(c, "kWh", pen) }, MeterReach, scene.Existing))
	cell("ground", func(c scene.Point) []scene.Item { return []scene.Item{Ground(c.Plus(0, -4), scene.Existing)} })
	cell("bonding jumper", func(c scene.Point) []scene.Item {
		return []scene.Item{Busbar(c.Plus(-12, -6), c.Plus(8, -6)), Busbar(c.Plus(-12, 6), c.Plus(8, 6)), BondingJumper(c.Plus(-4, -6), c.Plus(-4, 6), scene.New)}
	})
	cell("busbar", func(c scene.Point) []scene.Item {
		return []scene.Item{lead(c.Plus(-8, 0), -10, 0, scene.New), lead(c.Plus(8, 0), 0, 10, scene.New), Busbar(c.Plus(-14, 0), c.Plus(14, 0))}
	})
	cell("joined; not joined", func(c scene.Point) []scene.Item {
		l, r := c.Plus(-8, 0), c.Plus(8, 0)
		return []scene.Item{lead(l, -8, 0, scene.New), scene.Line{A: l.Plus(-6, 0), B: l.Plus(6, 0), Stroke: scene.New}, Joint(l),
			lead(r, -8, 8, scene.New), scene.Line{A: r.Plus(-6, 0), B: r.Plus(6, 0), Stroke: scene.New}}
	})
	cell("inverter", func(c scene.Point) []scene.Item { return []scene.Item{Inverter(c, scene.New)} })
	cell("module", func(c scene.Point) []scene.Item {
		return []scene.Item{Module(scene.Rect{X: c.X - 5, Y: c.Y - 7.5, W: 10, H: 15}, scene.New)}
	})
	cell("junction box", func(c scene.Point) []scene.Item { return []scene.Item{JunctionBox(c, scene.New)} })
	cell("terminals", func(c scene.Point) []scene.Item {
		return []scene.Item{Terminal(c.Plus(-4, 0)), Terminal(c), Terminal(c.Plus(4, 0))}
	})
	cell("trunk, drops, cap", func(c scene.Point) []scene.Item {
		return []scene.Item{scene.Line{A: c.Plus(-15, 0), B: c.Plus(14, 0), Stroke: scene.New}, Drop(c.Plus(-8, 0)), Drop(c), Drop(c.Plus(8, 0)), Cap(c.Plus(14, 0))}
	})
	cell("enclosure", func(c scene.Point) []scene.Item {
		return []scene.Item{Enclosure(scene.Rect{X: c.X - 15, Y: c.Y - 9, W: 30, H: 18})}
	})
	cell("tag", func(c scene.Point) []scene.Item {
		return []scene.Item{Tag(c.Plus(-5, 0), "3"), Tag(c.Plus(5, 0), "12")}
	})
	for _, v := range []working.Verdict{working.OK, working.Look, working.Stop, working.Ask} {
		cell(string(v), func(c scene.Point) []scene.Item {
			return []scene.Item{Verdict(c.Plus(-6, 0), 5, v), Verdict(c.Plus(8, 0), 2, v)}
		})
	}
	for i := range 7 {
		letter := string(rune('A' + i))
		cell("branch "+letter, func(c scene.Point) []scene.Item {
			return []scene.Item{Swatch(scene.Rect{X: c.X - 14, Y: c.Y - 7, W: 28, H: 14}, letter, i, scene.New)}
		})
	}
	cell("north", func(c scene.Point) []scene.Item {
		return []scene.Item{North(c.Plus(-8, 0), 7, 0), North(c.Plus(10, 2), 5, 30)}
	})
	cell("scale bar", func(c scene.Point) []scene.Item { return []scene.Item{ScaleBar(c.Plus(-16, 0), 4, 5, 1.4, "ft")} })
	cell("given, chosen, assumed", func(c scene.Point) []scene.Item {
		return []scene.Item{scene.Pieces(c, scene.Body, scene.Middle, scene.Piece{Value: "225 A", Mark: scene.Given}, scene.Piece{Value: "  60 A  "}, scene.Piece{Value: "10 kA", Mark: scene.Assumed})}
	})
	cell("lookalikes", func(c scene.Point) []scene.Item {
		return []scene.Item{
			scene.Text{At: c.Plus(0, -2), Value: "0O 1Il 5S 8B", Size: 3.4, Anchor: scene.Middle},
			scene.Text{At: c.Plus(0, 4), Value: "0O 1Il 5S 8B", Size: 3.4, Anchor: scene.Middle, Face: font.Mono},
		}
	})
	return s
}

func TestGallery(t *testing.T) {
	s := gallery()
	for _, f := range scene.Overlaps(s) {
		t.Error(f)
	}
	const file = "testdata/gallery.scene"
	got := s.Dump()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil || got != string(want) {
		t.Errorf("gallery differs from %s (%v); look at it with -keep DIR, then -update", file, err)
	}
	var asPDF, asSVG bytes.Buffer
	if w, err := pdf.Write(&asPDF, []*scene.Scene{s}, pdf.Options{Title: "Symbols", Created: time.Unix(0, 0)}); err != nil || w != nil {
		t.Fatal(w, err)
	}
	if w, err := svg.Write(&asSVG, s, svg.Options{SelfContained: true}); err != nil || w != nil {
		t.Fatal(w, err)
	}
	if *keep != "" {
		for name, b := range map[string][]byte{"gallery.pdf": asPDF.Bytes(), "gallery.svg": asSVG.Bytes()} {
			if err := os.WriteFile(filepath.Join(*keep, name), b, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

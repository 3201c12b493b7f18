package svg

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"legwork/scene"
	"legwork/scene/font"
)

func render(t *testing.T, s *scene.Scene, o Options) (string, []string) {
	t.Helper()
	var b bytes.Buffer
	warnings, err := Write(&b, s, o)
	if err != nil {
		t.Fatal(err)
	}
	d := xml.NewDecoder(bytes.NewReader(b.Bytes()))
	for {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("not XML: %v\n%s", err, b.String())
		}
	}
	return b.String(), warnings
}

func sheet(items ...scene.Item) *scene.Scene {
	s := scene.Blank(scene.ANSIB, "E-601", "One-line")
	s.Add(items...)
	return s
}

func TestPrimitives(t *testing.T) {
	p := func(x, y float64) scene.Point { return scene.Point{X: x, Y: y} }
	for _, c := range []struct {
		name string
		item scene.Item
		want string
	}{
		{"line", scene.Line{A: p(1, 2), B: p(3.25, 4), Stroke: scene.New}, `<path d="M1 2L3.25 4" stroke="#000000" stroke-width="0.6"/>`},
		{"by others", scene.Line{A: p(1, 2), B: p(3, 4), Stroke: scene.ByOthers}, `stroke-dasharray="3 1.2"`},
		{"polygon", scene.Polygon{Points: []scene.Point{p(0, 0), p(5, 0), p(5, 5)}, Fill: scene.Blue}, `<path d="M0 0L5 0L5 5Z" fill="#0072b2"/>`},
		{"quarter arc ends above its center", scene.Arc{Center: p(10, 10), R: 2, From: 0, To: 90, Stroke: scene.New}, `d="M12 10A2 2 0 0 0 10 8"`},
		{"three quarters take the long way", scene.Arc{Center: p(10, 10), R: 2, From: 0, To: 270, Stroke: scene.New}, `d="M12 10A2 2 0 1 0 10 12"`},
		{"upward text turns against the clock", scene.Text{At: p(5, 6), Value: "up", Size: 3, Angle: 90}, `transform="rotate(-90 5 6)"`},
		{"capitals of 3 mm", scene.Text{At: p(5, 6), Value: "H", Size: 3}, `font-size="4.298"`}, // 3 / 0.698
		{"bold to the right", scene.Text{At: p(5, 6), Value: "H", Size: 3, Face: font.Bold, Anchor: scene.End}, `font-weight="700" text-anchor="end"`},
		{"markup in a name", scene.Text{At: p(5, 6), Value: `<b>"A" & B</b>`, Size: 3}, `&lt;b&gt;&#34;A&#34; &amp; B&lt;/b&gt;</text>`},
		{"markup in an id", scene.Group{ID: `"><script>`}, `data-place="&#34;&gt;&lt;script&gt;"`},
		{"layer", scene.Group{Layer: "notes"}, `data-layer="notes"`},
		{"link", scene.Group{Link: "/job/1?at=MP&x=1"}, `<a href="/job/1?at=MP&amp;x=1"><g>`},
		{"link to a sheet", scene.Group{Link: "sheet:E-603"}, `<a href="/sheets/E-603">`},
	} {
		got, warnings := render(t, sheet(c.item), Options{SheetURL: func(n string) string { return "/sheets/" + n }})
		if !strings.Contains(got, c.want) || warnings != nil {
			t.Errorf("%s: no %s in\n%s%v", c.name, c.want, got, warnings)
		}
	}
}

func TestLinksThatMustNotBe(t *testing.T) {
	got, warnings := render(t, sheet(scene.Group{Link: "javascript:alert(1)"}, scene.Group{Link: "sheet:E-603"}), Options{})
	if strings.Contains(got, "<a ") || len(warnings) != 1 {
		t.Errorf("%s\n%q", got, warnings)
	}
}

func TestIDsAreUnique(t *testing.T) {
	got, _ := render(t, sheet(scene.Group{ID: "MP"}, scene.Group{ID: "MP"}), Options{IDPrefix: "strip-"})
	if strings.Count(got, `id="strip-MP"`) != 1 || strings.Count(got, `data-place="MP"`) != 2 {
		t.Error(got)
	}
}

func TestThemeAndFluid(t *testing.T) {
	got, _ := render(t, sheet(scene.Rect{W: 5, H: 5, Stroke: scene.New, Fill: scene.Paper}, scene.Circle{R: 2, Fill: scene.Blue}, scene.Circle{R: 2, Fill: scene.AskColor}), Options{Themed: true, Fluid: true})
	for _, want := range []string{`fill="var(--paper,#ffffff)" stroke="currentColor"`, `fill="var(--ask,#1f3fa8)"`, `fill="#0072b2"`} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in %s", want, got)
		}
	}
	if strings.Contains(got, "mm\"") {
		t.Errorf("fluid drawing has a size: %s", got)
	}
}

func TestFacesOnlyWhereUsed(t *testing.T) {
	words := sheet(scene.Text{Value: "A", Size: 3}, scene.Text{Value: "12", Size: 3, Face: font.Mono})
	inPage, _ := render(t, words, Options{})
	if strings.Contains(inPage, "@font-face") || strings.Contains(inPage, "style=") {
		t.Error("a drawing in a page brings its own styles")
	}
	alone, _ := render(t, words, Options{SelfContained: true})
	if strings.Count(alone, "@font-face") != 2 || strings.Contains(alone, "http://") && !strings.Contains(alone, "http://www.w3.org/2000/svg") {
		t.Error("a self-contained drawing holds other than its two faces")
	}
	css := Stylesheet(func(name string) string { return "/font/" + name })
	for _, f := range font.Faces {
		if !strings.Contains(css, `src:url(/font/`+f.WebName()+`)`) {
			t.Errorf("no %s in the style sheet", f.WebName())
		}
	}
}

func TestAbsentGlyphIsMarkedAndTold(t *testing.T) {
	got, warnings := render(t, sheet(scene.Text{Value: "roof 😀", Size: 3}), Options{})
	if !strings.Contains(got, ">roof ◊</text>") || len(warnings) != 1 || !strings.Contains(warnings[0], "roof 😀") {
		t.Errorf("%s\n%q", got, warnings)
	}
}

func TestAnyTextIsWellFormedAndTheSameTwice(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := sheet(scene.Group{ID: rapid.String().Draw(rt, "id"), Items: []scene.Item{scene.Text{Value: rapid.String().Draw(rt, "text"), Size: 3}}})
		s.Title = rapid.String().Draw(rt, "title")
		a, _ := render(t, s, Options{})
		b, _ := render(t, s, Options{})
		if a != b {
			rt.Fatal("two writings differ")
		}
	})
}

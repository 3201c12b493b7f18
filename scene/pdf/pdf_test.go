package pdf

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"legwork/scene"
	"legwork/scene/font"
)

var issued = time.Date(2026, 3, 2, 15, 4, 5, 0, time.UTC)

func sheets() []*scene.Scene {
	one := scene.Blank(scene.ANSIB, "E-601", "One-line diagram")
	toCalculations := scene.Group{ID: "MP", Link: "sheet:E-603"}
	toCalculations.Add(scene.Text{At: scene.Point{X: 20, Y: 30}, Value: "Ω Ø ± ° ≤ → √ 15.03 A", Size: 3})
	one.Add(toCalculations,
		scene.Text{At: scene.Point{X: 200, Y: 100}, Value: "upward", Size: 3, Angle: 90, Anchor: scene.Middle, Face: font.Bold},
		scene.Group{Link: "https://example.org/", Items: []scene.Item{scene.Text{At: scene.Point{X: 20, Y: 50}, Value: "standard", Size: 3}}},
		scene.Group{Link: "sheet:E-999", Items: []scene.Item{scene.Rect{X: 1, Y: 1, W: 5, H: 5, Stroke: scene.New}}},
		scene.Arc{Center: scene.Point{X: 50, Y: 50}, R: 5, From: -60, To: 60, Stroke: scene.ByOthers})
	two := scene.Blank(scene.Letter, "E-603", "Calculations")
	two.Add(scene.Text{At: scene.Point{X: 20, Y: 30}, Value: "012345678901", Size: 3, Face: font.Mono})
	return []*scene.Scene{one, two}
}

var options = Options{Title: "118 Quillfeather Lane", Author: "Example Electric", Created: issued}

func render(t testing.TB, s []*scene.Scene) ([]byte, []string) {
	t.Helper()
	var b bytes.Buffer
	warnings, err := Write(&b, s, options)
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), warnings
}

// read runs a program on the PDF; without the program the test is skipped,
// unless all must run.
func read(t *testing.T, pdf []byte, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("LEGWORK_REQUIRE_ALL") == "1" {
			t.Fatalf("%s is missing", name)
		}
		t.Skipf("%s is missing", name)
	}
	file := filepath.Join(t.TempDir(), "set.pdf")
	if err := os.WriteFile(file, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	for i := range args {
		args[i] = strings.ReplaceAll(args[i], "FILE", file)
	}
	out, err := exec.Command(path, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

func TestSameBytesTwice(t *testing.T) {
	a, warnings := render(t, sheets())
	b, _ := render(t, sheets())
	if !bytes.Equal(a, b) {
		t.Error("two writings differ")
	}
	if warnings != nil {
		t.Errorf("warned of %q", warnings)
	}
	if len(a) > 60_000 {
		t.Errorf("two sheets take %d bytes; are the faces cut to what is used?", len(a))
	}
}

func TestReadBackText(t *testing.T) {
	pdf, _ := render(t, sheets())
	text := read(t, pdf, "pdftotext", "-layout", "FILE", "-")
	for _, want := range []string{"Ω Ø ± ° ≤ → √ 15.03 A", "upward", "012345678901"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %q", want, text)
		}
	}
}

// The reader's own measure of where a word lies must be the scene's.
func TestReadBackPlaces(t *testing.T) {
	pdf, _ := render(t, sheets())
	boxes := read(t, pdf, "pdftotext", "-bbox", "FILE", "-")
	mono := regexp.MustCompile(`xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)" yMax="[\d.]+">012345678901<`).FindStringSubmatch(boxes)
	if mono == nil {
		t.Fatalf("no serial in %s", boxes)
	}
	for i, want := range []float64{20, 20 + scene.Width("012345678901", 3, font.Mono)} {
		pt, err := strconv.ParseFloat(mono[i+1], 64)
		if got := pt * 25.4 / 72; err != nil || got < want-0.02 || got > want+0.02 {
			t.Errorf("edge %d of the serial lies at %.3f mm, want %.3f mm", i, got, want)
		}
	}
}

func TestReadBackFonts(t *testing.T) {
	pdf, _ := render(t, sheets())
	fonts := read(t, pdf, "pdffonts", "FILE")
	rows := strings.Split(strings.TrimSpace(fonts), "\n")[2:]
	if len(rows) == 0 {
		t.Fatal(fonts)
	}
	for _, row := range rows {
		// emb sub uni; the library names no subset, the file's size shows it
		if !regexp.MustCompile(`\byes (no |yes) yes\b`).MatchString(row) {
			t.Errorf("not embedded and mapped to Unicode: %s", row)
		}
	}
}

func TestReadBackSizesAndTitles(t *testing.T) {
	pdf, _ := render(t, sheets())
	info := read(t, pdf, "pdfinfo", "-f", "1", "-l", "2", "FILE")
	for _, want := range []string{`Title: +118 Quillfeather Lane`, `Author: +Example Electric`, `Pages: +2`, `Page +1 size: +1224 x 792 pts`, `Page +2 size: +612 x 792 pts`} {
		if !regexp.MustCompile(want).MatchString(info) {
			t.Errorf("no %q in\n%s", want, info)
		}
	}
	if links := read(t, pdf, "pdfinfo", "-url", "FILE"); !strings.Contains(links, "https://example.org/") {
		t.Errorf("no web link in\n%s", links)
	}
}

func TestReadBackStructure(t *testing.T) {
	pdf, _ := render(t, sheets())
	if out := read(t, pdf, "qpdf", "--check", "FILE"); !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Error(out)
	}
	plain := read(t, pdf, "qpdf", "--qdf", "--object-streams=disable", "FILE", "-")
	for what, n := range map[string]int{`/Subtype /Link`: 2, `/Lang (en-US)`: 1, `/Type /Outlines`: 1} {
		if got := strings.Count(plain, what); got != n {
			t.Errorf("%d times %s, want %d", got, what, n)
		}
	}
	for _, title := range []string{"E-601 One-line diagram", "E-603 Calculations"} {
		asHex := "<feff" // qpdf shows a string either way
		for _, r := range title {
			asHex += fmt.Sprintf("%04x", r)
		}
		if !strings.Contains(plain, "/Title ("+title+")") && !strings.Contains(plain, "/Title "+asHex+">") {
			t.Errorf("no bookmark %q", title)
		}
	}
}

func TestAbsentGlyphIsMarkedAndTold(t *testing.T) {
	s := scene.Blank(scene.ANSIB, "W-101", "Roof 😀")
	s.Add(scene.Text{At: scene.Point{X: 20, Y: 20}, Value: "roof 😀 ⏚", Size: 3}, scene.Group{Link: "javascript:x"})
	pdf, warnings := render(t, []*scene.Scene{s})
	if len(warnings) != 2 || !strings.Contains(warnings[0], "W-101") || !strings.Contains(warnings[0], "roof 😀 ⏚") {
		t.Errorf("warned of %q", warnings)
	}
	if text := read(t, pdf, "pdftotext", "FILE", "-"); !strings.Contains(text, "roof ◊ ◊") {
		t.Errorf("reads %q", text)
	}
}

func TestAnyTextIsWritten(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := scene.Blank(scene.Letter, rapid.String().Draw(rt, "number"), rapid.String().Draw(rt, "title"))
		face := rapid.SampledFrom(font.Faces).Draw(rt, "face")
		s.Add(scene.Text{At: scene.Point{X: 20, Y: 20}, Value: rapid.String().Draw(rt, "text"), Size: 3, Face: face})
		var b bytes.Buffer
		if _, err := Write(&b, []*scene.Scene{s}, options); err != nil {
			rt.Fatal(err)
		}
	})
}

func TestNoSheets(t *testing.T) {
	if _, err := Write(&bytes.Buffer{}, nil, options); err == nil {
		t.Error("an empty set was written")
	}
}

func BenchmarkWrite(b *testing.B) {
	s := sheets()
	for b.Loop() {
		render(b, s)
	}
}

package sheets_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"legwork/internal/houses"
	"legwork/scene"
	"legwork/sheets"
	"legwork/site"
)

// Every breaker's rating, every conductor and raceway of the plant stands on
// the one-line; an existing breaker that has no symbol is counted in words.
func TestOneLineShowsEverySize(t *testing.T) {
	for _, h := range houses.All(t) {
		in := input(t, h.Doc)
		said := sheet(set(t, in), "E-601")
		flat := strings.ReplaceAll(strings.ReplaceAll(said, "\u00a0", " "), "\n", " ")
		must := func(what, want string) {
			t.Helper()
			if !strings.Contains(flat, want) {
				t.Errorf("%s: %s: no %q on the one-line", h.Name, what, want)
			}
		}
		for _, b := range in.Plant.Buses {
			must("bus of "+b.ID, "bus  "+b.Rating.String())
			for _, d := range b.Breakers {
				must("breaker "+d.Name, d.Rating.String())
			}
		}
		there := 0 // breakers of the service panel that are there and feed no other bus
		for _, d := range in.Plant.Service.Panel.Breakers {
			if !d.New && d.Carries == nil {
				there++
			}
		}
		symbols := 0
		for _, line := range strings.Split(said, "\n") {
			if line == " 1-pole" || line == " 2-pole" {
				symbols++
			}
		}
		for _, b := range in.Plant.Buses {
			if b.Gateway != nil {
				symbols--
			}
		}
		if more := regexp.MustCompile(`and (\d+) more existing`).FindStringSubmatch(flat); more != nil {
			n, _ := strconv.Atoi(more[1])
			symbols += n
		}
		if symbols != there {
			t.Errorf("%s: %d existing breakers drawn or counted, the panel has %d", h.Name, symbols, there)
		}
		for _, r := range in.Plant.Runs {
			c := r.Conductors
			must(r.Name+", size", c.Size.String())
			must(r.Name+", insulation", c.Insulation.String())
			must(r.Name+", raceway", c.Trade.String()+"   "+c.Raceway.String())
			if c.HasGround {
				must(r.Name+", ground", c.Ground.String())
			}
			if c.HasNeutral {
				must(r.Name+", neutral", "N  "+c.Neutral.String())
			}
		}
		for _, b := range in.Plant.Branches {
			must("branch "+b.ID, b.ID+"  "+b.Breaker.Rating.String())
		}
		must("fault current", "by  ?")
	}
}

// What stands where, from the scenarios' own text.
func TestOneLineByHouse(t *testing.T) {
	for _, c := range []struct {
		house string
		want  []string
	}{
		{"quillfeather", []string{"200 + 1.25 × 19.88 = 224.85 A ≤ 1.2 × 200 = 240 A", "15.15 A to spare, 705.12(B)(3)(2)", "8.1 kA", "2-pole, spaces 38, 40, at the far end", "CT P1 on L1, P2 on L2", "[arrow to the panel]", "CT G1 on L1, G2 on L2", "[arrow to the house]"}},
		{"larkbarrow", []string{"200 + 1.25 × 45.09 = 256.36 A ≤ 1.2 × 225 = 270 A", "planes W, porch"}},
		{"saltgrass", []string{"center-fed, between 20 and 21", "2-pole, spaces 18, 20, not at the far end"}},
		{"otterbend", []string{"garage feeder ", "main ", "60 + 1.25 × 30.06 = 97.58 A ≤ 100 A", "200 + 1.25 × 30.06 = 237.58 A ≤ 1.2 × 200 = 240 A"}},
		{"pennywhistle", []string{"10 × MI-340", "8 × MI-400", "fuses ", "10 kA interrupting, service rated, starts rapid shutdown", "trough between meter socket and main panel", "and 19 more existing: 10\u00a0×\u00a020\u00a0A\u00a01-pole, 9\u00a0×\u00a015\u00a0A\u00a01-pole"}},
	} {
		said := sheet(set(t, input(t, houses.Get(t, c.house).Doc)), "E-601")
		for _, want := range c.want {
			if !strings.Contains(said, want) {
				t.Errorf("%s: no %q on the one-line", c.house, want)
			}
		}
	}
	// The tap of S6 has a bonding jumper of its own.
	said := sheet(set(t, input(t, houses.Get(t, "pennywhistle").Doc)), "E-601")
	if n := strings.Count(said, "MBJ"); n != 2 {
		t.Errorf("%d main bonding jumpers with a supply-side tap, want 2", n)
	}
}

// Equal branches share a calculation; others do not.
func TestEqualBranchesMerge(t *testing.T) {
	for _, c := range []struct{ house, want, not string }{
		{"quillfeather", "Branches A and B", "Branch A"},
		{"larkbarrow", "Branch B", "Branches B and C"}, // jumpers of 18 and 22 ft
		{"pennywhistle", "Branches A and B", "Branches A, B and C"},
	} {
		said := sheet(set(t, input(t, houses.Get(t, c.house).Doc)), "E-603")
		if !strings.Contains(said, c.want+"\n") || strings.Contains(said, c.not+"\n") {
			t.Errorf("%s: want %q and no %q", c.house, c.want, c.not)
		}
	}
}

// Every finding's comparison stands on the calculation sheet.
func TestEveryFindingIsCalculated(t *testing.T) {
	for _, h := range houses.All(t) {
		in := input(t, h.Doc)
		said := sheet(set(t, in), "E-603")
		for _, f := range in.Findings {
			for _, want := range []string{f.Title, f.Clause} {
				if !strings.Contains(said, want) {
					t.Errorf("%s: %s: no %q", h.Name, f.ID(), want)
				}
			}
			if f.Test != nil && f.Test.Spare() != "" && !strings.Contains(said, f.Test.Spare()) {
				t.Errorf("%s: %s: margin %q is not told", h.Name, f.ID(), f.Test.Spare())
			}
		}
	}
}

// A missing fact never prints as a value.
func TestNothingKnownPrintsQuestionMarks(t *testing.T) {
	for _, c := range cases(t) {
		if c.name != "nothing known" {
			continue
		}
		in := input(t, c.doc)
		drawn := set(t, in)
		said := sheet(drawn, "E-601")
		for _, want := range []string{"branches not chosen yet", "point of connection not decided", "where it feeds the bus is ?"} {
			if !strings.Contains(said, want) {
				t.Errorf("no %q", want)
			}
		}
		if cover := sheet(drawn, "G-001"); !strings.Contains(cover, "nothing is judged: the adopted edition is ?") || !strings.Contains(cover, "Still to be answered") {
			t.Error("the cover does not say what is open")
		}
	}
}

func TestTwiceTheSameBytes(t *testing.T) {
	for _, h := range houses.All(t) {
		a := printed(t, set(t, input(t, h.Doc)))
		b := printed(t, set(t, input(t, houses.Get(t, h.Name).Doc)))
		if string(a) != string(b) {
			t.Errorf("%s: two drawings differ", h.Name)
		}
	}
}

// Golden files hold the form of one house of each kind: a combiner, a subpanel
// and feeder, a tap.
func TestForm(t *testing.T) {
	for _, name := range []string{"quillfeather", "otterbend", "pennywhistle"} {
		var b strings.Builder
		for _, s := range set(t, input(t, houses.Get(t, name).Doc))[:2] {
			b.WriteString(s.Dump())
		}
		file := filepath.Join("testdata", name+".scene")
		if *update {
			if err := os.WriteFile(file, []byte(b.String()), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if string(want) != b.String() {
			t.Errorf("%s differs; look at the sheet, then run with -update", file)
		}
	}
}

// tool finds a program for reading PDFs back, or skips.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("LEGWORK_REQUIRE_ALL") != "" {
			t.Fatalf("%s is not installed", name)
		}
		t.Skipf("%s is not installed", name)
	}
	return path
}

// Source: poppler's pdfinfo, pdffonts, pdftotext and qpdf --check read the set.
func TestPDFReadsBack(t *testing.T) {
	info, fonts, text, qpdf := tool(t, "pdfinfo"), tool(t, "pdffonts"), tool(t, "pdftotext"), tool(t, "qpdf")
	drawn := set(t, input(t, houses.Get(t, "quillfeather").Doc))
	file := filepath.Join(t.TempDir(), "set.pdf")
	if err := os.WriteFile(file, printed(t, drawn), 0o600); err != nil {
		t.Fatal(err)
	}
	run := func(name string, args ...string) string {
		t.Helper()
		out, err := exec.Command(name, args...).CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v: %s", name, err, out)
		}
		return string(out)
	}
	said := run(info, file)
	pages := regexp.MustCompile(`Pages: +(\d+)`).FindStringSubmatch(said)
	if pages == nil || pages[1] != strconv.Itoa(len(drawn)) || !strings.Contains(said, "1224 x 792 pts") { // 17 × 11 in
		t.Errorf("pdfinfo: want %d pages of 1224 x 792 pts:\n%s", len(drawn), said)
	}
	rows := strings.Split(strings.TrimSpace(run(fonts, file)), "\n")[2:]
	if len(rows) < 2 {
		t.Error("pdffonts lists fewer than two faces")
	}
	for _, row := range rows {
		if !regexp.MustCompile(`\byes +(yes|no) +yes\b`).MatchString(row) { // embedded, to Unicode
			t.Errorf("face is not embedded: %s", row)
		}
	}
	for page, want := range map[string]string{"1": "118 Quillfeather Lane", "2": "176°, pitch 22°", "3": "200 + 1.25 × 19.88 = 224.85 A ≤ 1.2 × 200 = 240 A", "4": "Branches A and B"} {
		if got := run(text, "-f", page, "-l", page, "-layout", file, "-"); !strings.Contains(got, want) {
			t.Errorf("page %s: no %q", page, want)
		}
	}
	if out := run(info, "-dests", file); !strings.Contains(out, "Page") {
		t.Errorf("pdfinfo -dests: %s", out)
	}
	if out := run(qpdf, "--check", file); !strings.Contains(out, "No syntax or stream encoding errors found") {
		t.Errorf("qpdf: %s", out)
	}
	// The links of the index lead to a page each.
	if n := strings.Count(run(qpdf, "--qdf", "--object-streams=disable", file, "-"), "/Subtype /Link"); n != len(sheets.All()) {
		t.Errorf("%d links on the cover, want %d", n, len(sheets.All()))
	}
}

func TestPick(t *testing.T) {
	for _, c := range []struct {
		in   []string
		want string
	}{
		{nil, "G-001 E-101 E-601 E-603"}, {[]string{"one-line"}, "E-601"}, {[]string{"e-603", " cover"}, "G-001 E-603"},
	} {
		got, err := sheets.Pick(c.in)
		if err != nil {
			t.Fatal(err)
		}
		var numbers []string
		for _, s := range got {
			numbers = append(numbers, s.Number)
		}
		if strings.Join(numbers, " ") != c.want {
			t.Errorf("%v picks %v, want %s", c.in, numbers, c.want)
		}
	}
	if _, err := sheets.Pick([]string{"oneline"}); err == nil || !strings.Contains(err.Error(), "one-line") {
		t.Errorf("a wrong name is answered %v, want the nearest one", err)
	}
}

// The line has a node for every place that a finding is about.
func TestLineHasEveryPlace(t *testing.T) {
	for _, h := range houses.All(t) {
		in := input(t, h.Doc)
		known := map[string]bool{}
		for _, n := range sheets.Line(in.Plant, in.Findings).Nodes {
			known[n.ID] = true
		}
		for _, f := range in.Findings {
			if root := site.PlaceRoot(f.Place); !known[root] && in.Plant.Branch(root) == nil {
				t.Errorf("%s: no node for %s", h.Name, f.Place)
			}
		}
	}
}

func BenchmarkSheets(b *testing.B) {
	doc := houses.Get(b, "quillfeather").Doc
	var drawn []*scene.Scene
	for b.Loop() {
		drawn = set(b, input(b, doc))
		printed(b, drawn)
	}
	b.ReportMetric(float64(len(drawn)), "pages")
}

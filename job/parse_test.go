package job_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/where"
)

// small is a whole job on one page; each case breaks one thing in it.
const small = `legwork: 1
name: 7 Elm Street
site:
  code: 2020
service:
  panel: MP
panels:
  - id: MP
    busbar: 200 A
    feed: top
    spaces: 20
    breakers:
      - {spaces: [1, 3], rating: 30 A, name: dryer}
equipment:
  modules: [{id: PV}]
  inverters: [{id: MI, trunk: T}]
  trunks: [{id: T}]
  combiners: [{id: CB}]
planes:
  - id: S
    grid: {rows: 2, columns: 3, orientation: portrait}
    module: PV
    inverter: MI
junction_boxes: [{id: box}]
combiners: [{id: combiner, type: CB}]
runs:
  - id: home
    from: box
    to: combiner
    length: 20 ft
    segments:
      - {length: 12 ft, where: roof, height: 4 in}
      - {length: 8 ft, where: wall}
  - {id: out, from: combiner, to: MP}
serials:
  - {at: S-r1-c1, serial: 012345}
decisions:
  branches:
    - id: A
      units: [S-r1-c1..c3, S-r2-c3]
      feed: end
      from: box
      lands: combiner
      by: person
  connections:
    - {id: output, from: combiner, run: out, kind: breaker, panel: MP, by: person}
`

func TestSmallParses(t *testing.T) {
	doc, err := job.Parse("elm.yaml", []byte(small))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := doc.Serials[0].Serial, "012345"; got != want {
		t.Errorf("serial = %q, want %q to the letter", got, want)
	}
	if got := doc.Panels[0].Busbar; !got.Known || got.Value != 200 || got.At != (where.Pos{File: "elm.yaml", Line: 9, Col: 13}) {
		t.Errorf("busbar = %+v, want 200 A at elm.yaml:9:13", got)
	}
	if got := doc.Panels[0].Terminals; got.Stated() || got.At.Line != 8 {
		t.Errorf("terminals left out = %+v, want unknown at its panel in line 8", got)
	}
	if got := doc.People.Firm; got.Stated() || got.At.Line != 1 {
		t.Errorf("firm left out = %+v, want unknown at the document's first line", got)
	}
	if string(doc.Source) != small {
		t.Error("the source bytes changed")
	}
}

func TestUnknown(t *testing.T) {
	for name, written := range map[string]string{
		"bare": "?", "quoted": `"?"`, "single quotes": `'?'`, "bare with comment": "? # ask the owner",
	} {
		t.Run(name, func(t *testing.T) {
			doc, err := job.Parse("elm.yaml", []byte(strings.Replace(small, "busbar: 200 A", "busbar: "+written, 1)))
			if err != nil {
				t.Fatal(err)
			}
			if b := doc.Panels[0].Busbar; b.Known || !b.Open || b.At.Line != 9 || b.At.Col != 13 {
				t.Errorf("busbar = %+v, want an open fact at 9:13", b)
			}
		})
	}
	doc, err := job.Parse("elm.yaml", []byte(strings.Replace(small, "name: 7 Elm Street", "name: \"why: ? nobody\"", 1)))
	if err != nil || doc.Name != "why: ? nobody" {
		t.Errorf("a text with a question mark: %v, %v", doc, err)
	}
}

// TestBadInput holds what a person reads. Each fault is planted by hand, its
// line and column counted in the text above.
func TestBadInput(t *testing.T) {
	swap := func(old, with string) string {
		if !strings.Contains(small, old) {
			t.Fatalf("no %q in the small job", old)
		}
		return strings.Replace(small, old, with, 1)
	}
	for name, c := range map[string]struct {
		src  string
		want []string
	}{
		"unknown key": {swap("busbar: 200 A", "busber: 200 A"),
			[]string{`elm.yaml:9:5: panels[0].busber: unknown key "busber"; did you mean "busbar"?`}},
		"unknown key far from all": {swap("  code: 2020", "  wibblewobble: 2020"),
			[]string{`elm.yaml:4:3: site.wibblewobble: unknown key "wibblewobble"; expected one of address, occupancy,`}},
		"duplicate key": {swap("    feed: top", "    busbar: 100 A\n    feed: top"),
			[]string{`elm.yaml:10:5: panels[0].busbar: key "busbar" stands twice; expected each key once; the first is in line 9`}},
		"missing unit": {swap("length: 20 ft", "length: 20"),
			[]string{`elm.yaml:30:13: runs[0].length: "20" has no unit; write 20 ft or 6.1 m`}},
		"wrong unit": {swap("length: 20 ft", "length: 20 A"),
			[]string{`elm.yaml:30:13: runs[0].length: "20 A"; expected a length in in, ft, mm, cm or m`}},
		"negative length": {swap("{length: 8 ft", "{length: -8 ft"),
			[]string{`elm.yaml:33:18: runs[0].segments[1].length: "-8 ft" is negative`}},
		"out of range": {swap("  code: 2020", "  latitude: 95 deg"),
			[]string{`elm.yaml:4:13: site.latitude: "95 deg" is out of range; expected -90 to 90 °`}},
		"wrong word": {swap("where: roof", "where: rof"),
			[]string{`elm.yaml:32:32: runs[0].segments[0].where: "rof"; expected one of roof, attic, wall, indoors, buried; did you mean "roof"?`}},
		"list where a value is due": {swap("busbar: 200 A", "busbar: [200 A]"),
			[]string{`elm.yaml:9:13: panels[0].busbar: a list; expected rating on the label`}},
		"value where a mapping is due": {swap("site:\n  code: 2020", "site: Raleigh"),
			[]string{`elm.yaml:3:7: site: "Raleigh"; expected a mapping of keys and values`}},
		"nothing where a fact is due": {swap("busbar: 200 A", "busbar:"),
			[]string{`elm.yaml:9:12: panels[0].busbar: nothing; expected`, `write "?" when it is unknown`}},
		"no whole number": {swap("code: 2020", "code: 2020.5"),
			[]string{`elm.yaml:4:9: site.code: "2020.5"; expected a whole number from 1975 to 2100`}},
		"no bool": {swap("feed: top", "main_lug_only: yes"),
			[]string{`elm.yaml:10:20: panels[0].main_lug_only: "yes"; expected true or false`}},
		"required key left out": {swap("    module: PV\n", ""),
			[]string{`elm.yaml:20:5: planes[0]: no key "module"; expected id of the module model`}},
		"reference may not be unknown": {swap("module: PV", `module: "?"`),
			[]string{`elm.yaml:22:13: planes[0].module: "?"; expected id of the module model`}},
		"two faults at once": {strings.Replace(swap("busbar: 200 A", "busbar: 200"), "rating: 30 A", "rating: 30 ft", 1),
			[]string{"elm.yaml:9:13: panels[0].busbar", "elm.yaml:13:34: panels[0].breakers[0].rating"}},
		"id twice": {swap("  - {id: out,", "  - {id: home,"),
			[]string{`runs[1].id: id "home" is taken; expected each id once; the other is runs[0]`}},
		"id of two ends": {swap("{id: box}", "{id: MP}"), []string{`junction_boxes[0].id: id "MP" is taken`}},
		"reference to nothing": {swap("to: combiner\n", "to: combinor\n"),
			[]string{`elm.yaml:29:9: runs[0].to: no place "combinor"; expected one of box, combiner, MP, service`}},
		"plane named like a branch": {swap("- id: S\n", "- id: B\n"),
			[]string{`elm.yaml:20:9: planes[0].id: "B"; expected a name that cannot be taken for a branch`}},
		"branch named like a plane": {swap("- id: A\n", "- id: E\n"),
			[]string{`decisions.branches[0].id: "E"; expected one capital letter, but not N, E, S or W`}},
		"position off the grid": {swap("S-r2-c3]", "S-r3-c3]"),
			[]string{`elm.yaml:40:28: decisions.branches[0].units[1]: no position S-r3-c3; expected S-r1-c1 to S-r2-c3`}},
		"position on no plane": {swap("S-r2-c3]", "porch-r1-c1]"), []string{`no plane "porch"; expected one of S`}},
		"position twice":       {swap("S-r2-c3]", "S-r1-c3]"), []string{`S-r1-c3 is on branch A already`}},
		"no position":          {swap("S-r2-c3]", "S23]"), []string{`"S23" is no position; expected a position such as E-r1-c2`}},
		"segments and length": {swap("length: 20 ft", "length: 21 ft"),
			[]string{`elm.yaml:30:13: runs[0].length: the run is 21 ft long, its segments 20 ft; expected segments that add up`}},
		"space that is not there": {swap("[1, 3]", "[21, 23]"), []string{`panels[0].breakers[0].spaces: space 21; expected 1 to 20, the spaces of MP`}},
		"space taken": {swap("name: dryer}", "name: dryer}\n      - {spaces: [3], rating: 20 A}"),
			[]string{`panels[0].breakers[1].spaces: space 3 is taken`, `the other is panels[0].breakers[0]`}},
		"panel fed from itself": {swap("    feed: top", "    feed: top\n    fed_from: {panel: MP, spaces: [1, 3], run: out}"),
			[]string{`panels[0].fed_from.panel: a panel fed from itself`}},
		"too many modules": {swap("rows: 2, columns: 3", "rows: 21, columns: 100"),
			[]string{`elm.yaml:21:11: planes[0].grid: 2100 modules up to here; expected at most 2000 in a job`}},
		"a flood of faults": {small + strings.Repeat("a: 1\n", 300), []string{`elm.yaml:146:1: a: unknown key "a"`, "elm.yaml: 200 more faults"}},
		"newer version": {swap("legwork: 1", "legwork: 2"),
			[]string{`elm.yaml:1:10: legwork: this document is version 2; this program reads 1; nothing was touched`}},
		"no version":     {swap("legwork: 1\n", ""), []string{`no key "legwork"; expected legwork: 1`}},
		"empty":          {"", []string{`elm.yaml: the document is empty; expected a job document, its first line "legwork: 1"`}},
		"only a comment": {"# nothing\n", []string{"the document is empty"}},
		"two documents":  {small + "---\nlegwork: 1\n", []string{"elm.yaml:47:1: a second YAML document begins; expected one document a file"}},
		"a list":         {"- 1\n", []string{"elm.yaml:1:1: a list; expected a mapping"}},
		"no YAML":        {"legwork: [1\n", []string{"elm.yaml:2:1: ", "expected YAML"}},
		"anchor":         {swap("busbar: 200 A", "busbar: &b 200 A"), []string{"elm.yaml:9:13: anchor &b; expected the value alone"}},
		"tag":            {swap("busbar: 200 A", "busbar: !!str 200 A"), []string{"tag !!str"}},
		"merge key":      {swap("busbar: 200 A", "<<: {busbar: 200 A}"), []string{"merge key <<"}},
		"no text":        {"legwork: 1\nname: \xff\n", []string{"elm.yaml:2: bytes that are no text; expected a YAML document in UTF-8"}},
		"10 MB":          {small + strings.Repeat("# padding\n", 1<<20), []string{"the document has 10486", "bytes; expected at most 1048576"}},
	} {
		t.Run(name, func(t *testing.T) {
			doc, err := job.Parse("elm.yaml", []byte(c.src))
			if err == nil {
				t.Fatal("no error")
			}
			if doc != nil {
				t.Error("a document came with the error")
			}
			var all where.Errors
			if !errors.As(err, &all) {
				t.Errorf("error is %T, want where.Errors", err)
			}
			for _, want := range c.want {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("got  %s\nwant %s", err, want)
				}
			}
		})
	}
}

// TestAliasBomb: nine levels of nine aliases would be 387 million texts.
func TestAliasBomb(t *testing.T) {
	src := "legwork: 1\nname: bomb\na0: &a0 [x, x, x, x, x, x, x, x, x]\n"
	for i := 1; i < 9; i++ {
		src += fmt.Sprintf("a%d: &a%d [%s]\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d, ", i-1), 9), ", "))
	}
	_, err := job.Parse("bomb.yaml", []byte(src))
	if err == nil || !strings.Contains(err.Error(), "bomb.yaml:4:10: alias *a0; expected the value itself") {
		t.Errorf("got %v", err)
	}
}

func TestHousesReadAlikeWithCRLF(t *testing.T) {
	for _, h := range houses.All(t) {
		doc, err := job.Parse(h.Doc.File, []byte(strings.ReplaceAll(string(h.Bytes), "\n", "\r\n")))
		if err != nil {
			t.Fatal(h.Name, err)
		}
		if got, want := doc.Service.HighestVoltage, h.Doc.Service.HighestVoltage; got != want {
			t.Errorf("%s: highest voltage %+v with CRLF, %+v without", h.Name, got, want)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(small))
	f.Add([]byte("legwork: 1\nname: ?\n"))
	f.Add([]byte("\ufefflegwork: 1\r\nname: {a: [?]}\r\n"))
	for _, name := range houses.Names() {
		f.Add(houses.Get(f, name).Bytes)
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		doc, err := job.Parse("fuzz.yaml", src)
		if (doc == nil) == (err == nil) {
			t.Fatalf("document %v, error %v", doc, err)
		}
		var all where.Errors
		if err != nil && (!errors.As(err, &all) || len(all) == 0 || all[0].Came == "") {
			t.Fatalf("an error without a text: %#v", err)
		}
	})
}

func BenchmarkParse(b *testing.B) {
	src := houses.Get(b, "pennywhistle").Bytes
	for b.Loop() {
		if _, err := job.Parse("pennywhistle.yaml", src); err != nil {
			b.Fatal(err)
		}
	}
}

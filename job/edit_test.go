package job_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"legwork/internal/houses"
	"legwork/job"
)

func parse(t testing.TB, src string) *job.Document {
	t.Helper()
	doc, err := job.Parse("elm.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// TestSet gives the whole text before and after each edit as one replacement
// worked by hand: whatever else changes fails.
func TestSet(t *testing.T) {
	for name, c := range map[string]struct {
		prepare       [2]string // applied to the small job first
		path, value   string
		before, after string // the one place that may change
	}{
		"a value":                {path: "runs[0].name", value: "home run", prepare: [2]string{"  - id: home\n", "  - id: home\n    name: \"?\"   # ask\n"}, before: `name: "?"   # ask`, after: `name: home run   # ask`},
		"in brackets":            {path: "runs[0].segments[1].where", value: "attic", before: "{length: 8 ft, where: wall}", after: "{length: 8 ft, where: attic}"},
		"behind a wide rune":     {path: "panels[0].breakers[0].name", value: "range", prepare: [2]string{"rating: 30 A, name: dryer", "rating: 30 A, name: \"Ω\" "}, before: `name: "Ω" `, after: `name: range `},
		"quotes with an escape":  {path: "name", value: `8 "Elm"`, prepare: [2]string{"name: 7 Elm Street", `name: "7 \"Elm\"" # title`}, before: `name: "7 \"Elm\"" # title`, after: `name: 8 "Elm" # title`},
		"single quotes":          {path: "name", value: "x", prepare: [2]string{"name: 7 Elm Street", `name: 'it''s' # title`}, before: `name: 'it''s' # title`, after: `name: x # title`},
		"a bare question mark":   {path: "site.code", value: "2023", prepare: [2]string{"code: 2020", "code: ? # which?"}, before: "code: ? # which?", after: "code: 2023 # which?"},
		"back to unknown":        {path: "panels[0].busbar", value: "?", before: "busbar: 200 A", after: `busbar: "?"`},
		"a serial with a zero":   {path: "serials[0].serial", value: "007", before: "serial: 012345", after: `serial: "007"`},
		"a key that is missing":  {path: "site.time_zone", value: "America/New_York", before: "  code: 2020\n", after: "  code: 2020\n  time_zone: America/New_York\n"},
		"missing, in a list":     {path: "panels[0].interrupting", value: "10 kA", before: "name: dryer}\n", after: "name: dryer}\n    interrupting: 10 kA\n"},
		"missing, in brackets":   {path: "junction_boxes[0].terminals", value: "75 C", before: "[{id: box}]", after: "[{id: box, terminals: 75 C}]"},
		"missing, whole mapping": {path: "people.firm", value: "Lanternfish", before: "panel: MP, by: person}\n", after: "panel: MP, by: person}\npeople:\n  firm: Lanternfish\n"},
		"below an empty key":     {path: "people.firm", value: "Lanternfish", prepare: [2]string{"site:\n", "people: # who\nsite:\n"}, before: "people: # who\n", after: "people: # who\n  firm: Lanternfish\n"},
		"a colon needs quotes":   {path: "name", value: "a: b # c", before: "name: 7 Elm Street", after: `name: "a: b # c"`},
		"an empty text":          {path: "name", value: "", before: "name: 7 Elm Street", after: `name: ""`},
	} {
		for ends, eol := range map[string]string{"LF": "\n", "CRLF": "\r\n"} {
			t.Run(name+" "+ends, func(t *testing.T) {
				start := small
				if c.prepare[0] != "" {
					start = strings.Replace(small, c.prepare[0], c.prepare[1], 1)
				}
				if strings.Count(start, c.before) != 1 {
					t.Fatalf("%q stands %d times", c.before, strings.Count(start, c.before))
				}
				want := strings.ReplaceAll(strings.Replace(start, c.before, c.after, 1), "\n", eol)
				doc := parse(t, strings.ReplaceAll(start, "\n", eol))
				was := string(doc.Source)
				out, err := doc.Set(c.path, c.value)
				if err != nil {
					t.Fatal(err)
				}
				if got := string(out.Source); got != want {
					t.Errorf("got\n%s\nwant\n%s", got, want)
				}
				if string(doc.Source) != was {
					t.Error("the receiver changed")
				}
			})
		}
	}
}

func TestSetWithoutLastLineBreak(t *testing.T) {
	doc := parse(t, strings.TrimSuffix(small, "\n"))
	out, err := doc.Set("people.firm", "Lanternfish")
	if err != nil {
		t.Fatal(err)
	}
	if want := small + "people:\n  firm: Lanternfish\n"; string(out.Source) != want {
		t.Errorf("got %q", out.Source)
	}
}

func TestSetBehindByteOrderMark(t *testing.T) {
	out, err := parse(t, "\ufeff"+small).Set("name", "8 Elm")
	if err != nil {
		t.Fatal(err)
	}
	if want := "\ufeff" + strings.Replace(small, "7 Elm Street", "8 Elm", 1); string(out.Source) != want {
		t.Errorf("got %q", out.Source)
	}
}

func TestSetRefuses(t *testing.T) {
	block := strings.Replace(small, "name: 7 Elm Street", "name: |\n  7 Elm\n  Street", 1)
	folded := strings.Replace(small, "name: 7 Elm Street", "name: 7 Elm\n  Street", 1)
	for name, c := range map[string]struct{ src, path, value, want string }{
		"a text block":       {block, "name", "x", "elm.yaml:2:7: a text block; expected a value on one line"},
		"several lines":      {folded, "name", "x", "elm.yaml:2:7: a value over several lines"},
		"a wrong unit":       {small, "panels[0].busbar", "200 V", `elm.yaml:9:13: panels[0].busbar: "200 V"; expected a current`},
		"an unknown key":     {small, "panels[0].busber", "200 A", `unknown key "busber"; did you mean "busbar"?`},
		"no such item":       {small, "panels[3].busbar", "200 A", `no item [3]`},
		"a whole mapping":    {small, "site", "x", `site: a mapping; expected the path of a single value`},
		"no path":            {small, "", "x", `expected the path of a single value`},
		"below a value":      {small, "name.first", "x", `a single value; expected a mapping that can hold "first"`},
		"a line break":       {small, "name", "a\nb", "a value with a line break or a control character"},
		"a broken reference": {small, "service.panel", "GP", `no panel "GP"; expected one of MP`},
	} {
		t.Run(name, func(t *testing.T) {
			out, err := parse(t, c.src).Set(c.path, c.value)
			if err == nil || out != nil {
				t.Fatalf("document %v, error %v", out, err)
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("got  %s\nwant %s", err, c.want)
			}
		})
	}
}

// TestSetKeepsEveryOtherByte edits facts of the houses and compares all bytes
// before and after the edited value.
func TestSetKeepsEveryOtherByte(t *testing.T) {
	all := houses.All(t)
	paths := []string{
		"name", "site.code", "site.hottest", "service.fault_current.current", "service.fault_current.by",
		"panels[0].busbar", "panels[0].breakers[1].name", "planes[0].azimuth", "planes[0].outline[2].x",
		"equipment.modules[0].power", "runs[0].segments[0].length", "meter.channels[0].arrow",
	}
	values := map[string][]string{
		"site.code": {"2017", "2020", "2023"}, "site.hottest": {"30 C", "94 F", "?"}, "service.fault_current.current": {"9 kA", "10250 A"},
		"panels[0].busbar": {"225 A", "?"}, "planes[0].azimuth": {"181.5 deg"}, "planes[0].outline[2].x": {"12 ft 6 in"},
		"equipment.modules[0].power": {"400 W"}, "runs[0].segments[0].length": {"?"},
	}
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.SampledFrom(all).Draw(t, "house")
		path := rapid.SampledFrom(paths).Draw(t, "path")
		value := ""
		if v := values[path]; v != nil {
			value = rapid.SampledFrom(v).Draw(t, "value")
		} else {
			value = rapid.StringMatching(`[ -~Ωé]{1,20}`).Draw(t, "text")
		}
		out, err := h.Doc.Set(path, value)
		if err != nil {
			t.Fatal(err)
		}
		was, is := strings.Split(string(h.Bytes), "\n"), strings.Split(string(out.Source), "\n")
		if len(was) != len(is) {
			t.Fatalf("%d lines became %d", len(was), len(is))
		}
		changed := 0
		for i := range was {
			if was[i] != is[i] {
				changed++
				if _, a, _ := strings.Cut(was[i], " #"); !strings.HasSuffix(is[i], a) {
					t.Fatalf("the comment of %q is lost in %q", was[i], is[i])
				}
			}
		}
		if changed > 1 {
			t.Fatalf("%d lines changed", changed)
		}
	})
}

func FuzzSet(f *testing.F) {
	f.Add([]byte(small), "name", "x")
	f.Add([]byte(small), "people.firm", "a: b")
	f.Add([]byte(strings.ReplaceAll(small, "\n", "\r\n")), "site.code", "?")
	f.Fuzz(func(t *testing.T, src []byte, path, value string) {
		doc, err := job.Parse("fuzz.yaml", src)
		if err != nil {
			return
		}
		out, err := doc.Set(path, value)
		if err != nil {
			return
		}
		// Setting the same again is no change.
		again, err := out.Set(path, value)
		if err != nil || string(again.Source) != string(out.Source) {
			t.Fatalf("set twice: %v\n%q\n%q", err, out.Source, again.Source)
		}
	})
}

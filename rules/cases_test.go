package rules_test

import (
	"math"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"legwork/internal/houses"
	"legwork/rules"
	"legwork/working"
)

// Cases stand in testdata/<rule>/<edition>/<name>.txtar: a comment with the hand
// calculation; "set": edits to testdata/base.yaml; "add": lines put at its end;
// "cut": lines taken out of it; "house": a house to start from in its place;
// "want": a line a place with verdict and values, parted by two spaces. The
// verdict "none" says that the rule does not look at that place.
type ruleCase struct {
	name, edition, comment string
	edits                  []string
	add, house             string
	cut                    []string
	want                   []expectation
}

type expectation struct {
	place, verdict string
	values         [][2]string
}

var twoSpaces = regexp.MustCompile(` {2,}`)

func readCase(t *testing.T, file string) ruleCase {
	t.Helper()
	a, err := txtar.ParseFile(file)
	if err != nil {
		t.Fatal(err)
	}
	c := ruleCase{
		name: strings.TrimSuffix(path.Base(file), ".txtar"), comment: strings.TrimSpace(string(a.Comment)),
		edition: path.Base(path.Dir(file)),
	}
	if !strings.HasPrefix(c.comment, "By hand: ") {
		t.Errorf("%s: the comment must begin with \"By hand: \"", file)
	}
	for _, part := range a.Files {
		lines := strings.Split(strings.TrimSpace(string(part.Data)), "\n")
		switch part.Name {
		case "set":
			c.edits = lines
		case "house":
			c.house = lines[0]
		case "add":
			c.add = string(part.Data)
		case "cut":
			c.cut = strings.SplitAfter(string(part.Data), "\n")
		case "want":
			for _, l := range lines {
				fields := twoSpaces.Split(strings.TrimSpace(l), -1)
				if len(fields) < 2 {
					t.Fatalf("%s: %q: expected place  verdict  sym = value", file, l)
				}
				e := expectation{place: fields[0], verdict: fields[1]}
				for _, f := range fields[2:] {
					sym, v, ok := strings.Cut(f, " = ")
					if !ok {
						t.Fatalf("%s: %q: expected sym = value", file, f)
					}
					e.values = append(e.values, [2]string{sym, v})
				}
				c.want = append(c.want, e)
			}
		default:
			t.Fatalf("%s: no section %q; there is house, set, add, cut and want", file, part.Name)
		}
	}
	if len(c.want) == 0 {
		t.Fatalf("%s: wants nothing", file)
	}
	return c
}

func TestCases(t *testing.T) {
	inside, err := os.ReadDir("testdata")
	if err != nil {
		t.Fatal(err)
	}
	cases := map[string][]ruleCase{}
	for _, entry := range inside {
		if !entry.IsDir() {
			continue
		}
		folder := path.Join("testdata", entry.Name())
		id := strings.ReplaceAll(path.Base(folder), "_", "-")
		if rules.Find(id) == nil {
			t.Errorf("%s names no rule", folder)
			continue
		}
		files, err := filepath.Glob(path.Join(folder, "*", "*.txtar"))
		if err != nil {
			t.Fatal(err)
		}
		if len(files) == 0 {
			t.Errorf("%s has no case", folder)
		}
		for _, file := range files {
			cases[id] = append(cases[id], readCase(t, file))
		}
		editions, _ := os.ReadDir(folder)
		for _, e := range editions {
			if inside, _ := os.ReadDir(path.Join(folder, e.Name())); e.IsDir() && len(inside) == 0 {
				t.Errorf("%s/%s has no case", folder, e.Name())
			}
		}
	}
	for _, r := range rules.All() {
		seen := &coverage{verdicts: map[working.Verdict]bool{}}
		for _, c := range cases[r.ID] {
			t.Run(r.ID+"/"+c.edition+"/"+c.name, func(t *testing.T) { runCase(t, r, c, seen) })
		}
		seen.complete(t, r)
	}
}

// coverage is what the cases of a rule have shown.
type coverage struct {
	verdicts          map[working.Verdict]bool
	atLimit, justOver bool
	words, in2020     bool
}

// noExactLimit are rules that no document can meet exactly.
var noExactLimit = map[string]string{
	"raceway-jam":  "diameters of the tables never make 3.2 exactly",
	"raceway-fill": "the areas of the tables never add up to a room exactly; the cases take the closest pair",
}

func (c *coverage) complete(t *testing.T, r *rules.Rule) {
	for _, v := range r.Gives {
		if !c.verdicts[v] {
			t.Errorf("%s: no case gives %s, which the rule says it can", r.ID, v)
		}
	}
	for v := range c.verdicts {
		if !slices.Contains(r.Gives, v) {
			t.Errorf("%s gives %s, which it does not list", r.ID, v)
		}
	}
	if !c.in2020 {
		t.Errorf("%s: no case in 2020", r.ID)
	}
	if c.words {
		return // a comparison of words has no limit to touch
	}
	if _, never := noExactLimit[r.ID]; !c.atLimit && !never {
		t.Errorf("%s: no case exactly at the limit", r.ID)
	}
	if !c.justOver {
		t.Errorf("%s: no case just over the limit", r.ID)
	}
}

func runCase(t *testing.T, r *rules.Rule, c ruleCase, seen *coverage) {
	doc := base(t)
	if c.house != "" {
		doc = houses.Get(t, c.house).Doc
	}
	source := string(doc.Source) + c.add
	for _, l := range c.cut {
		if !strings.Contains(source, l) {
			t.Fatalf("%q is not there to be cut", l)
		}
		source = strings.Replace(source, l, "", 1)
	}
	doc = parsed(t, []byte(source))
	found := judge(t, with(t, doc, append([]string{"site.code = " + c.edition}, c.edits...)...), r.ID)
	seen.in2020 = seen.in2020 || c.edition == "2020"
	for _, e := range c.want {
		f, ok := found[e.place]
		if e.verdict == "none" {
			if ok {
				t.Errorf("%s: looked at, %s; the rule should not apply there", e.place, f.Verdict)
			}
			continue
		}
		if !ok {
			t.Errorf("%s: not looked at", e.place)
			continue
		}
		if string(f.Verdict) != e.verdict {
			t.Errorf("%s: %s, want %s\n%s", e.place, f.Verdict, e.verdict, f.Text())
		}
		for _, v := range e.values {
			got, ok := said(f, v[0])
			if !ok || got != v[1] {
				t.Errorf("%s: %s = %q, want %q\n%s", e.place, v[0], got, v[1], f.Text())
			}
		}
		seen.take(f, c)
	}
}

// said reads a value of a finding: a symbol, or its clause, what is missing, or
// the margin in words.
func said(f working.Finding, what string) (string, bool) {
	switch what {
	case "clause":
		return f.Clause, true
	case "margin":
		return f.Margin(), true
	case "missing":
		var paths []string
		for _, m := range f.Missing {
			paths = append(paths, m.Path)
		}
		return strings.Join(paths, ", "), true
	}
	return value(f, what)
}

// take notes what a case shows. Just over is within 5 % of the limit, or the
// next step of a thing that comes in steps, which the comment then says.
func (c *coverage) take(f working.Finding, of ruleCase) {
	c.verdicts[f.Verdict] = true
	switch {
	case f.Test == nil:
	case f.Test.Op == "is":
		c.words = true
	case math.IsNaN(f.Test.Margin):
	case f.Test.Margin == 0:
		c.atLimit = true
	case f.Test.Margin < 0:
		near := -f.Test.Margin <= 0.05*math.Abs(f.Test.Right.Float())
		step := strings.Contains(of.comment, "next standard rating") || strings.Contains(of.comment, "next size") || strings.Contains(of.comment, "one more")
		c.justOver = c.justOver || near || step
	}
}

package fixes_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"legwork/fixes"
	"legwork/internal/houses"
	"legwork/job"
	"legwork/plan"
	"legwork/rules"
	"legwork/working"
)

// edited sets single values of a document: path, value, path, value.
func edited(t testing.TB, doc *job.Document, pairs ...string) *job.Document {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		out, err := doc.Set(pairs[i], pairs[i+1])
		if err != nil {
			t.Fatal(err)
		}
		doc = out
	}
	return doc
}

func search(t testing.TB, doc *job.Document) (*fixes.Result, []working.Finding) {
	t.Helper()
	p, err := plan.Fill(doc)
	if err != nil {
		t.Fatal(err)
	}
	e := p.Plant.Edition.Value
	r, err := fixes.Search(context.Background(), doc, p, e, fixes.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !r.Complete {
		t.Fatalf("the search ended early after %d", r.Tried)
	}
	return r, rules.Check(p.Plant, e)
}

// fixOf finds the first fix whose title holds all the words.
func fixOf(t *testing.T, r *fixes.Result, words ...string) fixes.Fix {
	t.Helper()
	for _, x := range r.Fixes {
		if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(x.Title, w) }) {
			return x
		}
	}
	t.Fatalf("no fix with %q among %q", words, titles(r))
	return fixes.Fix{}
}

func titles(r *fixes.Result) []string {
	var out []string
	for _, x := range r.Fixes {
		out = append(out, x.Title)
	}
	return out
}

// refusedBy lists the rules that refuse an edit.
func refusedBy(t *testing.T, r *fixes.Result, title string) []string {
	t.Helper()
	for _, x := range r.Refused {
		if strings.Contains(x.Title, title) {
			var out []string
			for _, f := range x.By {
				out = append(out, f.Rule)
			}
			return out
		}
	}
	t.Fatalf("%q is not among the refused: %+v", title, r.Refused)
	return nil
}

func after(t *testing.T, x fixes.Fix, e working.Edition, rule, place string) working.Finding {
	t.Helper()
	for _, f := range rules.Find(rule).Check(x.Plant, e) {
		if f.Place == place {
			return f
		}
	}
	t.Fatalf("%s does not look at %s", rule, place)
	return working.Finding{}
}

// Source: scenarios.md, S3, "What a good tool says", options 1 to 4 and the line
// "space".
func TestCandlewick(t *testing.T) {
	r, found := search(t, houses.Get(t, "candlewick").Doc)
	t.Run("option 1: 12 units, 125 % 19.95 A, 20 A breaker, pass by 0.05 A", func(t *testing.T) {
		x := fixOf(t, r, "12 of 16 units", "PV breaker 20 A")
		if r.Fixes[0].Title != x.Title {
			t.Errorf("the least work is %q", r.Fixes[0].Title)
		}
		if got := after(t, x, 2017, "busbar-120", "MP/bus").Margin(); got != "0.05 A to spare, a hair" {
			t.Errorf("margin %q", got)
		}
	})
	t.Run("space: hall 15 to 12, dryer [17,19] to [13,15], PV to [17,19]", func(t *testing.T) {
		x := fixOf(t, r, "move hall from 15 to 12, move dryer from 17, 19 to 13, 15")
		d := x.Plant.Bus("combiner").Up.Device
		if !slices.Equal(d.Spaces, []int{17, 19}) {
			t.Errorf("PV in %v", d.Spaces)
		}
	})
	t.Run("option 2: 90 A main fails on 230.79(C)", func(t *testing.T) {
		by := refusedBy(t, r, "90 A main")
		if !slices.Contains(by, "main-minimum") || slices.Contains(by, "busbar-120") {
			t.Errorf("refused by %v", by)
		}
	})
	t.Run("option 3: the sum of all breakers fails", func(t *testing.T) {
		if by := refusedBy(t, r, "sum of its breakers"); !slices.Contains(by, "busbar-sum") {
			t.Errorf("refused by %v", by)
		}
	})
	t.Run("option 4: supply side keeps 16 units, dearer", func(t *testing.T) {
		x := fixOf(t, r, "supply side")
		if !x.Outage || !x.Permit || x.Hours <= r.Fixes[0].Hours {
			t.Errorf("%+v", x.Fix)
		}
		if !slices.ContainsFunc(x.Asks, func(m working.Missing) bool { return strings.HasSuffix(m.Path, "utility_consent") }) {
			t.Errorf("asks %v, not for the utility's consent", x.Asks)
		}
	})
	t.Run("option 4: new panel of 125 A, 126.6 of 150 A", func(t *testing.T) {
		f := after(t, fixOf(t, r, "125 A"), 2017, "busbar-120", "MP/bus")
		if f.Test.Left.String() != "126.6 A" || f.Test.Right.String() != "150 A" {
			t.Errorf("%s", f.Text())
		}
	})
	r.Attach(found)
	for _, f := range found {
		if f.Rule == "busbar-120" && (len(f.Fixes) == 0 || f.Fixes[0].Margin != "0.05 A to spare, a hair") {
			t.Errorf("fixes of the bus: %+v", f.Fixes)
		}
	}
}

// Source: scenarios.md, S4.
func TestSaltgrass(t *testing.T) {
	doc := houses.Get(t, "saltgrass").Doc
	t.Run("move to [2,4] or [37,39], both free, both ends", func(t *testing.T) {
		r, _ := search(t, doc)
		fixOf(t, r, "PV to 2, 4")
		fixOf(t, r, "PV to 37, 39")
	})
	t.Run("three more: most units on this bus is 24", func(t *testing.T) {
		// A plane of 27, the three on a third branch.
		src := strings.Replace(string(doc.Source), "      rows: 3\n", "      rows: 4\n      omit: [S-r4-c4, S-r4-c5, S-r4-c6, S-r4-c7, S-r4-c8]\n", 1)
		src = strings.Replace(src, "  runs:\n    - run: home", `    - id: C
      units: [S-r4-c1..c3]
      feed: end
      from: roof_box
      lands: combiner
      spaces: [9, 11]
      breaker: 20 A
      by: person
  runs:
    - run: home`, 1)
		more, err := job.Parse("more.yaml", []byte(src))
		if err != nil {
			t.Fatal(err)
		}
		r, _ := search(t, edited(t, more, "decisions.connections[0].breaker", "45 A"))
		fixOf(t, r, "24 of 27 units")
	})
}

// Source: scenarios.md, S5. The voltage rise is a project target; center-feeding
// joins with the planning edits.
func TestOtterbend(t *testing.T) {
	r, _ := search(t, houses.Get(t, "otterbend").Doc)
	t.Run("feeder breaker from [5,7] to the far end, 1/0 Al end-fed 4.30 V 1.79 %", func(t *testing.T) {
		x := fixOf(t, r, "garage feeder to 38, 40", "1/0 AWG aluminum")
		f := after(t, x, 2020, "voltage-rise", "A")
		if got := f.Test.Left.String(); got != "1.79 %" {
			t.Errorf("rise %s", got)
		}
		if got := after(t, x, 2020, "busbar-end", "MP/38-40").Verdict; got != working.OK {
			t.Errorf("position: %s", got)
		}
	})
	t.Run("the breaker's place is no cure for the rise", func(t *testing.T) {
		if by := refusedBy(t, r, "garage feeder to 38, 40"); !slices.Contains(by, "voltage-rise") || slices.Contains(by, "busbar-end") {
			t.Errorf("refused by %v", by)
		}
	})
}

// Source: scenarios.md, S6, "load side: 150 + 52.2 = 202.2 > 180, and no space:
// supply side". The house as it would be drawn on the load side.
func TestPennywhistleOnTheLoadSide(t *testing.T) {
	src := string(houses.Get(t, "pennywhistle").Doc.Source)
	for _, c := range [][2]string{
		{"      kind: supply side\n", "      kind: breaker\n      panel: MP\n      spaces: [28, 30]\n      breaker: 60 A\n      listed_for_panel: true\n      marked_line_load: false\n"},
		{"    to: service # the tap in the trough\n", "    to: MP\n"},
	} {
		if !strings.Contains(src, c[0]) {
			t.Fatalf("%q is not in the house", c[0])
		}
		src = strings.Replace(src, c[0], c[1], 1)
	}
	doc, err := job.Parse("load-side.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	r, found := search(t, doc)
	i := slices.IndexFunc(found, func(f working.Finding) bool { return f.Rule == "busbar-120" })
	if f := found[i]; f.Verdict != working.Stop || f.Test.Left.String() != "202.2 A" || f.Test.Right.String() != "180 A" {
		t.Errorf("%s", f.Text())
	}
	x := fixOf(t, r, "supply side", "60 A")
	if f := after(t, x, 2023, "supply-rating", "pv_output/tap"); f.Test.Left.String() != "41.76 A" || f.Verdict != working.OK {
		t.Errorf("%s", f.Text())
	}
}

// Source: scenarios.md, S7, remedies A to C.
func TestOcotillo(t *testing.T) {
	r, _ := search(t, houses.Get(t, "ocotillo").Doc)
	t.Run("remedy A: lift, cheapest, 27.84 A", func(t *testing.T) {
		if !strings.HasPrefix(r.Fixes[0].Title, "lift the raceway") {
			t.Errorf("the least work is %q", r.Fixes[0].Title)
		}
		if got := after(t, r.Fixes[0], 2023, "conductor-carries", "home").Test.Left.String(); got != "27.84 A" {
			t.Errorf("carries %s", got)
		}
	})
	t.Run("remedy B: XHHW-2", func(t *testing.T) { fixOf(t, r, "XHHW-2") })
	t.Run("remedy C: 8 AWG fails 3/4 EMT, needs 1 in; the 10 AWG ground stays", func(t *testing.T) {
		if by := refusedBy(t, r, "8 AWG"); !slices.Contains(by, "raceway-fill") {
			t.Errorf("refused by %v", by)
		}
		x := fixOf(t, r, "8 AWG copper", "1 in EMT")
		if got := x.Plant.Run("home").Conductors.Ground.Value.String(); got != "10 AWG" {
			t.Errorf("ground %s", got)
		}
	})
}

// Every offered fix passes the whole check, as far as its notes do not say what
// it leaves; and nothing is offered where nothing stops.
func TestOfferedFixesPass(t *testing.T) {
	for _, h := range houses.All(t) {
		r, found := search(t, h.Doc)
		if rules.Worst(found) != working.Stop && len(r.Fixes) > 0 {
			t.Errorf("%s: fixes for a plan without a stop", h.Name)
		}
		for _, x := range r.Fixes {
			for _, f := range rules.Check(x.Plant, x.Plant.Edition.Value) {
				if f.Verdict == working.Stop && !f.Existing && !f.NotCovered && !strings.Contains(x.Notes, f.ID()) {
					t.Errorf("%s: %q leaves\n%s", h.Name, x.Title, f.Text())
				}
			}
		}
	}
}

// The search takes the same way each time.
func TestSearchIsDeterministic(t *testing.T) {
	doc := houses.Get(t, "candlewick").Doc
	a, _ := search(t, doc)
	b, _ := search(t, doc)
	if !slices.Equal(titles(a), titles(b)) || a.Tried != b.Tried {
		t.Errorf("%q and %q", titles(a), titles(b))
	}
}

// A search that is called off says so.
func TestCalledOff(t *testing.T) {
	doc := houses.Get(t, "candlewick").Doc
	p, err := plan.Fill(doc)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if r, err := fixes.Search(ctx, doc, p, 2017, fixes.Options{}); err == nil || r.Complete {
		t.Errorf("complete %v, error %v", r.Complete, err)
	}
}

func BenchmarkSearch(b *testing.B) {
	doc := houses.Get(b, "candlewick").Doc
	for b.Loop() {
		search(b, doc)
	}
}

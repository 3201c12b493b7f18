package plan_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/plan"
	"legwork/quantity"
	"legwork/rules"
	"legwork/working"
)

func strung(t *testing.T, doc *job.Document, o plan.Options) *plan.Plan {
	t.Helper()
	p, err := plan.FillWith(context.Background(), doc, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func known[T any](v T) job.Fact[T] { return job.Fact[T]{Value: v, Known: true} }

// open is an invented house without a decision on branches.
func open(t *testing.T, name string) *job.Document {
	t.Helper()
	doc := houses.Get(t, name).Doc
	doc.Decisions.Branches = nil
	return doc
}

func worst(p *plan.Plan, rule *rules.Rule) working.Verdict {
	return rules.Worst(rule.Check(p.Plant, p.Plant.Edition.Value))
}

// TestScenarioS1 without decisions gives what the scenario gives: two branches of
// seven and a 20 A breaker each.
func TestScenarioS1(t *testing.T) {
	doc := open(t, "quillfeather")
	doc.Decisions = job.Decisions{}
	p := strung(t, doc, plan.Options{})
	if len(p.Plant.Branches) != 2 || len(p.Open) > 0 {
		t.Fatalf("%d branches, missing %v", len(p.Plant.Branches), p.Open)
	}
	for _, b := range p.Plant.Branches {
		if len(b.Units) != 7 || b.Breaker.Rating.Value != 20 {
			t.Errorf("branch %s: %d units on %v", b.ID, len(b.Units), b.Breaker.Rating)
		}
	}
	if v := rules.Worst(rules.Check(p.Plant, 2020)); v == working.Stop {
		t.Errorf("the plan breaks a rule")
	}
}

// TestHousesStrung: every house, strung anew, holds every unit on a branch of its
// model, within the listing, in the spaces of its landing.
func TestHousesStrung(t *testing.T) {
	for _, name := range houses.Names() {
		p := strung(t, open(t, name), plan.Options{Alternatives: 3})
		for _, u := range p.Plant.Units {
			if u.Branch == nil {
				t.Errorf("%s: %s is on no branch", name, u.Position)
			}
		}
		for _, r := range []*rules.Rule{&rules.BranchUnits, &rules.BranchModel, &rules.BranchCurrent, &rules.CombinerSpaces} {
			if v := worst(p, r); v == working.Stop {
				t.Errorf("%s: %s stops", name, r.ID)
			}
		}
		if n := len(p.Layouts); n < 2 || n > 4 {
			t.Errorf("%s: %d layouts, want the cheapest and one to three more", name, n)
		}
	}
}

// TestLayoutIsWhatIsDecided: the jumpers and lengths that a layout is priced with
// are those of the plant, as the rule on the rise reads it.
func TestLayoutIsWhatIsDecided(t *testing.T) {
	doc := open(t, "larkbarrow")
	doc.JunctionBoxes[0].At = known(job.Point{X: 44, Y: 32})
	p := strung(t, doc, plan.Options{})
	for i, b := range p.Plant.Branches {
		var cable quantity.Feet
		for _, arm := range b.Trunk() {
			for _, s := range arm {
				cable += s.Length.Value
			}
		}
		if got := p.Layouts[0].Branches[i].Cable; quantity.Compare(float64(got), float64(cable)) != 0 {
			t.Errorf("branch %s: priced with %.2f ft of cable, built with %.2f ft", b.ID, got, cable)
		}
		for _, found := range rules.VoltageRise.Check(p.Plant, 2023) {
			if found.Place != b.ID {
				continue
			}
			for _, s := range found.Steps {
				if s.Sym == "V_trunk" && quantity.Compare(s.Result.Float(), float64(p.Layouts[0].Branches[i].Rise)) > 0 {
					t.Errorf("branch %s: the layout's rise %v V, the rule's %v", b.ID, p.Layouts[0].Branches[i].Rise, s.Result)
				}
			}
		}
	}
}

// TestRiseTarget: larkbarrow's conductors are a person's. End-fed, one of the
// cheapest branches breaks the 2 % target; the tool feeds it in the middle.
func TestRiseTarget(t *testing.T) {
	p := strung(t, open(t, "larkbarrow"), plan.Options{})
	if v := worst(p, &rules.VoltageRise); v == working.Stop {
		t.Error("the rise target is not kept")
	}
	center := 0
	for _, b := range p.Plant.Branches {
		if b.Feed == job.CenterFed {
			center++
		}
	}
	if center == 0 {
		t.Error("no branch is center-fed")
	}
}

// TestPersonKept: what a person strung stays, and its units are not strung twice.
func TestPersonKept(t *testing.T) {
	doc := houses.Get(t, "saltgrass").Doc
	kept := doc.Decisions.Branches[0]
	doc.Decisions.Branches = doc.Decisions.Branches[:1]
	p := strung(t, doc, plan.Options{})
	if len(p.Decisions.Branches) != 2 || !slices.Equal(p.Decisions.Branches[0].Units, kept.Units) {
		t.Fatalf("branches %v", p.Decisions.Branches)
	}
	if b := p.Plant.Branches[1]; b.ID != "B" || len(b.Units) != 12 || b.By != job.Tool {
		t.Errorf("branch %s of %d units by %s", b.ID, len(b.Units), b.By)
	}
}

// TestWye: on 208Y/120 the listing allows 9 units of 1.64 A; 14 need two branches,
// 27 need three, one on each pair of legs and all alike.
func TestWye(t *testing.T) {
	doc := open(t, "quillfeather")
	doc.Service.System = known(job.Wye208)
	doc.Planes[0].Grid.Rows, doc.Planes[0].Grid.Columns = 3, 8
	doc.Planes[0].Outline[2].Y += 10
	doc.Planes[0].Outline[3].Y += 10
	p := strung(t, doc, plan.Options{})
	pairs := map[int]int{}
	for _, b := range p.Plant.Branches {
		pairs[(b.Breaker.Spaces[0]-1)/2%3] += len(b.Units)
	}
	if len(p.Plant.Branches) != 3 || len(pairs) != 3 || pairs[0] != 8 || pairs[1] != 8 || pairs[2] != 8 {
		t.Errorf("%d branches, units by pair of legs %v; want 8 on each", len(p.Plant.Branches), pairs)
	}
}

// TestSeveralModulesAUnit: with two inputs, two rows of seven are eight units on
// one branch, and the branch lists all fourteen positions.
func TestSeveralModulesAUnit(t *testing.T) {
	doc := open(t, "quillfeather")
	doc.Equipment.Inverters[0].ModulesPerUnit = known(2)
	doc.Equipment.Trunks[0].Portrait = known(quantity.Feet(8))
	p := strung(t, doc, plan.Options{})
	if len(p.Plant.Branches) != 1 || len(p.Plant.Branches[0].Units) != 8 {
		t.Fatalf("branches %v", p.Decisions.Branches)
	}
	at, err := job.ExpandUnits(p.Decisions.Branches[0].Units)
	if err != nil || len(at) != 14 {
		t.Errorf("%d positions: %v, %v", len(at), p.Decisions.Branches[0].Units, err)
	}
}

// TestTwoBoxes: with a second junction box much nearer to the combiner, branches
// leave from there.
func TestTwoBoxes(t *testing.T) {
	doc := open(t, "quillfeather")
	near := doc.JunctionBoxes[0]
	near.ID = "near_box"
	doc.JunctionBoxes = append(doc.JunctionBoxes, near)
	run := doc.Runs[0]
	run.ID, run.From, run.Length, run.Segments = "near_home", "near_box", known(quantity.Feet(10)), nil
	doc.Runs = append(doc.Runs, run)
	for _, b := range strung(t, doc, plan.Options{}).Plant.Branches {
		if b.From != "near_box" {
			t.Errorf("branch %s leaves from %s", b.ID, b.From)
		}
	}
}

// TestSpacesShort: where the landing has too few positions the units are strung
// all the same, the layout says how many are short, and the rule stops.
func TestSpacesShort(t *testing.T) {
	doc := open(t, "quillfeather")
	doc.Equipment.Combiners[0].BranchSpaces = known(1)
	p := strung(t, doc, plan.Options{})
	if p.Layouts[0].Short != 1 || worst(p, &rules.CombinerSpaces) != working.Stop {
		t.Errorf("short of %d, verdict %s", p.Layouts[0].Short, worst(p, &rules.CombinerSpaces))
	}
}

// TestMissingFacts: what the price of a layout hangs on is asked for, and then no
// branch is strung.
func TestMissingMeasures(t *testing.T) {
	for name, c := range map[string]struct {
		blank func(*job.Document)
		path  string
	}{
		"gap between modules":  {func(d *job.Document) { d.Planes[0].Grid.Gap.Known = false }, "planes.S.grid.gap"},
		"size of the module":   {func(d *job.Document) { d.Equipment.Modules[0].Width.Known = false }, "equipment.modules.PV-405.width"},
		"length of home run":   {func(d *job.Document) { d.Runs[0].Length.Known = false }, "runs.home.length"},
		"inputs of the unit":   {func(d *job.Document) { d.Equipment.Inverters[0].ModulesPerUnit.Known = false }, "equipment.inverters.MI-340.modules_per_unit"},
		"positions to land on": {func(d *job.Document) { d.Equipment.Combiners[0].BranchSpaces.Known = false }, "equipment.combiners.CB-3.branch_spaces"},
	} {
		doc := open(t, "quillfeather")
		c.blank(doc)
		p := strung(t, doc, plan.Options{})
		asked := slices.ContainsFunc(p.Open, func(m working.Missing) bool { return m.Path == c.path })
		if !asked || len(p.Plant.Branches) > 0 {
			t.Errorf("%s unknown: %d branches, asked for %v", name, len(p.Plant.Branches), p.Open)
		}
	}
	// One plane alone needs no place in plan view.
	doc := open(t, "quillfeather")
	doc.Planes[0].Outline, doc.Planes[0].Grid.FromLeft.Known = nil, false
	if p := strung(t, doc, plan.Options{}); len(p.Plant.Branches) != 2 {
		t.Errorf("without outline: %d branches, asked for %v", len(p.Plant.Branches), p.Open)
	}
}

// TestLargeRoof: with more planes than are tried in every order the search tells
// its progress, stops when it is told to, and still strings every unit.
func TestLargeRoof(t *testing.T) {
	doc := open(t, "larkbarrow")
	doc.Equipment.Combiners[0].BranchSpaces = known(40)
	model := doc.Planes[0]
	doc.Planes = nil
	for i := range 7 {
		pl := model
		pl.ID = fmt.Sprintf("roof%d", i)
		pl.Grid.Columns = 2 + i%3
		pl.Outline = slices.Clone(model.Outline)
		for k := range pl.Outline {
			pl.Outline[k].X += quantity.Feet(i * 3 % 7 * 40)
		}
		doc.Planes = append(doc.Planes, pl)
	}
	ctx, cancel := context.WithCancel(context.Background())
	told := 0
	p, err := plan.FillWith(ctx, doc, plan.Options{Progress: func(plan.Progress) {
		if told++; told == 3 {
			cancel()
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	if told < 3 {
		t.Errorf("told %d times", told)
	}
	for _, u := range p.Plant.Units {
		if u.Branch == nil {
			t.Errorf("%s is on no branch", u.Position)
		}
	}
	if l := p.Layouts[0]; l.Cost < l.Bound || l.Gap() > 0 && l.Proof != plan.BestFound {
		t.Errorf("cost %v, bound %v, %q", l.Cost, l.Bound, l.Proof)
	}
}

// TestCostsRead: a table of one's own is read whole, or refused with its place.
func TestCostsRead(t *testing.T) {
	head := "item,per,material_USD,labor_min\n"
	all := head + "drop,,1,0\nempty_drop,,1,0\njumper_ends,,1,0\njumper_cable,,1,0\ntrunk_end,,1,0\ncenter_feed,,1,0\nbranch,,10,30\nhome_run,,1,0\nimbalance,,0,0\nlabor,h,60,0\n"
	c, err := plan.ReadCosts("own.csv", strings.NewReader(all))
	if err != nil || c.Branch != 40 { // 10 + 30 min at 60 an hour
		t.Errorf("%+v, %v", c, err)
	}
	for name, text := range map[string]string{
		"empty": "", "left out": head + "drop,,1,0\n", "unknown item": all + "ladder,,1,0\n", "twice": all + "drop,,1,0\n",
		"negative": strings.Replace(all, "drop,,1,0", "drop,,-1,0", 1), "no number": strings.Replace(all, "drop,,1,0", "drop,,x,0", 1),
		"not a number": strings.Replace(all, "drop,,1,0", "drop,,NaN,0", 1), "columns": head + "drop,1\n",
	} {
		if _, err := plan.ReadCosts("own.csv", strings.NewReader(text)); err == nil || !strings.HasPrefix(err.Error(), "own.csv") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

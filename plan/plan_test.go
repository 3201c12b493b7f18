package plan_test

import (
	"reflect"
	"testing"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/plan"
	"legwork/quantity"
	"legwork/rules"
	"legwork/working"
)

func fill(t *testing.T, doc *job.Document) *plan.Plan {
	t.Helper()
	p, err := plan.Fill(doc)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// S1 with every decision removed: two branches of 7, 20 A, a 25 A breaker as the
// smallest standard at the far end, and sizes that pass every rule.
func TestQuillfeatherFromNothing(t *testing.T) {
	doc := houses.Get(t, "quillfeather").Doc
	doc.Decisions = job.Decisions{}
	p := fill(t, doc)
	if len(p.Plant.Branches) != 2 {
		t.Fatalf("%d branches, want 2", len(p.Plant.Branches))
	}
	for _, b := range p.Plant.Branches {
		if len(b.Units) != 7 || b.Breaker.Rating.Value != 20 || b.By != job.Tool {
			t.Errorf("branch %s: %d units, %v, by %s; want 7, 20 A, by tool", b.ID, len(b.Units), b.Breaker.Rating, b.By)
		}
	}
	// 1.25 × 19.88 = 24.85 A.
	if d := p.Plant.Bus("combiner").Up.Device; d.Rating.Value != 25 || !p.Plant.Bus("MP").AtEnd(d).Value {
		t.Errorf("PV breaker %v in %s; want 25 A at the far end", d.Rating, d.SpaceList())
	}
	// The marks of a PV breaker that nobody has bought yet are asked for.
	for _, f := range rules.Check(p.Plant, p.Plant.Edition.Value) {
		ofBreaker := f.Rule == "backfeed-listed" || f.Rule == "backfeed-suitable"
		if f.Verdict != working.OK && !f.Unconfirmed() && !(ofBreaker && f.Verdict == working.Ask) {
			t.Errorf("%s is %s, want ok", f.ID(), f.Verdict)
		}
	}
	if len(p.Open) > 0 {
		t.Errorf("open: %v", p.Open)
	}
	for _, c := range p.Choices {
		if c.Rule != "" && rules.Find(c.Rule) == nil {
			t.Errorf("%s names rule %q, which is none", c.Path, c.Rule)
		}
		if c.Why == "" {
			t.Errorf("%s gives no reason", c.Path)
		}
	}
	// Nothing thinner would pass: 12 AWG carries the home run, 14 AWG does not (25 ×
	// 0.76 × 0.80 = 15.2 A carries 9.94 A, but its cap is 15 A and the breaker 20 A).
	if s := p.Plant.Run("home").Conductors.Size.Value; s != quantity.AWG12 {
		t.Errorf("home run %v, want 12 AWG", s)
	}
	// 1.25 × 19.88 = 24.85 A at 75 °C: 12 AWG 25 A carries it, but its cap is 20 A.
	if s := p.Plant.Run("pv_output").Conductors.Size.Value; s != quantity.AWG10 {
		t.Errorf("PV output %v, want 10 AWG", s)
	}
}

// What a person decided, and what is pinned, stays.
func TestPersonsDecisionsStay(t *testing.T) {
	doc := houses.Get(t, "quillfeather").Doc
	doc.Decisions.Branches[0].By, doc.Decisions.Branches[0].Pinned = job.Tool, true
	before := fill(t, doc)
	if !reflect.DeepEqual(before.Decisions, doc.Decisions) || len(before.Choices) > 0 {
		t.Errorf("a whole plan was changed: %v", before.Choices)
	}
	doc.Decisions.Runs = doc.Decisions.Runs[:1] // the PV output is left to the tool
	p := fill(t, doc)
	if !reflect.DeepEqual(p.Decisions.Runs[0], doc.Decisions.Runs[0]) || !reflect.DeepEqual(p.Decisions.Branches, doc.Decisions.Branches) || !reflect.DeepEqual(p.Decisions.Connections, doc.Decisions.Connections) {
		t.Error("a person's decision was changed")
	}
	if got := p.Decisions.Runs[1]; got.Run != "pv_output" || got.By != job.Tool {
		t.Errorf("second run %s by %s; want pv_output by tool", got.Run, got.By)
	}
	if len(doc.Decisions.Runs) != 1 {
		t.Error("the plan wrote into the document")
	}
}

// A missing fact leaves its decision open and is named.
func TestMissingFacts(t *testing.T) {
	for _, c := range []struct {
		name   string
		blank  func(*job.Document)
		path   string
		branch int // branches decided all the same
		runs   int // runs decided all the same
	}{
		{"current of the unit", func(d *job.Document) { d.Equipment.Inverters[0].Current240 = job.Fact[quantity.Amps]{} }, "equipment.inverters.MI-340.current_240V", 0, 0},
		{"listing limit", func(d *job.Document) { d.Equipment.Inverters[0].UnitsPer20A240 = job.Fact[int]{} }, "equipment.inverters.MI-340.units_per_20A_240V", 0, 0},
		{"attic", func(d *job.Document) { d.Runs[0].Segments[1].Ambient = job.Fact[quantity.Celsius]{} }, "runs.home.segments[1].ambient", 2, 1},
		{"edition", func(d *job.Document) { d.Site.Code = job.Fact[int]{} }, "site.code", 2, 0},
	} {
		doc := houses.Get(t, "quillfeather").Doc
		doc.Decisions = job.Decisions{}
		c.blank(doc)
		p := fill(t, doc)
		named := false
		for _, m := range p.Open {
			named = named || m.Path == c.path
		}
		if !named {
			t.Errorf("%s: open %v, want %s", c.name, p.Open, c.path)
		}
		if len(p.Decisions.Branches) != c.branch || len(p.Decisions.Runs) != c.runs {
			t.Errorf("%s: %d branches, %d runs; want %d, %d", c.name, len(p.Decisions.Branches), len(p.Decisions.Runs), c.branch, c.runs)
		}
	}
}

// Every house with its circuits stripped is planned without error, twice alike,
// and no rule of a circuit stops what the tool chose; what the site itself
// forbids (a bar too small, a breaker to move) may.
func TestHousesStripped(t *testing.T) {
	for _, house := range houses.All(t) {
		doc := house.Doc
		doc.Decisions = job.Decisions{}
		first, second := fill(t, doc), fill(t, doc)
		if !reflect.DeepEqual(first.Decisions, second.Decisions) || !reflect.DeepEqual(first.Choices, second.Choices) || !reflect.DeepEqual(first.Open, second.Open) {
			t.Errorf("%s: two plans differ", house.Name)
		}
		for _, u := range first.Plant.Units {
			if u.Branch == nil && len(first.Open) == 0 {
				t.Errorf("%s: %s is on no branch, and nothing is open", house.Name, u.Position)
			}
		}
		for _, f := range rules.Check(first.Plant, first.Plant.Edition.Value) {
			switch f.Rule {
			case "busbar-100", "busbar-120", "busbar-center", "busbar-end", "voltage-rise":
				continue
			}
			if f.Verdict == working.Stop {
				t.Errorf("%s: the tool's own plan stops\n%s", house.Name, f.Text())
			}
		}
	}
}

package job_test

import (
	"strings"
	"testing"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/quantity"
	"legwork/tables"
)

func known[T any](v T) job.Fact[T] { return job.Fact[T]{Value: v, Known: true} }

var byTool = job.Decided{By: job.Tool}

func branch(id string, by job.Decided, units ...string) job.Branch {
	return job.Branch{ID: id, Units: units, Feed: job.EndFed, From: "box", Lands: "combiner", Breaker: known(quantity.Amps(20)), Decided: by}
}

const branchB = `    - id: B
      units: [S-r2-c1, S-r2-c2]
      feed: end
      from: box
      lands: combiner
      breaker: 20 A
      by: tool
`

func settle(t *testing.T, src string, plan job.Decisions) string {
	t.Helper()
	out, err := parse(t, src).Settle(plan)
	if err != nil {
		t.Fatal(err)
	}
	again, err := out.Settle(plan)
	if err != nil {
		t.Fatal(err)
	}
	if string(again.Source) != string(out.Source) {
		t.Errorf("settling twice changed the document:\n%s", again.Source)
	}
	return string(out.Source)
}

func planB() job.Decisions {
	return job.Decisions{Branches: []job.Branch{branch("B", byTool, "S-r2-c1", "S-r2-c2")}}
}

func TestSettleAddsBehindThePersons(t *testing.T) {
	want := strings.Replace(small, "  connections:\n", branchB+"  connections:\n", 1)
	if got := settle(t, small, planB()); got != want {
		t.Errorf("got\n%s", got)
	}
}

func TestSettleReplacesAndRemovesTheTools(t *testing.T) {
	old := strings.ReplaceAll(branchB, "S-r2-c1, S-r2-c2", "S-r2-c1")
	src := strings.Replace(small, "  connections:\n", "    # mine\n"+old+"    # below\n  connections:\n", 1)
	want := strings.Replace(small, "  connections:\n", "    # mine\n"+branchB+"    # below\n  connections:\n", 1)
	if got := settle(t, src, planB()); got != want {
		t.Errorf("replaced: got\n%s", got)
	}
	want = strings.Replace(small, "  connections:\n", "    # mine\n    # below\n  connections:\n", 1)
	if got := settle(t, src, job.Decisions{}); got != want {
		t.Errorf("removed: got\n%s", got)
	}
}

func TestSettleKeepsTheBytesOfWhatStays(t *testing.T) {
	odd := "    - {by: tool, id: B, units: [S-r2-c1,   S-r2-c2], feed: end, from: box, lands: combiner, breaker: 20 A} # odd\n"
	src := strings.Replace(small, "  connections:\n", odd+"  connections:\n", 1)
	if got := settle(t, src, planB()); got != src {
		t.Errorf("got\n%s", got)
	}
}

func TestSettleLeavesPersonAndPin(t *testing.T) {
	pinned := strings.Replace(branchB, "by: tool", "by: tool\n      pinned: true", 1)
	src := strings.Replace(small, "  connections:\n", pinned+"  connections:\n", 1)
	if got := settle(t, src, job.Decisions{}); got != src {
		t.Errorf("got\n%s", got)
	}
	for name, plan := range map[string]job.Decisions{
		"person's": {Branches: []job.Branch{branch("A", byTool, "S-r2-c1")}},
		"pinned":   planB(),
	} {
		if _, err := parse(t, src).Settle(plan); err == nil || !strings.Contains(err.Error(), "which a person decided or pinned") {
			t.Errorf("%s: %v", name, err)
		}
	}
	// A whole plan carries the person's decisions along; they are not written.
	plan := parse(t, src).Decisions
	plan.Branches[0].Units = []string{"S-r1-c1"}
	if got := settle(t, src, plan); got != src {
		t.Errorf("got\n%s", got)
	}
}

// TestSettleInto begins with every shape that "decisions" may have.
func TestSettleInto(t *testing.T) {
	head, _, _ := strings.Cut(small, "decisions:\n")
	item := "decisions:\n  branches:\n" + branchB
	for name, c := range map[string]struct{ was, want string }{
		"nothing":            {"", item},
		"an empty key":       {"decisions:\n", item},
		"with a comment":     {"decisions: # none yet\n# end\n", "decisions: # none yet\n  branches:\n" + branchB + "# end\n"},
		"empty brackets":     {"decisions: {}\n", item},
		"an empty list":      {"decisions:\n  branches: []\n", item},
		"an empty list, key": {"decisions:\n  branches:\n  runs:\n", item + "  runs:\n"},
		"other lists": {"decisions:\n  runs:\n    - {run: home, by: person, conductors: {size: 10 AWG}}\n\n# end\n",
			"decisions:\n  runs:\n    - {run: home, by: person, conductors: {size: 10 AWG}}\n  branches:\n" + branchB + "\n# end\n"},
	} {
		for ends, eol := range map[string]string{"LF": "\n", "CRLF": "\r\n"} {
			t.Run(name+" "+ends, func(t *testing.T) {
				got := settle(t, strings.ReplaceAll(head+c.was, "\n", eol), planB())
				if want := strings.ReplaceAll(head+c.want, "\n", eol); got != want {
					t.Errorf("got\n%s\nwant\n%s", got, want)
				}
			})
		}
	}
}

func TestSettleRefusesBrackets(t *testing.T) {
	head, _, _ := strings.Cut(small, "decisions:\n")
	src := head + "decisions:\n  branches: [{id: A, units: [S-r1-c1], feed: end, from: box, lands: combiner, by: tool}]\n"
	_, err := parse(t, src).Settle(planB())
	if err == nil || !strings.Contains(err.Error(), "a list of decisions in brackets") {
		t.Errorf("got %v", err)
	}
}

func TestSettleRunsConnectionsMoves(t *testing.T) {
	head, _, _ := strings.Cut(small, "decisions:\n")
	got := settle(t, head, job.Decisions{
		Runs: []job.RunDecision{{Run: "home", Decided: byTool, Conductors: job.Conductors{
			Size: known(quantity.AWG10), Material: known(tables.Copper), Insulation: known(tables.Insulation("THWN-2")),
			Ground: job.Fact[quantity.Size]{Open: true}, Raceway: known(tables.EMT), Trade: known(quantity.Trade3_4),
		}}},
		Connections: []job.Connection{{ID: "output", From: "combiner", Run: "out", Kind: job.BackfedBreaker, Panel: "MP", Spaces: []int{18, 20}, Breaker: known(quantity.Amps(30)), Decided: byTool}},
		Moves:       []job.Move{{Panel: "MP", From: []int{1, 3}, To: []int{5, 7}, Decided: byTool}},
	})
	want := head + `decisions:
  runs:
    - run: home
      conductors:
        size: 10 AWG
        material: copper
        insulation: THWN-2
        ground: "?"
        raceway: EMT
        trade_size: 3/4 in
      by: tool
  connections:
    - id: output
      from: combiner
      run: out
      kind: breaker
      panel: MP
      spaces: [18, 20]
      breaker: 30 A
      by: tool
  moves:
    - panel: MP
      from: [1, 3]
      to: [5, 7]
      by: tool
`
	if got != want {
		t.Errorf("got\n%s", got)
	}
}

// TestSettleHouses hands every house's own decisions to the tool, in an emptied
// document, and compares what is read back.
func TestSettleHouses(t *testing.T) {
	for _, h := range houses.All(t) {
		text := string(h.Bytes)
		from := strings.Index(text, "\ndecisions:\n")
		to := strings.Index(text, "\n# field notes")
		doc, err := job.Parse(h.Name, []byte(text[:from]+text[to:]))
		if err != nil {
			t.Fatal(err)
		}
		plan := houses.Get(t, h.Name).Doc.Decisions
		for i := range plan.Branches {
			plan.Branches[i].By = job.Tool
		}
		for i := range plan.Runs {
			plan.Runs[i].By = job.Tool
		}
		for i := range plan.Connections {
			plan.Connections[i].By = job.Tool
		}
		out, err := doc.Settle(plan)
		if err != nil {
			t.Fatal(h.Name, err)
		}
		if !strings.HasPrefix(string(out.Source), text[:from]) || !strings.HasSuffix(string(out.Source), text[to:]) {
			t.Errorf("%s: other bytes changed", h.Name)
		}
		back, d := out.Decisions, plan
		if len(back.Branches) != len(d.Branches) || len(back.Runs) != len(d.Runs) || len(back.Connections) != len(d.Connections) {
			t.Fatalf("%s: %d branches, %d runs, %d connections", h.Name, len(back.Branches), len(back.Runs), len(back.Connections))
		}
		for i, r := range d.Runs {
			if got := back.Runs[i].Conductors; got.Size.Value != r.Conductors.Size.Value || got.Neutral.Value != r.Conductors.Neutral.Value || got.Trade.Value != r.Conductors.Trade.Value {
				t.Errorf("%s: run %s read back as %+v", h.Name, r.Run, got)
			}
		}
		for i, b := range d.Branches {
			if got := back.Branches[i]; strings.Join(got.Units, " ") != strings.Join(b.Units, " ") || len(got.Jumpers) != len(b.Jumpers) || got.Breaker.Value != b.Breaker.Value {
				t.Errorf("%s: branch %s read back as %+v", h.Name, b.ID, got)
			}
		}
	}
}

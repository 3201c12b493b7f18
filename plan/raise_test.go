package plan_test

import (
	"strings"
	"testing"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/plan"
	"legwork/quantity"
)

// The garage feeder of S5 alone takes 2.29 % of a 2 % target (scenarios.md), so
// that no home run can meet it: the planner must not pile copper into the pipe.
func TestRaiseGivesUpBehindAThinFeeder(t *testing.T) {
	doc := houses.Get(t, "otterbend").Doc
	open := *doc
	open.Decisions.Runs = nil
	p, err := plan.Fill(&open)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range p.Decisions.Runs {
		if d.Run == "home" && d.Conductors.Size.Value > quantity.AWG10 {
			t.Errorf("home run is %s; want the size that carries the current", d.Conductors.Size.Value)
		}
	}
	for _, c := range p.Choices {
		if c.Rule == "voltage-rise" {
			t.Errorf("%s %s chosen for the rise, which it cannot cure", c.Path, c.Value)
		}
	}
}

// A run at the first size that is proposed names no rule that broke below it.
func TestFirstSizeNamesNoBrokenRule(t *testing.T) {
	doc := houses.Get(t, "quillfeather").Doc
	open := *doc
	open.Decisions = job.Decisions{}
	p, err := plan.Fill(&open)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range p.Choices {
		if c.Path == "decisions.runs.home.size" {
			if c.Rule != "" || !strings.HasPrefix(c.Value, "12 AWG") {
				t.Errorf("%s by %q; want 12 AWG, the first, and no rule", c.Value, c.Rule)
			}
			return
		}
	}
	t.Error("no size chosen for the home run")
}

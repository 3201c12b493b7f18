package field

import (
	"strings"
	"testing"

	"legwork/quantity"
	"legwork/working"
)

func volts(v float64) *working.Term {
	t := working.Of(quantity.Volts(v), "", working.Origin{Kind: working.Given})
	return &t
}

// serviceVoltage is a leg of a 120/240 V service before PV: ANSI C84.1, 2016,
// table 1, service voltage range A (114-126 V) and range B (110-127 V), from
// memory.
func serviceVoltage() Expect {
	return Expect{ID: "L1-N", What: Text{Key: "field.measure"}, Between: "L1-N", Unit: "V", Value: volts(120),
		Look: Band{volts(114), volts(126)}, Stop: Band{volts(110), volts(127)}}
}

// goodStep is a hold point that Check accepts.
func goodStep(id string) Step {
	return Step{ID: id, Title: Text{Key: "step.service_voltage"}, Place: "MP/bus", Why: Text{Key: "why.baseline"},
		StaysLive: []Text{{Key: "live.line_side_of_main"}}, Expect: []Expect{serviceVoltage()},
		Hold: &Hold{}, Mark: Standard, Basis: "ANSI C84.1"}
}

func TestJudgeAReading(t *testing.T) {
	unknown := &working.Term{}
	x := serviceVoltage()
	openBelow := Expect{Unit: "V", Stop: Band{High: volts(3)}} // absence of voltage
	limitUnknown := Expect{Unit: "V", Stop: Band{unknown, volts(127)}}
	noLook := Expect{Unit: "V", Look: Band{High: unknown}, Stop: Band{High: volts(127)}}
	for _, c := range []struct {
		name    string
		expect  Expect
		reading *working.Term
		want    working.Verdict
	}{
		{"as expected", x, volts(120.4), working.OK},
		{"at the look limit", x, volts(126), working.OK},
		{"just over the look limit", x, volts(126.1), working.Look},
		{"low but within stop", x, volts(110), working.Look},
		{"at the stop limit", x, volts(127), working.Look},
		{"just over the stop limit", x, volts(127.1), working.Stop},
		{"dead leg", x, volts(0), working.Stop},
		{"not measured", x, unknown, working.Ask},
		{"dead, open below", openBelow, volts(-0.2), working.OK},
		{"not dead", openBelow, volts(3.1), working.Stop},
		{"one limit unknown, inside the other", limitUnknown, volts(120), working.Ask},
		{"one limit unknown, outside the other", limitUnknown, volts(128), working.Stop},
		{"look limit unknown", noLook, volts(120), working.Ask},
		{"look limit unknown, outside stop", noLook, volts(128), working.Stop},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.expect.Judge(*c.reading); got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
}

func TestJudgeRefusesAnotherUnit(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("amps were judged by limits in volts")
		}
	}()
	serviceVoltage().Judge(working.Of(quantity.Amps(120), "", working.Origin{}))
}

func TestCheckAcceptsAGoodProcedure(t *testing.T) {
	eyes := goodStep("labels")
	eyes.Expect, eyes.Hold = nil, &Hold{EyesOnly: true, ReasonPasses: true}
	eyes.Mark, eyes.Basis = CommonPractice, ""
	noHold := goodStep("close-main")
	noHold.Expect, noHold.Hold = nil, nil
	unknownLimit := goodStep("rise")
	unknownLimit.Expect[0].Look.High = &working.Term{}
	if err := (Procedure{Steps: []Step{goodStep("service-voltage"), eyes, noHold, unknownLimit}}).Check(); err != nil {
		t.Error(err)
	}
}

func TestCheckFinds(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*Step)
		want  string
	}{
		{"no id", func(s *Step) { s.ID = "" }, "steps[1].id: nothing; expected a short id"},
		{"id taken", func(s *Step) { s.ID = "first" }, "step first: a second step of this id"},
		{"no title", func(s *Step) { s.Title = Text{} }, "step second.title: nothing"},
		{"no place", func(s *Step) { s.Place = " " }, "step second.place: nothing"},
		{"no why", func(s *Step) { s.Why = Text{} }, "step second.why: nothing"},
		{"no mark", func(s *Step) { s.Mark = "" }, `step second.mark: ""; expected standard or common practice`},
		{"standard unnamed", func(s *Step) { s.Basis = "" }, "step second.basis: nothing; expected the standard and clause"},
		{"hold without limits", func(s *Step) { s.Expect = nil }, "step second.hold: no stop limit"},
		{"hold with look limits only", func(s *Step) { s.Expect[0].Stop = Band{} }, "step second.hold: no stop limit"},
		{"eyes only with limits", func(s *Step) { s.Hold.EyesOnly = true }, "step second.hold: eyes only, and a stop limit"},
		{"reading twice", func(s *Step) { s.Expect = append(s.Expect, serviceVoltage()) }, "step second.expect.L1-N: an id that is empty or taken"},
		{"limits in amps", func(s *Step) { s.Expect[0].Unit = "A" }, "step second.expect.L1-N: 110 V; expected a value in A"},
		{"look outside stop", func(s *Step) { s.Expect[0].Look.Low = volts(109) }, "step second.expect.L1-N: 110 V before 109 V"},
		{"expected outside look", func(s *Step) { s.Expect[0].Value = volts(126.5) }, "step second.expect.L1-N: 126.5 V before 126 V"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := goodStep("second")
			c.spoil(&bad)
			err := Procedure{Steps: []Step{goodStep("first"), bad}}.Check()
			if err == nil || strings.Contains(err.Error(), "\n") || !strings.HasPrefix(err.Error(), c.want) {
				t.Errorf("got %v, want only %s…", err, c.want)
			}
		})
	}
}

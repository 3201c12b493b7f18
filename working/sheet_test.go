package working_test

import (
	"errors"
	"testing"

	"legwork/quantity"
	"legwork/where"
	"legwork/working"
)

func TestCompare(t *testing.T) {
	amps := func(v float64) working.Term { return named(quantity.Amps(v), "I") }
	atMost, atLeast := (*working.Sheet).AtMost, (*working.Sheet).AtLeast
	tests := []struct {
		name        string
		compare     func(*working.Sheet, working.Term, working.Term) working.Verdict
		left, right working.Term
		want        working.Verdict
		hair        bool
		said        string // by hand
	}{
		{"well within", atMost, amps(224.85), amps(240), working.OK, false, "224.85 A ≤ 240 A  15.15 A to spare"},
		{"over", atMost, amps(256.4), amps(240), working.Stop, false, "256.4 A > 240 A  16.4 A too much"},
		{"exactly at the limit", atMost, amps(240), amps(240), working.OK, true, "240 A ≤ 240 A  nothing to spare, exactly at the limit"},
		{"at the limit but for binary dust", atMost, amps(0.1).Plus(amps(0.2)), amps(0.3), working.OK, true, "0.3 A ≤ 0.3 A  nothing to spare, exactly at the limit"},
		{"just over", atMost, amps(20.0001), amps(20), working.Stop, false, "20 A > 20 A  less than 0.01 A too much"},
		{"over by a hundredth", atMost, amps(20.01), amps(20), working.Stop, false, "20.01 A > 20 A  0.01 A too much"},
		{"a hair", atMost, amps(239), amps(240), working.OK, true, "239 A ≤ 240 A  1 A to spare, a hair"},
		{"one percent is no hair", atMost, amps(237.6), amps(240), working.OK, false, "237.6 A ≤ 240 A  2.4 A to spare"},
		{"enough", atLeast, amps(24.32), amps(20), working.OK, false, "24.32 A ≥ 20 A  4.32 A to spare"},
		{"too little", atLeast, amps(18.2), amps(20), working.Stop, false, "18.2 A < 20 A  1.8 A too little"},
		{"at the lower limit", atLeast, amps(20), amps(20), working.OK, true, "20 A ≥ 20 A  nothing to spare, exactly at the limit"},
		{"unknown", atMost, unknown[quantity.Amps]("main").Term(), amps(240), working.Ask, false, "? ≤ 240 A  not known yet"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := working.NewSheet(2020)
			if got := tt.compare(w, tt.left, tt.right); got != tt.want {
				t.Errorf("verdict %s, want %s", got, tt.want)
			}
			if w.Test().Hair != tt.hair {
				t.Errorf("hair is %v, want %v", w.Test().Hair, tt.hair)
			}
			if got := w.Test().String(); got != tt.said {
				t.Errorf("said %q, want %q", got, tt.said)
			}
			near := tt.want
			if tt.hair {
				near = working.Look
			}
			if got := w.NearIsLook(tt.want); got != near {
				t.Errorf("near: %s, want %s", got, near)
			}
		})
	}
}

func TestIs(t *testing.T) {
	for _, tt := range []struct {
		name string
		left working.Term
		want working.Verdict
		said string
	}{
		{"the same", given("copper", "material").Term(), working.OK, "copper"},
		{"another", given("aluminum", "material").Term(), working.Stop, "aluminum; must be copper"},
		{"unknown", unknown[string]("material").Term(), working.Ask, "?"},
	} {
		w := working.NewSheet(2020)
		if got := w.Is(tt.left, "copper"); got != tt.want || w.Test().String() != tt.said {
			t.Errorf("%s: %s, %q; want %s, %q", tt.name, got, w.Test(), tt.want, tt.said)
		}
	}
	w := working.NewSheet(2020)
	if got := w.Is(given(true, "locked").Term(), "yes"); got != working.OK {
		t.Errorf("a yes: %s", got)
	}
}

func TestCell(t *testing.T) {
	source := working.Source{Name: "ampacity", Clauses: working.Clauses{2020: "310.16"}, Mark: "from memory"}
	size := given(quantity.AWG10, "conductor").Term()
	found := func() (quantity.Quantity, working.Source, error) { return quantity.Amps(40), source, nil }

	w := working.NewSheet(2020)
	got := w.Cell("I_90", "ampacity at 90 °C", found, size)
	want := working.Origin{Kind: working.Table, Path: "ampacity", Clause: "310.16", Mark: "from memory"}
	if got.String() != "40 A" || got.From() != want {
		t.Errorf("%v from %+v", got, got.From())
	}

	none := func() (quantity.Quantity, working.Source, error) {
		return nil, source, where.Error{Came: "no 11 AWG", Expected: "10 or 12"}
	}
	got = w.Cell("I_90", "ampacity at 90 °C", none, size)
	if got.Known() || got.Missing()[0] != (working.Missing{Path: "table ampacity", What: "no 11 AWG; expected 10 or 12"}) {
		t.Errorf("a missing cell: %v, %v", got, got.Missing())
	}
	other := w.Cell("I_75", "ampacity at 75 °C", func() (quantity.Quantity, working.Source, error) {
		return nil, source, errors.New("no 75 °C column")
	}, size)
	if both := got.Plus(other).Missing(); len(both) != 2 {
		t.Errorf("two missing cells of one table: %v", both)
	}

	called := false
	got = w.Cell("I_90", "", func() (quantity.Quantity, working.Source, error) { called = true; return found() }, unknown[quantity.Size]("size").Term())
	if called || got.Known() || got.Missing()[0].Path != "size" {
		t.Errorf("looked up by an unknown key: %v, %v", called, got)
	}
}

func TestWorse(t *testing.T) {
	order := []working.Verdict{"", working.OK, working.Look, working.Ask, working.Stop}
	for i, a := range order {
		for j, b := range order {
			if got := working.Worse(a, b); got != order[max(i, j)] {
				t.Errorf("Worse(%q, %q) = %q", a, b, got)
			}
		}
	}
}

func TestSecondName(t *testing.T) {
	w := working.NewSheet(2020)
	a := w.Let("I_a", w.Fact("I", given(quantity.Amps(4), "current")).Times(2))
	b := w.Let("I_b", a)
	step := w.Steps()[2]
	if step.Expr != "I_a" || step.Filled != "8" || b.Sym() != "I_b" {
		t.Errorf("%q = %q", step.Expr, step.Filled)
	}
}

func TestCloseIsLook(t *testing.T) {
	for _, tt := range []struct {
		name string
		volt quantity.Volts
		want working.Verdict
	}{
		{"a volt to spare", 251, working.OK},
		{"less than a volt", 251.1, working.Look},
		{"at the limit", 252, working.Look},
		{"over", 252.1, working.Stop},
	} {
		w := working.NewSheet(2020)
		state := func(v quantity.Volts) working.Term {
			return working.State(v, "", working.Origin{Kind: working.Given}).Term()
		}
		if got := w.CloseIsLook(w.AtMost(state(tt.volt), state(252)), quantity.Volts(1)); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}

package working_test

import (
	"math"
	"slices"
	"testing"

	"legwork/quantity"
	"legwork/working"

	"pgregory.net/rapid"
)

func given[T any](v T, means string) working.Fact[T] {
	return working.State(v, means, working.Origin{Kind: working.Given, Path: means})
}

func unknown[T any](path string) working.Fact[T] {
	return working.Fact[T]{Means: path, Ask: working.Missing{Path: path, What: path + " of the main panel", Find: "label inside the door"}}
}

// named puts facts on a sheet, so that they have symbols.
func named(v quantity.Quantity, sym string) working.Term {
	return working.NewSheet(2020).Fact(sym, working.Of(v, sym, working.Origin{Kind: working.Given}))
}

func TestOperations(t *testing.T) {
	main, bus := named(quantity.Amps(200), "I_main"), named(quantity.Amps(225), "I_bus")
	src := named(quantity.Amps(48), "I_src")
	r := named(quantity.OhmsPerKFt(1.24), "R")
	length := named(quantity.Feet(45), "L")
	current := named(quantity.Amps(9.94), "I")
	nominal := named(quantity.Volts(240), "U")
	rise := named(quantity.Volts(2.03), "U_rise")
	frost := named(quantity.Celsius(-12), "T")
	num := working.Num
	tests := []struct {
		name         string
		term         working.Term
		value        float64 // by hand
		unit         quantity.Unit
		expr, filled string
	}{
		{"main plus 125 %", main.Plus(src.Times(1.25)), 260, "A", "I_main + 1.25 × I_src", "200 + 1.25 × 48"},
		{"sum in a product", main.Plus(src).Times(1.25), 310, "A", "1.25 × (I_main + I_src)", "1.25 × (200 + 48)"},
		{"difference of a sum", bus.Minus(main.Plus(src)), -23, "A", "I_bus − (I_main + I_src)", "225 − (200 + 48)"},
		{"sum of a difference", bus.Minus(main).Plus(src), 73, "A", "I_bus − I_main + I_src", "225 − 200 + 48"},
		{"difference of a difference", bus.Minus(main.Minus(src)), 73, "A", "I_bus − (I_main − I_src)", "225 − (200 − 48)"},
		{"quotient of a quotient", bus.Over(num(2).Over(num(4))), 450, "A", "I_bus / (2 / 4)", "225 / (2 / 4)"},
		{"quotient of a product", num(3).By(main).Over(num(4)), 150, "A", "3 × I_main / 4", "3 × 200 / 4"},
		{"resistance of a run", r.By(length), 0.0558, "Ω", "R × L / 1000", "1.24 × 45 / 1000"},
		{"length first", length.By(r), 0.0558, "Ω", "L × R / 1000", "45 × 1.24 / 1000"},
		// 9.94 × 2 × 1.24 × 45 / 1000 = 1.109304 V: home run of scenario S1, 1.11 V
		{"rise of the home run", current.By(r.By(length).Times(2)), 1.109304, "V", "I × 2 × R × L / 1000", "9.94 × 2 × 1.24 × 45 / 1000"},
		{"volt-amperes", nominal.By(current), 2385.6, "VA", "U × I", "240 × 9.94"},
		{"amps by ohms", current.By(named(quantity.Ohms(0.5), "Z")), 4.97, "V", "I × Z", "9.94 × 0.5"},
		{"ratio", main.Over(bus), 200.0 / 225, "", "I_main / I_bus", "200 / 225"},
		{"percent", rise.PercentOf(nominal), 2.03 / 240 * 100, "%", "U_rise / U × 100 %", "2.03 / 240 × 100 %"},
		{"floor", num(17).Over(num(4)).Floor(), 4, "", "floor(17 / 4)", "floor(17 / 4)"},
		{"floor of dust below a whole", num(0.3).Over(num(0.1)).Floor(), 3, "", "floor(0.3 / 0.1)", "floor(0.3 / 0.1)"},
		{"least", working.Least(main, bus, src), 48, "A", "min(I_main, I_bus, I_src)", "min(200, 225, 48)"},
		{"greatest", working.Greatest(src, main, bus), 225, "A", "max(I_src, I_main, I_bus)", "max(48, 200, 225)"},
		{"least in a product", working.Least(main, bus).Times(1.25), 250, "A", "1.25 × min(I_main, I_bus)", "1.25 × min(200, 225)"},
		{"frost taken off", named(quantity.Celsius(25), "T_25").Minus(frost), 37, "°C", "T_25 − T", "25 − (-12)"},
		{"sum of many", working.Sum("A", main, src, current), 257.94, "A", "I_main + I_src + I", "200 + 48 + 9.94"},
		{"sum of none", working.Sum("A"), 0, "A", "0", "0"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := working.NewSheet(2020)
			got := w.Let("x", tt.term, "the answer")
			step := w.Steps()[0]
			if quantity.Compare(got.Float(), tt.value) != 0 || got.Unit() != tt.unit {
				t.Errorf("%v %s, want %v %s", got.Float(), got.Unit(), tt.value, tt.unit)
			}
			if step.Expr != tt.expr || step.Filled != tt.filled {
				t.Errorf("%q = %q\nwant %q = %q", step.Expr, step.Filled, tt.expr, tt.filled)
			}
			if got.From().Kind != working.Computed || got.Means() != "the answer" || got.Sym() != "x" {
				t.Errorf("%+v", got)
			}
		})
	}
}

func TestWrongUnitsPanic(t *testing.T) {
	a, v := named(quantity.Amps(1), "I"), named(quantity.Volts(1), "U")
	for name, f := range map[string]func(){
		"amps plus volts":   func() { a.Plus(v) },
		"amps less volts":   func() { a.Minus(v) },
		"amps over volts":   func() { a.Over(v) },
		"amps by amps":      func() { a.By(a) },
		"least":             func() { working.Least(a, v) },
		"percent":           func() { a.PercentOf(v) },
		"compare":           func() { working.NewSheet(2020).AtMost(a, v) },
		"compare no number": func() { working.NewSheet(2020).AtMost(named(quantity.Amps(math.NaN()), "I"), a) },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("no panic")
				}
			}()
			f()
		})
	}
}

// TestUnknownSpreads drives an unknown, with and without a unit, through every
// operation.
func TestUnknownSpreads(t *testing.T) {
	a, plain := named(quantity.Amps(3), "I"), working.Num(2)
	fact := unknown[quantity.Amps]("busbar").Term()
	never := working.NewSheet(2020).Cell("R", "a cell", nil, unknown[quantity.Size]("size").Term())
	for name, u := range map[string]working.Term{"a fact": fact, "a cell never looked up": never} {
		for op, r := range map[string]working.Term{
			"plus": u.Plus(a), "plus, right": a.Plus(u), "minus": u.Minus(a), "minus, right": a.Minus(u),
			"times": u.Times(2), "by": u.By(plain), "by, right": plain.By(u), "by amps": u.By(named(quantity.Ohms(1), "Z")),
			"by a length, then amps": u.By(named(quantity.Feet(4), "L")).By(a), "over": u.Over(a), "over, right": a.Over(u),
			"percent": u.PercentOf(a), "percent, right": a.PercentOf(u), "floor": u.Floor(),
			"least": working.Least(a, u), "least, first": working.Least(u, a), "greatest": working.Greatest(a, u),
			"sum": working.Sum("A", a, u), "needs": a.Needs(u),
		} {
			if r.Known() || !math.IsNaN(r.Float()) || r.String() != "?" {
				t.Errorf("%s of %s is known: %v", op, name, r)
			}
			if !slices.Equal(r.Missing(), u.Missing()) {
				t.Errorf("%s of %s asks for %v, want %v", op, name, r.Missing(), u.Missing())
			}
		}
	}
	w := working.NewSheet(2020)
	if got := w.AtMost(never, a); got != working.Ask || w.Test().Spare() != "not known yet" {
		t.Errorf("%s, %s", got, w.Test().Spare())
	}
}

func TestMissingOnce(t *testing.T) {
	w := working.NewSheet(2020)
	bus := w.Fact("I_bus", unknown[quantity.Amps]("busbar"))
	main := w.Fact("I_main", unknown[quantity.Amps]("main"))
	limit := w.Let("I_max", bus.Times(1.2))
	if got := w.AtMost(w.Let("x", bus.Plus(main).Plus(bus)), limit); got != working.Ask {
		t.Errorf("verdict %s, want ask", got)
	}
	var paths []string
	for _, m := range w.Missing() {
		paths = append(paths, m.Path)
	}
	if want := []string{"busbar", "main"}; !slices.Equal(paths, want) {
		t.Errorf("missing %v, want %v", paths, want)
	}
	if got := w.Steps()[3]; got.Filled != "? + ? + ?" || got.Result.String() != "?" {
		t.Errorf("shown as %q = %s", got.Filled, got.Result)
	}
}

func TestOverZeroAsks(t *testing.T) {
	r := named(quantity.Volts(2), "U").PercentOf(given(quantity.Volts(0), "nominal").Term())
	if r.Known() || len(r.Missing()) != 1 || r.Missing()[0] != (working.Missing{Path: "nominal", What: "nominal, other than zero"}) {
		t.Errorf("%v, missing %v", r, r.Missing())
	}
}

// TestOneFormulaShownAndDone: the filled expression of a random sum of products
// gives the value that was computed.
func TestOneFormulaShownAndDone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var want float64
		sum := working.Sum("A")
		for range rapid.IntRange(0, 5).Draw(t, "terms") {
			amps := float64(rapid.IntRange(1, 400).Draw(t, "amps"))
			factor := float64(rapid.IntRange(1, 400).Draw(t, "hundredths")) / 100
			want += amps * factor
			sum = sum.Plus(named(quantity.Amps(amps), "I").Times(factor))
		}
		if quantity.Compare(sum.Float(), want) != 0 {
			t.Fatalf("%v, want %v", sum.Float(), want)
		}
	})
}

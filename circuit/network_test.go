package circuit_test

import (
	"math"
	"strings"
	"testing"

	"legwork/circuit"
	"legwork/quantity"
	"legwork/tables"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.6g, by hand %.6g", what, got, want)
	}
}

// A lost share of the neutral's balance, by hand: 12 A on L1 to neutral through
// 0.1 Ω a conductor. L1-N is 120 − 12 × 0.2 = 117.6 V, L2-N is 120 + 12 × 0.1 =
// 121.2 V, the neutral has moved half their difference, 1.8 V; 28.8 W heat wire.
func TestOneLegLoaded(t *testing.T) {
	n := &circuit.Network{Nominal: 240, Volts: 240, Source: "service",
		Sections: []circuit.Section{{ID: "feeder", From: "SP", To: "service", Strands: []circuit.Strand{
			{Conductor: circuit.L1, Ohms: 0.1}, {Conductor: circuit.L2, Ohms: 0.1}, {Conductor: circuit.N, Ohms: 0.1}}}},
		Loads: []circuit.Load{{ID: "heater", Node: "SP", Across: circuit.Pair{circuit.L1, circuit.N}, Power: 1440, Draws: circuit.ConstantCurrent}}}
	s, err := n.Solve()
	if err != nil {
		t.Fatal(err)
	}
	sp := s.Node("SP")
	near(t, "L1-N", sp.Volts(circuit.Pair{circuit.L1, circuit.N}).Float(), 117.6, 1e-9)
	near(t, "L2-N", sp.Volts(circuit.Pair{circuit.L2, circuit.N}).Float(), 121.2, 1e-9)
	near(t, "neutral shift", sp.NeutralShift().Float(), 1.8, 1e-9)
	near(t, "lost", real(s.Lost), 28.8, 1e-9)
	near(t, "drop of the feeder", s.Section("feeder").Rise(circuit.L1L2).Float(), -1.2, 1e-9)
}

// One unit of 2400 W behind 0.5 Ω a leg on 240 V, by hand: V² − 240·V − 2400 = 0,
// V = 120 + √(14400 + 2400) = 249.6148 V; I = 9.6148 A, lost I² × 1 Ω = 92.445 W,
// 3.8519 % of its power.
func TestConstantPowerByHand(t *testing.T) {
	n := splitPhase(240)
	n.Sections = []circuit.Section{{ID: "home", From: "unit", To: "service",
		Strands: []circuit.Strand{{Conductor: circuit.L1, Ohms: 0.5}, {Conductor: circuit.L2, Ohms: 0.5}}}}
	n.Units = []circuit.Unit{{ID: "unit", Node: "unit", Across: circuit.L1L2, Power: 2400}}
	s, err := n.Solve()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "voltage", s.Unit("unit").Volts.Float(), 120+math.Sqrt(16800), 1e-6)
	near(t, "lost", real(s.Lost), 92.4447, 1e-3)
	near(t, "share lost", s.LossShare().Float(), 0.038519, 1e-6)
	one, err := n.OneLine("service")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "one-line formula", one.Units["unit"].Float(), 10, 1e-12) // 10 A × 1 Ω

	// Half power for as long, by hand: V = 120 + √(14400 + 1200) = 244.8999 V,
	// I = 4.89996 A, lost 24.0095 W; (92.4447 + 24.0095) / 3600 = 3.23484 %.
	share, err := n.EnergyLost([]circuit.Level{{Power: 1, Hours: 3}, {Power: 0.5, Hours: 3}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "energy lost", share.Float(), 0.0323484, 1e-6)
}

// Three pairs alike on 208Y/120: in each leg flow √3 times a pair's current, and
// leg to leg that makes √3·√3 = 3 times it in one conductor. By hand with 10 A a
// pair and 0.1 Ω a leg: 3 V by the formula.
func TestThreeLegsOneLine(t *testing.T) {
	n := wye(208)
	n.Sections = []circuit.Section{{ID: "out", From: "CB", To: "service", Strands: []circuit.Strand{
		{Conductor: circuit.L1, Ohms: 0.1}, {Conductor: circuit.L2, Ohms: 0.1}, {Conductor: circuit.L3, Ohms: 0.1}}}}
	for _, p := range circuit.Wye.Legs() {
		n.Units = append(n.Units, circuit.Unit{ID: p.String(), Node: "CB", Across: p, Power: 2080})
	}
	one, err := n.OneLine("service")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "one-line formula", one.Units["L1-L2"].Float(), 3, 1e-9)
	s, err := n.Solve()
	if err != nil {
		t.Fatal(err)
	}
	// Exact by hand, one leg against neutral: u = 208/√3, u·(u−e)/r = 2080 W.
	near(t, "exact", s.Rise("CB", "service", circuit.L1L2).Float(), (208+math.Sqrt(208*208+4*3*208))/2-208, 1e-6)
}

// By hand: 1.24 × (1 + 0.00323 × (30 − 75)) = 1.05977 Ω/kft.
func TestResistanceAt(t *testing.T) {
	r, err := circuit.ResistanceAt(1.24, tables.Copper, 30)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "10 AWG copper at 30 °C", r.Float(), 1.059766, 1e-6)
	// 0.508 × (1 + 0.0033 × (50 − 75)) = 0.46609.
	if r, err = circuit.ResistanceAt(0.508, tables.Aluminum, 50); err != nil {
		t.Fatal(err)
	}
	near(t, "4 AWG aluminum at 50 °C", r.Float(), 0.46609, 1e-6)
	if _, err = circuit.ResistanceAt(1, "silver", 20); err == nil {
		t.Error("silver has no row and gave no error")
	}
	z, err := circuit.Basis{Temperature: 75, Reactance: true}.Impedance(key("6"), tables.Copper, tables.InSteel, 250)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "resistance of 250 ft of 6 AWG", real(z), 0.491*0.25, 1e-12)
	near(t, "reactance of 250 ft of 6 AWG in steel", imag(z), 0.064*0.25, 1e-12)
}

func TestInjection(t *testing.T) {
	s, err := circuit.Injection(400, -0.8)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "watts", real(s), 320, 1e-9)
	near(t, "vars absorbed", imag(s), -240, 1e-9)
	for _, pf := range []quantity.Ratio{0, 1.01, -2, quantity.Ratio(math.NaN())} {
		if _, err := circuit.Injection(400, pf); err == nil {
			t.Errorf("power factor %g gave no error", pf)
		}
	}
}

func TestRefused(t *testing.T) {
	const cu = tables.Copper
	base := func() *plot { return splitPhase(240).run("feeder", "SP", "service", "6", cu, "", 50) }
	for name, c := range map[string]struct {
		net  *plot
		says string
	}{
		"loop":                  {base().run("again", "SP", "service", "6", cu, "", 50), "a second time"},
		"no way to the source":  {base().run("island", "XP", "YP", "6", cu, "", 50), "no way from YP"},
		"neutral not brought":   {base().load("lamp", "SP", circuit.L1, circuit.N, 100, circuit.ConstantPower), "L1-N is not at SP"},
		"neutral from nowhere":  {base().run("far", "XP", "SP", "6", cu, "6", 50), "N is not at SP"},
		"no such node":          {base().load("lamp", "XP", circuit.L1, circuit.L2, 100, circuit.ConstantPower), "no node XP"},
		"more than wire can do": {base().load("furnace", "SP", circuit.L1, circuit.L2, 1e6, circuit.ConstantPower), "no solution"},
		"no voltage":            {splitPhase(0), "above zero"},
	} {
		_, err := c.net.Solve()
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, expected %q", name, err, c.says)
		}
	}
	for name, curve := range map[string]circuit.VoltWatt{
		"rises":      {{1.06, 0.5}, {1.10, 1}},
		"goes back":  {{1.06, 1}, {1.05, 0.2}},
		"over rated": {{1.06, 1.2}},
	} {
		n := splitPhase(240).branch("A", "service", circuit.L1L2, 10, 341, []int{1}, nil)
		if _, err := n.Curtail(240, curve); err == nil {
			t.Errorf("a curve that %s gave no error", name)
		}
	}
}

// By hand: 240.0 V with nothing and 241.2 V with 20 A sent out give 0.06 Ω, off
// by 0.1 V / 20 A = 0.005 Ω; open 240 V.
func TestEstimateUpstream(t *testing.T) {
	e, err := circuit.EstimateUpstream(circuit.Reading{Volts: 241.2, Export: 20}, circuit.Reading{Volts: 240, Export: 0}, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "loop", e.Loop.Float(), 0.06, 1e-9)
	near(t, "off by", e.Off.Float(), 0.005, 1e-12)
	near(t, "open", e.Open.Float(), 240, 1e-9)
	for name, c := range map[string][2]circuit.Reading{
		"same current":           {{Volts: 240, Export: 5}, {Volts: 241, Export: 5}},
		"too close for meter":    {{Volts: 240, Export: 5}, {Volts: 240.1, Export: 6}},
		"voltage falls by more":  {{Volts: 242, Export: 0}, {Volts: 240, Export: 20}},
		"no voltage in one hand": {{Volts: 0, Export: 0}, {Volts: 240, Export: 20}},
	} {
		if _, err := circuit.EstimateUpstream(c[0], c[1], 0.1); err == nil {
			t.Errorf("%s: no error", name)
		}
	}

	// A plant behind a known resistance, read twice, gives it back.
	n := splitPhase(243).behind(circuit.Upstream{Leg: 0.03, Neutral: 0.03}).branch("A", "service", circuit.L1L2, 40, 341, []int{10}, nil)
	on, err1 := n.Solve()
	off, err2 := n.WithUnits(func(u circuit.Unit) circuit.Unit { u.Power = 0; return u }).Solve()
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	read := func(s *circuit.Solution) circuit.Reading {
		return circuit.Reading{Volts: s.Node("service").Volts(circuit.L1L2), Export: quantity.Amps(-real(s.Section("transformer").Current[circuit.L1]))}
	}
	e, err = circuit.EstimateUpstream(read(on), read(off), 0.001)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "loop of the plant", e.Loop.Float(), 0.06, 1e-6)
}

// 25 kVA, 2 %, X/R 1 at 240 V, by hand: 240²/25000 × 0.02 = 0.04608 Ω. A short
// between the legs draws 240/0.04608 = 5208 A, one to neutral 1.5 times that.
func TestTransformerShorts(t *testing.T) {
	up, err := circuit.Transformer{Rated: 25000, Impedance: 2, XR: 1}.Upstream(circuit.SplitPhase, 240)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		across circuit.Pair
		volts  float64
		want   float64
	}{
		{"between the legs", circuit.L1L2, 240, 240 / 0.04608},
		{"leg to neutral", circuit.Pair{circuit.L2, circuit.N}, 120, 1.5 * 240 / 0.04608},
	} {
		n := splitPhase(240).behind(up)
		// A short of 1e-7 Ω, written as the power that it takes at nominal.
		n.load("short", "service", c.across[0], c.across[1], complex(c.volts*c.volts/1e-7, 0), circuit.ConstantImpedance)
		s, err := n.Solve()
		if err != nil {
			t.Fatal(err)
		}
		i := s.Section("transformer").Current[c.across[0]]
		near(t, c.name, math.Hypot(real(i), imag(i)), c.want, c.want*1e-5)
	}
	if _, err := (circuit.Transformer{Rated: 25000}).Upstream(circuit.SplitPhase, 240); err == nil {
		t.Error("a transformer without impedance gave no error")
	}
}

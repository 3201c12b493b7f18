package circuit_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"legwork/circuit"
	"legwork/quantity"
	"legwork/tables"

	"pgregory.net/rapid"
)

// sizes of the home run and feeder, from thin to thick.
var thicker = []string{"12", "10", "8", "6", "4", "2", "1/0"}

// anyPlant draws a plant: feeder of a size, branches, loads on either leg, on
// either service, cold or hot, with or without reactance.
func anyPlant(rt *rapid.T, feeder string) *plot {
	p := splitPhase(quantity.Volts(rapid.Float64Range(228, 252).Draw(rt, "service voltage")))
	pairs := []circuit.Pair{circuit.L1L2}
	if rapid.Bool().Draw(rt, "208Y") {
		p, pairs = wye(quantity.Volts(rapid.Float64Range(197, 218).Draw(rt, "service voltage"))), circuit.Wye.Legs()
	}
	p.basis = circuit.Basis{
		Temperature: quantity.Celsius(rapid.Float64Range(-20, 90).Draw(rt, "conductor temperature")),
		Reactance:   rapid.Bool().Draw(rt, "reactance"),
	}
	p.run("feeder", "SP", "service", feeder, tables.Copper, feeder, rapid.Float64Range(1, 120).Draw(rt, "feeder length"))
	for i := range rapid.IntRange(1, 3).Draw(rt, "branches") {
		arms := []int{rapid.IntRange(1, 6).Draw(rt, "long arm")}
		if rapid.Bool().Draw(rt, "center-fed") {
			arms = append(arms, rapid.IntRange(1, arms[0]).Draw(rt, "short arm"))
		}
		p.branch(fmt.Sprintf("B%d", i), "SP", rapid.SampledFrom(pairs).Draw(rt, "pair"),
			rapid.Float64Range(1, 90).Draw(rt, "home run"), complex(rapid.Float64Range(200, 400).Draw(rt, "VA"), 0), arms, nil)
	}
	return p
}

func anyLoads(rt *rapid.T, p *plot) {
	ends := p.System.Conductors()
	for i := range rapid.IntRange(0, 4).Draw(rt, "loads") {
		a := rapid.IntRange(0, len(ends)-2).Draw(rt, "from")
		b := rapid.IntRange(a+1, len(ends)-1).Draw(rt, "to")
		p.load(fmt.Sprint("load ", i), rapid.SampledFrom([]string{"service", "SP"}).Draw(rt, "bus"), ends[a], ends[b],
			complex(rapid.Float64Range(0, 1500).Draw(rt, "W"), rapid.Float64Range(-500, 800).Draw(rt, "var")),
			rapid.SampledFrom([]circuit.Draw{circuit.ConstantPower, circuit.ConstantCurrent, circuit.ConstantImpedance}).Draw(rt, "keeps"))
	}
}

func TestPowerSumsToZero(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := anyPlant(rt, rapid.SampledFrom(thicker[1:]).Draw(rt, "feeder"))
		anyLoads(rt, p)
		n := &p.Network
		if rapid.Bool().Draw(rt, "volt-watt") {
			n = n.WithUnits(func(u circuit.Unit) circuit.Unit { u.Curve = circuit.DefaultVoltWatt(); return u })
		}
		s, err := n.Solve()
		if err != nil {
			rt.Fatal(err)
		}
		open := s.Generated + s.Delivered - s.Consumed - s.Lost
		if cmplx.Abs(open) > 1e-5 {
			rt.Fatalf("sent %v + delivered %v − consumed %v − lost %v leaves %v VA", s.Generated, s.Delivered, s.Consumed, s.Lost, open)
		}
		if real(s.Lost) < 0 {
			rt.Fatalf("wires of copper give %v W", real(s.Lost))
		}
	})
}

func TestThickerWireNeverRaisesTheRise(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		k := rapid.IntRange(0, len(thicker)-2).Draw(rt, "size")
		p := anyPlant(rt, thicker[k])
		p.basis.Reactance = false
		q := *p
		q.Sections = append([]circuit.Section(nil), p.Sections...)
		feeder := &q.Sections[0]
		feeder.Strands = append([]circuit.Strand(nil), feeder.Strands...)
		thin := q.ohms(thicker[k], tables.Copper, 1)
		thick := q.ohms(thicker[k+1], tables.Copper, 1)
		for i := range feeder.Strands {
			feeder.Strands[i].Ohms *= complex(real(thick)/real(thin), 0)
		}
		before, err1 := p.Solve()
		after, err2 := q.Solve()
		if err1 != nil || err2 != nil {
			rt.Fatal(err1, err2)
		}
		for i, u := range before.Units {
			if after.Units[i].Volts > u.Volts+1e-6 {
				rt.Fatalf("%s: %.6f V with %s AWG, %.6f V with %s AWG", u.Unit.ID, u.Volts, thicker[k], after.Units[i].Volts, thicker[k+1])
			}
		}
		one, err1 := p.OneLine("service")
		other, err2 := q.OneLine("service")
		if err1 != nil || err2 != nil {
			rt.Fatal(err1, err2)
		}
		for id, v := range other.Units {
			if v > one.Units[id]+1e-9 {
				rt.Fatalf("%s: the formula rises with thicker wire", id)
			}
		}
	})
}

// Units between the legs, and loads alike on every leg, leave nothing for the
// neutral.
func TestSymmetryMovesNoNeutral(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := splitPhase(240)
		pairs := []circuit.Pair{circuit.L1L2}
		if rapid.Bool().Draw(rt, "208Y") {
			p, pairs = wye(208), circuit.Wye.Legs()
		}
		p.run("feeder", "SP", "service", "4", tables.Copper, "8", rapid.Float64Range(1, 150).Draw(rt, "feeder length"))
		units := rapid.IntRange(1, 8).Draw(rt, "units")
		for i, pair := range pairs {
			p.branch(fmt.Sprint("B", i), "SP", pair, 40, 341, []int{units}, nil)
		}
		w := complex(rapid.Float64Range(0, 3000).Draw(rt, "W"), rapid.Float64Range(0, 1000).Draw(rt, "var"))
		for _, c := range p.System.Conductors() {
			if c != circuit.N {
				p.load(c.String(), "SP", c, circuit.N, w, circuit.ConstantPower)
			}
		}
		s, err := p.Solve()
		if err != nil {
			rt.Fatal(err)
		}
		if v := s.Node("SP").NeutralShift(); !(v < 1e-6) {
			rt.Fatalf("the neutral moved %g V", v)
		}
	})
}

// A curve never gives more power than none, and a higher service voltage never
// gives more than a lower one.
func TestVoltWattOnlyTakesAway(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := anyPlant(rt, rapid.SampledFrom(thicker).Draw(rt, "feeder"))
		low := p.Nominal * quantity.Volts(rapid.Float64Range(1, 1.12).Draw(rt, "low"))
		high := low + quantity.Volts(rapid.Float64Range(0, 10).Draw(rt, "more"))
		a, err1 := p.Curtail(low, circuit.DefaultVoltWatt())
		b, err2 := p.Curtail(high, circuit.DefaultVoltWatt())
		if err1 != nil || err2 != nil {
			rt.Fatal(err1, err2)
		}
		if a.Share > 1 || b.Share > a.Share+1e-7 || b.Share < 0.2-1e-9 {
			rt.Fatalf("%.6f at %.3f V, %.6f at %.3f V", a.Share, low, b.Share, high)
		}
		for _, u := range a.Solution.Units {
			if want := droop(u.Volts.Float() / p.Nominal.Float()); math.Abs(u.Share.Float()-want) > 1e-6 {
				rt.Fatalf("%s: %.7f at %.4f V, the curve says %.7f", u.Unit.ID, u.Share, u.Volts, want)
			}
		}
	})
}

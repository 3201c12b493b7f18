package ctproof

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"legwork/meter"
	"legwork/quantity"

	"pgregory.net/rapid"
)

func prove(t interface{ Fatal(...any) }, s Site, states []State) Answer {
	p := New(s)
	for _, st := range states {
		if err := p.Add(st); err != nil {
			t.Fatal(err)
		}
	}
	return p.Answer()
}

// legs are the powers of a house, whose readings are worked by the sums of CT.md section 2, from
// leg powers: no code of package meter.
type legs struct{ h1, h2, heat1, heat2, pv float64 }

// wrongs are mistakes by their readings on 120/240 V: channels from the legs' net
// powers S1 and S2, as the reference's table has them.
var wrongs = []struct {
	name string
	read func(l legs) (g1, g2 float64)
}{
	{"ok", func(l legs) (float64, float64) { return l.s1(), l.s2() }},
	{"g1_reversed", func(l legs) (float64, float64) { return -l.s1(), l.s2() }},
	{"g2_reversed", func(l legs) (float64, float64) { return l.s1(), -l.s2() }},
	{"both_reversed", func(l legs) (float64, float64) { return -l.s1(), -l.s2() }},
	{"cts_swapped", func(l legs) (float64, float64) { return -l.s2(), -l.s1() }},
	{"both_on_L1", func(l legs) (float64, float64) { return l.s1(), -l.s1() }},
	{"load_side", func(l legs) (float64, float64) { return l.s1() + l.pv/2, l.s2() + l.pv/2 }},
	{"ratio_half_both", func(l legs) (float64, float64) { return l.s1() / 2, l.s2() / 2 }},
}

func (l legs) s1() float64 { return l.h1 + l.heat1 - l.pv/2 }
func (l legs) s2() float64 { return l.h2 + l.heat2 - l.pv/2 }

// visit lists the states S0, S1, S2, B1 of a house; steady adds to the loads.
func visit(r *rand.Rand, wrong int, h1, h2 float64) []State {
	var out []State
	for i, code := range []string{"S0", "S1", "S2", "B1"} {
		l := legs{h1: h1 + 15*r.NormFloat64(), h2: h2 + 15*r.NormFloat64()}
		st := State{Reading: meter.Reading{State: code}}
		v1, v2 := 121., 120.6
		switch i {
		case 1:
			st.L1 = Known{1500, meter.Value[meter.Vars]{Known: true}}
			l.heat1, v1, v2 = 1520, v1-.7, v2+.4
		case 2:
			st.L2 = Known{1500, meter.Value[meter.Vars]{Known: true}}
			l.heat2, v1, v2 = 1480, v1+.4, v2-.7
		case 3:
			st.On, l.pv = []int{1}, 2000
			st.Expected = []meter.Value[quantity.Watts]{{Value: 2100, Known: true}}
		}
		g1, g2 := wrongs[wrong].read(l)
		n := func() float64 { return 2 * r.NormFloat64() }
		st.Channels = []meter.Channel{shown("G1", v1, math.Round(g1+n()), 0), shown("G2", v2, math.Round(g2+n()), 0),
			shown("P1", v1, math.Round(l.pv/2+n()), 0), shown("P2", v2, math.Round(l.pv/2+n()), 0)}
		out = append(out, st)
	}
	return out
}

var oneBranch = Site{System: meter.Split, Windows: 2, Branches: 1, Sky: Clear}

func TestMistakesWorkedByHand(t *testing.T) {
	for i, w := range wrongs {
		t.Run(w.name, func(t *testing.T) {
			states := visit(rand.New(rand.NewPCG(1, uint64(i))), i, 500, 300)
			if w.name == "load_side" { // then only the inverters can tell the ratio of production
				a := prove(t, oneBranch, states)
				if a.Production.Verdict == Settled {
					t.Error("production settled though nothing but the sun measures it")
				}
				states[3].InverterSum = meter.Value[quantity.Watts]{Value: 1990, Known: true}
			}
			a := prove(t, oneBranch, states)
			if a.Grid.Verdict != Settled || !slices.Contains(a.Grid.Classes[0].Faults, w.name) {
				t.Errorf("%s at %.3f: %v", a.Grid.Verdict, a.Grid.Classes[0].P, a.Grid.Classes[0].Faults)
			}
			if a.Production.Verdict != Settled || a.Production.Classes[0].Faults[0] != "ok" {
				t.Errorf("production: %s %v", a.Production.Verdict, a.Production.Classes[0].Faults)
			}
		})
	}
}

// mirror exchanges the names of the legs in all that was told and read.
func mirror(states []State) []State {
	var out []State
	for _, s := range states {
		m := s
		m.L1, m.L2 = s.L2, s.L1
		m.Channels = nil
		for _, c := range s.Channels {
			c.ID = strings.NewReplacer("1", "2", "2", "1").Replace(c.ID)
			m.Channels = append(m.Channels, c)
		}
		out = append(out, m)
	}
	return out
}

// same says that two answers have one verdict and one class on top.
func same(t *rapid.T, what string, a, b Side, mirrored bool) {
	if a.Verdict != b.Verdict {
		t.Fatalf("%s: %s became %s", what, a.Verdict, b.Verdict)
	}
	if mirrored { // compare responses channel by channel, legs exchanged
		x, y := a.Classes[0].Response, b.Classes[0].Response
		for _, p := range [][2]string{{"G1", "G2"}, {"P1", "P2"}} {
			for _, q := range [][2]string{{"L1", "L2"}, {"L2", "L1"}, {"L12", "L12"}} {
				if d := complex128(x[p[0]][q[0]] - y[p[1]][q[1]]); math.Hypot(real(d), imag(d)) > 1e-9 {
					t.Fatalf("%s: %v became %v", what, a.Classes[0].Faults, b.Classes[0].Faults)
				}
			}
		}
		return
	}
	if !slices.Equal(a.Classes[0].Faults[:1], b.Classes[0].Faults[:1]) {
		t.Fatalf("%s: %v became %v", what, a.Classes[0].Faults, b.Classes[0].Faults)
	}
}

// Names of legs, the order of states and a load that is always on change nothing.
func TestWhatMustNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wrong := rapid.IntRange(0, len(wrongs)-1).Draw(t, "mistake")
		seed := rapid.Uint64().Draw(t, "noise")
		h1 := rapid.Float64Range(200, 900).Draw(t, "house L1")
		h2 := rapid.Float64Range(200, 900).Draw(t, "house L2")
		more := rapid.Float64Range(0, 600).Draw(t, "constant load")
		states := visit(rand.New(rand.NewPCG(seed, 0)), wrong, h1, h2)
		a := prove(t, oneBranch, states)
		if a.Grid.Verdict != Settled || a.Grid.Classes[0].P < .999 {
			return // a case on the edge may fall to either side
		}
		b := prove(t, oneBranch, mirror(states))
		same(t, "legs renamed", a.Grid, b.Grid, true)
		same(t, "legs renamed", a.Production, b.Production, true)
		order := rapid.Permutation([]int{0, 1, 2, 3}).Draw(t, "order")
		var shuffled []State
		for _, i := range order {
			shuffled = append(shuffled, states[i])
		}
		c := prove(t, oneBranch, shuffled)
		if c.Refused == nil {
			same(t, "states in another order", a.Grid, c.Grid, false)
		}
		d := prove(t, oneBranch, visit(rand.New(rand.NewPCG(seed, 0)), wrong, h1+more, h2+more))
		same(t, "a load always on", a.Grid, d.Grid, false)
	})
}

func TestProbabilities(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wrong := rapid.IntRange(0, len(wrongs)-1).Draw(t, "mistake")
		n := rapid.IntRange(1, 4).Draw(t, "states")
		a := prove(t, oneBranch, visit(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "noise"), 0)), wrong, 500, 300)[:n])
		for _, s := range []Side{a.Grid, a.Production} {
			sum, last := 0., 1.
			for _, c := range s.Classes {
				if c.P > last || len(c.Faults) == 0 || len(c.Cures) == 0 {
					t.Fatalf("class %+v after %v", c, last)
				}
				sum, last = sum+c.P, c.P
			}
			if sum > 1+1e-5 || len(s.Classes) == 0 || len(s.Classes) > 8 {
				t.Fatalf("%d classes, sum %v", len(s.Classes), sum)
			}
			if s.Verdict == Settled && s.Classes[0].P < .9 {
				t.Fatalf("settled at %v", s.Classes[0].P)
			}
			if s.Verdict == Open && a.Next == nil {
				t.Fatal("open without a next state")
			}
		}
	})
}

// Noise around zero tells nothing: no side settles, and a state with PV on in which
// nothing moved is refused.
func TestPureNoiseTellsNothing(t *testing.T) {
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 9))
		noise := func(code string, on ...int) State {
			st := State{Reading: meter.Reading{State: code}, On: on}
			for _, id := range []string{"G1", "G2", "P1", "P2"} {
				st.Channels = append(st.Channels, shown(id, 120.5+.1*r.NormFloat64(), math.Round(4*r.NormFloat64()), math.Round(5*r.NormFloat64())))
			}
			return st
		}
		a := prove(t, oneBranch, []State{noise("S0"), noise("S0"), noise("B1", 1)})
		if a.Grid.Verdict != Open || a.Production.Verdict != Open || a.Next == nil {
			t.Errorf("noise %d: grid %s %v at %.3f, production %s", seed, a.Grid.Verdict, a.Grid.Classes[0].Faults, a.Grid.Classes[0].P, a.Production.Verdict)
		}
		if len(a.Refused) != 1 {
			t.Errorf("noise %d: refused %v, want the state B1", seed, a.Refused)
		}
	}
}

func TestReadingInTheDelayIsRefused(t *testing.T) {
	states := visit(rand.New(rand.NewPCG(3, 3)), 0, 500, 300)
	before := prove(t, oneBranch, states[:3])
	early := states[3]
	early.Waited = meter.Value[quantity.Seconds]{Value: 299, Known: true}
	a := prove(t, oneBranch, append(states[:3:3], early))
	if len(a.Refused) != 1 || a.Refused[0].State != "B1" || a.Grid.Classes[0].P != before.Grid.Classes[0].P {
		t.Errorf("299 s after closing: refused %v, %.4f became %.4f", a.Refused, before.Grid.Classes[0].P, a.Grid.Classes[0].P)
	}
	early.Waited.Value = EnterService
	if a := prove(t, oneBranch, append(states[:3:3], early)); len(a.Refused) != 0 {
		t.Errorf("300 s after closing: refused %v", a.Refused)
	}
}

// Readings that no wiring gives: channel 1 doubles, then falls to a third, under
// the same load; production makes watts at night that grow.
func TestContradictionIsNamed(t *testing.T) {
	states := visit(rand.New(rand.NewPCG(4, 4)), 0, 500, 300)
	for i, x := range []float64{0, -7000, 5200, 0} {
		states[i].Channels[0].W.Value += quantity.Watts(x)
		states[i].Channels[1].VAR.Value += meter.Vars(4 * x)
		states[i].Channels[2].W.Value += quantity.Watts(2 * x)
		states[i].Channels[3].VAR.Value -= meter.Vars(x)
	}
	a := prove(t, oneBranch, states)
	if a.Grid.Verdict != Contradiction || a.Production.Verdict != Contradiction {
		t.Errorf("grid %s %v, production %s %v", a.Grid.Verdict, a.Grid.Classes[0].Faults, a.Production.Verdict, a.Production.Classes[0].Faults)
	}
}

// What reads alike in watts is told by the leg voltages: the channel whose voltage
// sinks is on the loaded leg.
func TestVoltagesTellReversedFromExchangedLeads(t *testing.T) {
	states := visit(rand.New(rand.NewPCG(5, 5)), 3, 500, 300) // both reversed
	a := prove(t, oneBranch, states)
	if f := a.Grid.Classes[0].Faults; f[0] != "both_reversed" || slices.Contains(f, "vrefs_swapped") {
		t.Errorf("voltages as wired: %v", f)
	}
	for i := range states { // the same watts, the grid channels' voltages exchanged
		c := states[i].Channels
		c[0].V, c[1].V = c[1].V, c[0].V
	}
	a = prove(t, oneBranch, states)
	if f := a.Grid.Classes[0].Faults; f[0] != "vrefs_swapped" || slices.Contains(f, "both_reversed") {
		t.Errorf("voltages exchanged: %v", f)
	}
}

func TestRuledOutNamesTheState(t *testing.T) {
	a := prove(t, oneBranch, visit(rand.New(rand.NewPCG(6, 6)), 0, 500, 300))
	by := map[string]string{}
	for _, r := range a.RuledOut {
		by[r.Side+" "+r.Fault] = r.State
	}
	// By CT.md section 3: exchanged channels show with a load on one leg, the load
	// side only with PV on.
	if s := by["grid channels_exchanged"]; s != "S1" && s != "S2" {
		t.Errorf("channels exchanged ruled out by %q, want S1 or S2", s)
	}
	if s := by["grid load_side"]; s != "B1" {
		t.Errorf("load side ruled out by %q, want B1", s)
	}
}

// No cure that moves or turns is said for a right meter, and no cure ever is to turn
// a sign in software.
func TestNoCureIsASignFlip(t *testing.T) {
	for _, list := range [][]meter.Fault{meter.GridFaults(), meter.ProductionFaults(2, 5), meter.ProductionFaults(1, 5)} {
		for _, f := range list {
			for _, word := range []string{"sign", "software", "flip", "invert", "negate"} {
				if strings.Contains(f.Cure, word) {
					t.Errorf("%s: %q", f.Name, f.Cure)
				}
			}
			if f.Cure == "" {
				t.Errorf("%s has no cure", f.Name)
			}
		}
	}
}

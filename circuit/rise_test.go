package circuit_test

import (
	"testing"

	"pgregory.net/rapid"

	"legwork/circuit"
	"legwork/quantity"
	"legwork/working"
)

func of(q quantity.Quantity) working.Term {
	return working.Of(q, "", working.Origin{Kind: working.Given})
}

func open(what string) working.Term {
	return working.Fact[quantity.Feet]{Means: what, Ask: working.Missing{Path: "equipment.trunks.T.portrait", What: what}}.Term()
}

// By hand: 2 × 9.94 A × 1.24 Ω/kft × 45 ft / 1000 = 1.109304 V.
func TestRunRise(t *testing.T) {
	w := working.NewSheet(2020)
	v := circuit.RunRise(w, "V_home", "rise over the home run", of(quantity.Amps(9.94)), of(quantity.OhmsPerKFt(1.24)), of(quantity.Feet(45)))
	if quantity.Compare(v.Float(), 1.109304) != 0 || v.Unit() != "V" {
		t.Errorf("%v %s, want 1.109304 V", v.Float(), v.Unit())
	}
}

func TestTrunkRise(t *testing.T) {
	for _, c := range []struct {
		name      string
		stretches []circuit.Stretch
		moment    float64 // ft
		volts     float64 // at 1.42 A and 1.98 Ω/kft
	}{
		// n(n+1)/2 × 4 ft = 28 × 4 = 112; 2 × 1.42 × 1.98 × 112 / 1000 = 0.6297984.
		{"seven drops at 4 ft", equal(7, 4), 112, 0.6297984},
		// 7 × 4 + 6 × 18 + (5+4+3+2+1) × 4 = 28 + 108 + 60 = 196; × 0.0056232 = 1.1021472.
		{"an 18 ft jumper after the first of seven", jumped(7, 4, 1, 18), 196, 1.1021472},
		{"one drop", equal(1, 6), 6, 0.0337392},
	} {
		w := working.NewSheet(2020)
		v := circuit.TrunkRise(w, "V", "rise along the trunk", of(quantity.Amps(1.42)), of(quantity.OhmsPerKFt(1.98)), c.stretches)
		if m := circuit.Moment(c.stretches); quantity.Compare(m.Float(), c.moment) != 0 {
			t.Errorf("%s: moment %v ft, want %v", c.name, m.Float(), c.moment)
		}
		if quantity.Compare(v.Float(), c.volts) != 0 {
			t.Errorf("%s: %v V, want %v", c.name, v.Float(), c.volts)
		}
	}
}

func equal(n int, d quantity.Feet) []circuit.Stretch {
	out := make([]circuit.Stretch, n)
	for i := range out {
		out[i] = circuit.Stretch{Beyond: n - i, Length: of(d)}
	}
	return out
}

func jumped(n int, d quantity.Feet, after int, jumper quantity.Feet) []circuit.Stretch {
	out := equal(n, d)
	out[after].Length = of(jumper)
	return out
}

// An unknown spacing once kept Moment running for ever.
func TestUnknownSpacing(t *testing.T) {
	stretches := equal(3, 4)
	stretches[1].Length = open("spacing of drops")
	m := circuit.Moment(stretches)
	if m.Known() || len(m.Missing()) != 1 || m.Missing()[0].Path != "equipment.trunks.T.portrait" {
		t.Errorf("known %v, missing %v; want unknown, and the spacing named once", m.Known(), m.Missing())
	}
}

// Taking equal stretches together changes nothing: the moment is the plain sum.
func TestMomentIsTheSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lengths := rapid.SliceOfN(rapid.SampledFrom([]float64{4, 6, 18}), 1, 15).Draw(t, "lengths")
		var stretches []circuit.Stretch
		var want float64
		for i, l := range lengths {
			n := len(lengths) - i
			want += float64(n) * l
			stretches = append(stretches, circuit.Stretch{Beyond: n, Length: of(quantity.Feet(l))})
		}
		if got := circuit.Moment(stretches).Float(); quantity.Compare(got, want) != 0 {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}

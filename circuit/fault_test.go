package circuit_test

import (
	"math"
	"testing"

	"legwork/circuit"
	"legwork/quantity"
	"legwork/tables"
	"legwork/working"
)

type faultRun struct {
	name string
	c    working.Lookup
	feet float64
	want float64 // A
	off  float64 // half the last printed digit, or as said
}

func given(q quantity.Quantity) working.Term {
	return working.Of(q, "", working.Origin{Kind: working.Given})
}

func (r faultRun) follow(t *testing.T, w *working.Sheet, loop circuit.FaultLoop, i working.Term, e float64) working.Term {
	t.Helper()
	c := w.Cell("C", "conductor constant", r.c)
	out := circuit.RunFault(w, "I_"+r.name, "fault after the "+r.name, loop, i, c, given(quantity.Feet(r.feet)), 1, given(quantity.Volts(e)))
	if !(math.Abs(out.Float()-r.want) <= r.off) {
		t.Errorf("after the %s: %.1f A, expected %.1f A", r.name, out.Float(), r.want)
	}
	return out
}

func constant(size string, c tables.Conduit) working.Lookup {
	return tables.FaultConstantOf(key(size), tables.Copper, c)
}

// Source: worked example fault-300kVA-LL, a public point-to-point fault sheet:
// 300 kVA, 240 V, 3 %; 46296 A at the transformer, 8978, 4024 (4023 recomputed)
// and 1530 A after service, feeder and branch.
func TestFaultWorkedExample(t *testing.T) {
	w := working.NewSheet(2023)
	full := w.Let("I_FLA", given(quantity.Amps(300000./240)))
	i := circuit.TransformerFault(w, "I_T", full, given(quantity.Percent(3)))
	if math.Abs(i.Float()-46296) > 0.5 {
		t.Errorf("at the transformer: %.1f A, printed 46296 A", i.Float())
	}
	for _, r := range []faultRun{
		{"service", constant("3/0", tables.InPVC), 150, 8978, 0.5},
		{"feeder", constant("6", tables.InPVC), 40, 4023.5, 1}, // printed 4024 from rounded factors
		{"branch", constant("12", tables.InPVC), 30, 1530, 0.5},
	} {
		i = r.follow(t, w, circuit.LegToLeg, i, 240)
	}
}

// Source: scenario S6: 14.2 kA at the tap; 6 ft of 6 AWG bring it to 11.0 kA, and
// 18 ft in steel to 7.6 kA. By hand with C = 2425: f = 2 × 18 × 14200 /
// (2425 × 240) = 0.8784, 14200 / 1.8784 = 7560 A.
func TestFaultScenarioS6(t *testing.T) {
	w := working.NewSheet(2023)
	tap := given(quantity.Amps(14200))
	faultRun{"tap", constant("6", tables.InSteel), 6, 11000, 50}.follow(t, w, circuit.LegToLeg, tap, 240)
	faultRun{"output", constant("6", tables.InSteel), 18, 7560, 0.5}.follow(t, w, circuit.LegToLeg, tap, 240)
}

// By hand: 10 kA between the legs make 15 kA to neutral at the transformer. After
// 50 ft of 2 AWG (C = 6044): f = 2 × 50 × 15000 / (6044 × 120) = 2.06817,
// 15000 / 3.06817 = 4888.9 A. Two conductors a leg: f half, 15000 / 2.03408 = 7374.3 A.
func TestFaultToNeutral(t *testing.T) {
	w := working.NewSheet(2023)
	i := circuit.FaultToNeutral(w, "I_LN", given(quantity.Amps(10000)))
	if i.Float() != 15000 {
		t.Errorf("to neutral at the transformer: %g A, by hand 15000 A", i.Float())
	}
	faultRun{"service", constant("2", tables.InPVC), 50, 4888.9, 0.05}.follow(t, w, circuit.LegToNeutral, i, 120)
	c := w.Cell("C", "", constant("2", tables.InPVC))
	two := circuit.RunFault(w, "I_2", "", circuit.LegToNeutral, i, c, given(quantity.Feet(50)), 2, given(quantity.Volts(120)))
	if math.Abs(two.Float()-7374.3) > 0.05 {
		t.Errorf("two in parallel: %.2f A, by hand 7374.3 A", two.Float())
	}
}

// By hand, three legs of 208Y: f = 1.7320508 × 40 × 12000 / (2430 × 208) = 1.64486,
// 12000 / 2.64486 = 4537.1 A.
func TestFaultThreeLegs(t *testing.T) {
	w := working.NewSheet(2023)
	faultRun{"output", constant("6", tables.InPVC), 40, 4537.1, 0.05}.follow(t, w, circuit.ThreeLegs, given(quantity.Amps(12000)), 208)
}

// A missing length asks; it gives no current.
func TestFaultUnknownLength(t *testing.T) {
	w := working.NewSheet(2023)
	length := working.Fact[quantity.Feet]{Means: "length", Ask: working.Missing{Path: "runs.out.length", What: "length one way"}}
	c := w.Cell("C", "", constant("6", tables.InPVC))
	i := circuit.RunFault(w, "I", "", circuit.LegToLeg, given(quantity.Amps(10000)), c, length.Term(), 1, given(quantity.Volts(240)))
	if i.Known() || len(i.Missing()) != 1 {
		t.Errorf("fault over a run of unknown length: %v, missing %v", i, i.Missing())
	}
}

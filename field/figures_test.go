package field_test

import (
	"math"
	"testing"
	"time"

	"legwork/field"
	"legwork/quantity"
	"legwork/working"
)

// figure finds a reading of a step.
func expectOf(t *testing.T, p field.Procedure, step, id string) field.Expect {
	t.Helper()
	s := p.Step(step)
	if s == nil {
		t.Fatalf("no step %s", step)
	}
	for _, x := range s.Expect {
		if x.ID == id {
			return x
		}
	}
	t.Fatalf("%s has no reading %s", step, id)
	return field.Expect{}
}

var none = math.NaN()

// Worked by hand from the house documents. Resistances of NFPA 70, chapter 9,
// table 8, stranded, 75 °C: 10 AWG copper 1.24, 6 AWG 0.491, 4 AWG aluminum
// 0.508 Ω/kft; 12 AWG copper 1.98 in the trunk. Rated currents: MI-340 1.42 A,
// MI-400 1.67 A. Voltages: ANSI C84.1, table 1 (A 114-126, 228-252; B 110-127,
// 220-254); IEEE 1547-2018 defaults 1.05 and 1.10 of 240 V: 252 V and 264 V.
func TestFiguresByHand(t *testing.T) {
	for _, c := range []struct {
		house, step, reading string
		value                float64
		lookLow, lookHigh    float64
		stopLow, stopHigh    float64
		why                  string
	}{
		{"quillfeather", "service-voltage", "L1-N", 120, 114, 126, 110, 127, "C84.1"},
		{"quillfeather", "service-voltage", "L1-L2", 240, 228, 252, 220, 254, "C84.1"},
		{"quillfeather", "close-MP-38-40", "L2-G", 120, 114, 126, 110, 127, "as leg to neutral"},
		{"quillfeather", "identity", "A:loop", 0.1116, none, 0.3116, none, 1, "2 × 1.24 × 45 / 1000; + 0.2"},
		{"larkbarrow", "identity", "C:loop", 0.15376, none, 0.35376, none, 1, "2 × 1.24 × 62 / 1000; + 0.2"},
		{"ocotillo", "identity", "B:loop", 0.1736, none, 0.3736, none, 1, "2 × 1.24 × 70 / 1000; + 0.2"},
		{"quillfeather", "ground-continuity", "home:ground", 0.0558, none, 0.2558, none, 1, "1.24 × 45 / 1000; + 0.2"},
		{"pennywhistle", "ground-continuity", "pv_output:ground", 0.02232, none, 0.22232, none, 1, "10 AWG: 1.24 × 18 / 1000; + 0.2"},
		{"quillfeather", "trunk-A", "units", 7, none, none, 7, 7, "S-r1-c1..c7"},
		{"saltgrass", "count", "reporting", 24, 24, none, 23, 24, "3 rows of 8"},
		{"quillfeather", "close-branch-A", "wire1", none, none, 0.7, none, 1.4, "7 × 0.1 A, 7 × 0.2 A"},
		{"quillfeather", "output-A", "wire1", 9.94, none, 10.934, none, 11.928, "7 × 1.42 A; × 1.1; × 1.2"},
		{"larkbarrow", "output-B", "wire2", 15.03, none, 16.533, none, 18.036, "9 × 1.67 A; × 1.1; × 1.2"},
		{"pennywhistle", "output-C", "wire1", 13.36, none, 14.696, none, 16.032, "8 × 1.67 A; × 1.1; × 1.2"},
		{"quillfeather", "wait-A", "delay", 300, 270, 600, 60, 900, "0.9 × 300; 300 + 300; 0.2 × 300; 300 + 600"},
		{"quillfeather", "grid-profile", "reentry-high", 252, none, none, 251.5, 252.5, "1.05 × 240"},
		// PV output: 2 × 19.88 A × 1.24 × 6 / 1000 = 0.29582 V; + 0.5 % of 240 = 1.2 V; 3 % = 7.2 V.
		{"quillfeather", "rise", "combiner:rise", 0.295814, none, 1.495814, none, 7.2, "2 × 14 × 1.42 × 0.00744"},
		// Trunk 2 × 1.42 × 1.98 × 4 × (7 × 8 / 2) / 1000 = 0.629798 V; home run
		// 2 × 9.94 × 1.24 × 45 / 1000 = 1.109304 V; 252 and 264 less their sum 1.739102 V.
		{"quillfeather", "rise", "combiner:all-on", none, none, 250.260898, none, 262.260898, "252 − 1.739102; 264 − 1.739102"},
		// Feeder 2 × 30.06 A × 0.508 × 180 / 1000 = 5.497373 V.
		{"otterbend", "rise", "GP:rise", 5.497373, none, 6.697373, none, 7.2, "+ 1.2 V"},
		{"pennywhistle", "fuses", "fuses", 60, none, none, 60, 60, "nameplate"},
		{"quillfeather", "land-combiner", "A:L1", 20, none, none, 18, 22, "20 in-lb ± 10 %"},
		{"quillfeather", "dead-test", "combiner:L1-L2", 0, none, none, none, 3, "low impedance"},
		{"quillfeather", "insulation", "home:A/L1-G", none, 100e6, none, 1e6, none, "IEC 60364-6, table 6.1"},
	} {
		t.Run(c.house+" "+c.step+" "+c.reading, func(t *testing.T) {
			x := expectOf(t, field.Generate(plant(t, c.house)), c.step, c.reading)
			for _, f := range []struct {
				name string
				got  *working.Term
				want float64
			}{{"value", x.Value, c.value}, {"look low", x.Look.Low, c.lookLow}, {"look high", x.Look.High, c.lookHigh},
				{"stop low", x.Stop.Low, c.stopLow}, {"stop high", x.Stop.High, c.stopHigh}} {
				switch {
				case f.got == nil && math.IsNaN(f.want):
				case f.got == nil || math.IsNaN(f.want) || math.Abs(f.got.Float()-f.want) > 1e-6:
					t.Errorf("%s: got %v, want %v (%s)", f.name, f.got, f.want, c.why)
				}
			}
		})
	}
}

// On 208Y/120: legs 120 V to neutral; 208 V between legs, range A 197 to 218 V,
// B 191 to 220 V; 1.05 × 208 = 218.4 V. MI-340 at 208 V is rated 1.64 A:
// 7 × 1.64 = 11.48 A.
func TestWye(t *testing.T) {
	p := field.Generate(plant(t, "quillfeather", "system: 120/240 V", "system: 208Y/120 V"))
	x := expectOf(t, p, "service-voltage", "L2-L3")
	if got := []float64{x.Value.Float(), x.Look.Low.Float(), x.Look.High.Float(), x.Stop.Low.Float(), x.Stop.High.Float()}; got[0] != 208 || got[1] != 197 || got[2] != 218 || got[3] != 191 || got[4] != 220 {
		t.Errorf("leg to leg %v", got)
	}
	if got := expectOf(t, p, "output-A", "wire1").Value.Float(); quantity.Compare(got, 11.48) != 0 {
		t.Errorf("branch current %v, want 11.48", got)
	}
	if got := p.Step("wait-A").Wait.High.Float(); quantity.Compare(got, 218.4) != 0 {
		t.Errorf("re-entry %v, want 218.4", got)
	}
}

// What the service is, nobody has said: the reading is Ask, never quietly 240 V.
func TestUnknownSystemAsks(t *testing.T) {
	p := field.Generate(plant(t, "quillfeather", "system: 120/240 V", `system: "?"`))
	s := p.Step("service-voltage")
	j := field.Judge(*s, map[string]field.Reading{"L1-L2": {Value: 240, Unit: "V"}})
	if v := j.Readings["L1-L2"]; v != working.Ask {
		t.Errorf("got %s, want ask", v)
	}
}

func TestWhatAWrongPatternMeans(t *testing.T) {
	p := field.Generate(plant(t, "ocotillo"))
	volt := func(v float64) field.Reading { return field.Reading{Value: v, Unit: "V"} }
	for _, c := range []struct {
		name, step string
		readings   map[string]field.Reading
		pattern    string
		causes     int
	}{
		// Scenario S7: L-G looks healthy, L-L 0.4 V.
		{"branch B silent", "close-branch-B", map[string]field.Reading{"load:1-G": volt(121.3), "load:2-G": volt(120.9), "load:L-L": volt(0.4)}, "branch-one-leg", 2},
		{"both poles on one leg", "close-MP-38-40", map[string]field.Reading{"L1-N": volt(121), "L2-N": volt(121), "L1-L2": volt(0)}, "one-leg-twice", 2},
		{"pole on neutral", "close-MP-38-40", map[string]field.Reading{"L1-N": volt(121), "L2-N": volt(0), "L1-L2": volt(121)}, "leg-dead", 3},
		{"open neutral", "service-voltage", map[string]field.Reading{"L1-N": volt(101), "L2-N": volt(139), "L1-L2": volt(240)}, "neutral-missing", 2},
		{"208 V service", "service-voltage", map[string]field.Reading{"L1-N": volt(120), "L2-N": volt(120), "L1-L2": volt(208)}, "wye", 2},
		{"high service keeps units off", "service-voltage", map[string]field.Reading{"L1-N": volt(126.6), "L2-N": volt(126.6), "L1-L2": volt(253.2)}, "reentry", 2},
		{"back after 20 s", "wait-A", map[string]field.Reading{"delay": {Value: 20, Unit: "s"}}, "too-soon", 2},
		{"nothing in 20 min", "wait-A", map[string]field.Reading{"delay": {Value: 1200, Unit: "s"}}, "no-output", 6},
		{"grid CT negative", "ct-house-only", map[string]field.Reading{"grid:L1": {Value: -640, Unit: "W"}}, "grid-negative", 3},
		{"insulation under a strap", "insulation", map[string]field.Reading{"home:B/L2-G": {Value: 0.2e6, Unit: "Ω"}}, "low-insulation", 3},
		{"still live", "dead-test", map[string]field.Reading{"combiner:L1-N": volt(121)}, "not-dead", 4},
		{"rise over the plan's", "rise", map[string]field.Reading{"combiner:rise": volt(4)}, "rise-high", 3},
		{"production CT around loads", "ct-house-only", map[string]field.Reading{"production": {Value: -1500, Unit: "W"}}, "production-not-zero", 2},
		{"jumper left in", "identity", map[string]field.Reading{"C:others": {Value: 1, Unit: ""}}, "two-show", 3},
		{"dead branch", "close-branch-A", map[string]field.Reading{"load:1-G": volt(0), "load:2-G": volt(0), "load:L-L": volt(0)}, "branch-dead", 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := field.Judge(*p.Step(c.step), c.readings)
			if j.Passes() {
				t.Fatalf("passes: %+v", j.Readings)
			}
			for _, pat := range j.Patterns {
				if pat.ID == c.pattern {
					if len(pat.Causes) != c.causes {
						t.Errorf("%d causes, want %d", len(pat.Causes), c.causes)
					}
					return
				}
			}
			t.Errorf("no pattern %s in %+v", c.pattern, j.Patterns)
		})
	}
}

// A display that shows OL proves a lower limit and never an upper one.
func TestOverRange(t *testing.T) {
	p := field.Generate(plant(t, "quillfeather"))
	ol := func(v float64) map[string]field.Reading {
		return map[string]field.Reading{"home:A/L1-G": {Value: v, Unit: "Ω", Over: true}, "A:loop": {Value: v, Unit: "Ω", Over: true}}
	}
	if v := field.Judge(*p.Step("insulation"), ol(550e6)).Readings["home:A/L1-G"]; v != working.OK {
		t.Errorf("over 550 MΩ: %s", v)
	}
	if v := field.Judge(*p.Step("identity"), ol(0.1)).Readings["A:loop"]; v != working.Ask {
		t.Errorf("loop over 0.1 Ω: %s, want ask", v)
	}
	if v := field.Judge(*p.Step("identity"), ol(200)).Readings["A:loop"]; v != working.Stop {
		t.Errorf("loop over 200 Ω: %s, want stop", v)
	}
}

// The clock of 300 s: at 240 V it runs down; a minute at 253 V stops it, and it
// starts over at the next voltage inside the window.
func TestReconnectClock(t *testing.T) {
	r := field.Generate(plant(t, "quillfeather")).Step("wait-A").Wait
	closed := time.Date(2026, 5, 4, 15, 0, 0, 0, time.UTC)
	at := func(s int) time.Time { return closed.Add(time.Duration(s) * time.Second) }
	for _, c := range []struct {
		name    string
		now     int
		seen    []field.Sighting
		left    int
		running bool
	}{
		{"just closed", 0, nil, 300, true},
		{"after 100 s", 100, nil, 200, true},
		{"over", 310, nil, 0, true},
		{"exactly at the window's end", 100, []field.Sighting{{At: at(50), Volts: 252}}, 200, true},
		{"above the window", 100, []field.Sighting{{At: at(60), Volts: 253}}, 300, false},
		{"back in the window at 120 s", 200, []field.Sighting{{At: at(60), Volts: 253}, {At: at(120), Volts: 251}}, 220, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			left, running, known := r.Left(closed, at(c.now), c.seen)
			if left != time.Duration(c.left)*time.Second || running != c.running || !known {
				t.Errorf("got %v, running %v, known %v; want %d s, %v", left, running, known, c.left, c.running)
			}
		})
	}
}

// A utility that asks for 60 s: 0.9 × 60 = 54; 60 + 300; 0.2 × 60 = 12; 60 + 600.
func TestAgreementReplacesTheDefault(t *testing.T) {
	a := field.DefaultAgreement()
	a.Delay = working.State(quantity.Seconds(60), "enter-service delay", working.Origin{Kind: working.Given, Path: "interconnection agreement"})
	p := field.GenerateUnder(plant(t, "quillfeather"), field.Conditions{Agreement: a})
	x := expectOf(t, p, "wait-A", "delay")
	got := []float64{x.Stop.Low.Float(), x.Look.Low.Float(), x.Value.Float(), x.Look.High.Float(), x.Stop.High.Float()}
	for i, want := range []float64{12, 54, 60, 360, 660} {
		if quantity.Compare(got[i], want) != 0 {
			t.Errorf("got %v", got)
		}
	}
}

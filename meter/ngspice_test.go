package meter

import (
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The identity against a circuit simulator: loads and PV on a service with
// impedances are solved by ngspice (Debian's package), the CT as an ideal sum of the
// currents through voltage sources of 0 V in each conductor. What a channel shows by
// Placement.Reads and by the sum of responses must be what ngspice's own currents
// and voltages give. The simulator knows nothing of responses.
func TestResponsesAgainstNgspice(t *testing.T) {
	bin, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("LEGWORK_REQUIRE_ALL") != "" {
			t.Fatal("ngspice is not installed")
		}
		t.Skip("ngspice is not installed: responses were not simulated")
	}
	for _, c := range []struct {
		name   string
		system System
		faults []string
	}{
		{"right", Split, nil},
		{"CT 1 reversed", Split, []string{"g1_reversed"}},
		{"CTs swapped", Split, []string{"cts_swapped"}},
		{"both on L1, CT 2 turned", Split, []string{"both_on_L1", "g2_reversed"}},
		{"both legs through CT 1", Split, []string{"g1_around_both_legs"}},
		{"CT 2 on the neutral", Split, []string{"g2_on_neutral"}},
		{"below the PV connection", Split, []string{"load_side"}},
		{"PV led through, opposed", Split, []string{"pv_conductors_also_in_windows_opposed"}},
		{"jaw open, voltage leads swapped", Split, []string{"g1_open_clamp", "vrefs_swapped"}},
		{"208Y right", Wye, nil},
		{"208Y swapped", Wye, []string{"cts_swapped"}},
		{"208Y on the PV output", Wye, []string{"on_pv_output_facing_panel"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := simulate(t, bin, c.system)
			w := Right(c.system, 2, 1).With(faultsNamed(t, GridFaults(), c.faults...)...)
			all := append(append([]Placement(nil), w.Grid...), w.Prod...)
			for i, p := range all {
				// By hand from ngspice's figures: signed sum of currents, gain, lead, reference.
				var sum complex128
				for _, pass := range p.Passes {
					sum += complex(pass.Turns, 0) * s.current(pass.Conductor)
				}
				want := (s.volts(p.Ref.From) - s.volts(p.Ref.To)) * cmplx.Conj(sum) *
					cmplx.Rect(p.Gain, -p.Lead*math.Pi/180)
				f := p.Reads(s.current, s.volts)
				if d := cmplx.Abs(complex(f.W, f.VAR) - want); d > 1e-3 {
					t.Errorf("channel %d shows %.3f W %.3f var, ngspice gives %.3f", i+1, f.W, f.VAR, want)
				}
				// And as the sum of responses to the devices' own powers: the voltages of a
				// loaded service leave their nominal angles by a little, 0.5 % here.
				r := w.Rows(all)[i]
				got := r.L1*s.load1() + r.L2*s.load2() + r.PV[0]*s.pv()
				if d := cmplx.Abs(got - want); d > .005*s.size() {
					t.Errorf("channel %d: responses sum to %.1f, ngspice gives %.1f", i+1, got, want)
				}
			}
		})
	}
}

// simulated is an operating point by ngspice: node voltages and branch currents.
type simulated map[string]complex128

func (s simulated) volts(n Node) complex128 {
	return map[Node]complex128{L1: s["v(p1)"], L2: s["v(p2)"], N: s["v(n)"]}[n]
}

func (s simulated) current(c Conductor) complex128 {
	leg := map[Node]string{L1: "1", L2: "2", N: "n"}[c.Node]
	name := map[Part]string{Service: "s", House: "h", Output: "o", Branch: "o"}[c.Part]
	return s["i(v"+name+leg+")"]
}

func (s simulated) load1() complex128 {
	return (s.volts(L1) - s.volts(N)) * cmplx.Conj(s["i(vh1)"])
}

func (s simulated) load2() complex128 {
	return (s.volts(L2) - s.volts(N)) * cmplx.Conj(s["i(vh2)"])
}

func (s simulated) pv() complex128 {
	return (s.volts(L1) - s.volts(L2)) * cmplx.Conj(s["i(vo1)"])
}

func (s simulated) size() float64 {
	return cmplx.Abs(s.load1()) + cmplx.Abs(s.load2()) + cmplx.Abs(s.pv())
}

// simulate solves 12 ohm on L1, 20 ohm and 20 mH on L2, and 15 A of PV pushed out of
// L1 and back by L2, on a service of 0.025 ohm a leg and 0.03 ohm neutral.
func simulate(t *testing.T, bin string, sys System) simulated {
	t.Helper()
	phase2 := map[System]float64{Split: 180, Wye: -120}[sys]
	// PV current in phase with V1 - V2.
	angle := map[System]float64{Split: 0, Wye: 30}[sys]
	deck := fmt.Sprintf(`service
V1 e1 0 AC 120 0
V2 e2 0 AC 120 %g
R1 e1 a1 0.025
R2 e2 a2 0.025
Rn 0 an 0.03
Vs1 a1 p1 0
Vs2 a2 p2 0
Vsn n an 0
Vh1 p1 h1 0
Vh2 p2 h2 0
Rh1 h1 n 12
Rh2 h2 m2 20
Lh2 m2 n 20m
Ipv o2 o1 AC 15 %g
Vo1 o1 p1 0
Vo2 o2 p2 0
.control
set numdgt=12
ac lin 1 60 60
print v(p1) v(p2) v(n) i(vs1) i(vs2) i(vsn) i(vh1) i(vh2) i(vo1) i(vo2)
.endc
.end
`, phase2, angle)
	file := filepath.Join(t.TempDir(), "service.cir")
	if err := os.WriteFile(file, []byte(deck), 0o666); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(bin, "-b", file).CombinedOutput()
	if err != nil && !strings.Contains(string(out), "v(p1)") {
		t.Fatalf("%v\n%s", err, out)
	}
	s := simulated{}
	line := regexp.MustCompile(`(?m)^([vi]\(\w+\)) = ([-+0-9.e]+),([-+0-9.e]+)`)
	for _, m := range line.FindAllStringSubmatch(string(out), -1) {
		re, _ := strconv.ParseFloat(m[2], 64)
		im, _ := strconv.ParseFloat(m[3], 64)
		s[m[1]] = complex(re, im)
	}
	if len(s) != 10 {
		t.Fatalf("read %d figures of 10:\n%s", len(s), out)
	}
	return s
}

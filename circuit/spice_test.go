package circuit_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"

	"legwork/circuit"
	"legwork/quantity"
)

// ngspice (Debian package ngspice) solves the same networks by its own modified
// nodal analysis, 60 Hz, version 39. It shares nothing with this package but the
// list of sections; phasors of the source and currents of units are worked out
// here anew.

func spice(t *testing.T) string {
	t.Helper()
	bin, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("LEGWORK_REQUIRE_ALL") != "" {
			t.Fatal("ngspice is not installed, and nothing may be skipped")
		}
		t.Skip("ngspice is not installed (Debian package ngspice): the solution was not compared with it")
	}
	return bin
}

// bench is a network as ngspice sees it.
type bench struct {
	net   *circuit.Network
	node  map[string]int // number of each node
	names []string       // vectors in the order printed
	wires strings.Builder
}

const omega = 2 * math.Pi * 60

// openPhasor of a conductor against neutral: 120 V at 0° and 180°, or 120° apart.
func openPhasor(s circuit.System, legToLeg float64, c circuit.Conductor) complex128 {
	switch {
	case c == circuit.N:
		return 0
	case s == circuit.SplitPhase:
		return []complex128{complex(legToLeg/2, 0), complex(-legToLeg/2, 0)}[c]
	}
	return cmplx.Rect(legToLeg/math.Sqrt(3), -float64(c)*2*math.Pi/3)
}

func newBench(n *circuit.Network) *bench {
	b := &bench{net: n, node: map[string]int{n.Source: 0}}
	for _, s := range n.Sections {
		for _, id := range []string{s.From, s.To} {
			if _, ok := b.node[id]; !ok {
				b.node[id] = len(b.node)
			}
		}
	}
	for _, c := range n.System.Conductors() {
		v := openPhasor(n.System, float64(n.Volts), c)
		fmt.Fprintf(&b.wires, "V%d %s 0 DC 0 AC %.17g %.17g\n", c, b.at(n.Source, c), cmplx.Abs(v), cmplx.Phase(v)*180/math.Pi)
	}
	for i, s := range n.Sections {
		for _, w := range s.Strands {
			b.impedance(fmt.Sprintf("s%dc%d", i, w.Conductor), b.at(s.From, w.Conductor), b.at(s.To, w.Conductor), w.Ohms)
			b.names = append(b.names, b.at(s.From, w.Conductor))
		}
	}
	return b
}

func (b *bench) at(node string, c circuit.Conductor) string {
	return fmt.Sprintf("n%dc%d", b.node[node], c)
}

// impedance is a resistor and a coil in series; either may be negative, as in the
// neutral of a transformer.
func (b *bench) impedance(id, from, to string, z complex128) {
	if z == 0 { // ngspice would take a resistor of zero as 1 mΩ
		fmt.Fprintf(&b.wires, "V%s %s %s DC 0 AC 0\n", id, from, to)
		return
	}
	if imag(z) == 0 {
		fmt.Fprintf(&b.wires, "R%s %s %s %.17g\n", id, from, to, real(z))
		return
	}
	fmt.Fprintf(&b.wires, "R%s %s m%s %.17g\nL%s m%s %s %.17g\n", id, from, id, real(z), id, id, to, imag(z)/omega)
}

// solution runs ngspice with given currents into the first conductor of each
// device, and returns the voltage of every conductor.
func (b *bench) solution(t *testing.T, bin string, sent map[string]complex128) map[string]complex128 {
	t.Helper()
	var cir strings.Builder
	cir.WriteString("network\n" + b.wires.String())
	ids := make([]string, 0, len(sent))
	for id := range sent {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	for i, id := range ids {
		node, p := b.device(id)
		fmt.Fprintf(&cir, "I%d %s %s DC 0 AC %.17g %.17g\n", i, b.at(node, p[1]), b.at(node, p[0]),
			cmplx.Abs(sent[id]), cmplx.Phase(sent[id])*180/math.Pi)
	}
	for i, l := range b.net.Loads {
		if l.Draws == circuit.ConstantImpedance {
			e := b.nominal(l.Across)
			b := &bench{net: b.net, node: b.node}
			b.impedance(fmt.Sprintf("load%d", i), b.at(l.Node, l.Across[0]), b.at(l.Node, l.Across[1]),
				complex(real(e)*real(e)+imag(e)*imag(e), 0)/cmplx.Conj(l.Power))
			cir.WriteString(b.wires.String())
		}
	}
	dir := t.TempDir()
	cir.WriteString(".control\nset numdgt=16\nset wr_singlescale\nac lin 1 60 60\nwrdata out.data")
	for _, n := range b.names {
		fmt.Fprintf(&cir, " v(%s)", n)
	}
	cir.WriteString("\nquit\n.endc\n.end\n")
	if err := os.WriteFile(filepath.Join(dir, "net.cir"), []byte(cir.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(bin, "-b", "net.cir")
	cmd.Dir = dir
	said, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("ngspice: %v\n%s", err, said)
	}
	text, err := os.ReadFile(filepath.Join(dir, "out.data"))
	if err != nil {
		t.Fatalf("ngspice wrote nothing: %v\n%s", err, said)
	}
	cells := strings.Fields(string(text))
	if len(cells) != 1+2*len(b.names) {
		t.Fatalf("ngspice wrote %d numbers for %d conductors\n%s", len(cells), len(b.names), said)
	}
	v := map[string]complex128{}
	for i, n := range b.names {
		re, err1 := strconv.ParseFloat(cells[1+2*i], 64)
		im, err2 := strconv.ParseFloat(cells[2+2*i], 64)
		if err1 != nil || err2 != nil {
			t.Fatalf("ngspice wrote %q", cells[1+2*i:3+2*i])
		}
		v[n] = complex(re, im)
	}
	for _, c := range b.net.System.Conductors() {
		v[b.at(b.net.Source, c)] = openPhasor(b.net.System, float64(b.net.Volts), c)
	}
	return v
}

func (b *bench) nominal(p circuit.Pair) complex128 {
	return openPhasor(b.net.System, float64(b.net.Nominal), p[0]) - openPhasor(b.net.System, float64(b.net.Nominal), p[1])
}

func (b *bench) device(id string) (node string, p circuit.Pair) {
	if i := slices.IndexFunc(b.net.Units, func(u circuit.Unit) bool { return u.ID == id }); i >= 0 {
		return b.net.Units[i].Node, b.net.Units[i].Across
	}
	i := slices.IndexFunc(b.net.Loads, func(l circuit.Load) bool { return l.ID == id })
	return b.net.Loads[i].Node, b.net.Loads[i].Across
}

// settled repeats ngspice with the currents that the last voltages ask for, until
// they stand still. Shares of a curve move half way each time.
func (b *bench) settled(t *testing.T, bin string) map[string]complex128 {
	t.Helper()
	v := map[string]complex128{}
	for _, s := range append([]circuit.Section{{From: b.net.Source}}, b.net.Sections...) {
		for _, c := range b.net.System.Conductors() {
			v[b.at(s.From, c)] = openPhasor(b.net.System, float64(b.net.Volts), c)
		}
	}
	share := map[string]float64{}
	for range 60 {
		sent := map[string]complex128{}
		for _, u := range b.net.Units {
			across := v[b.at(u.Node, u.Across[0])] - v[b.at(u.Node, u.Across[1])]
			if u.Curve != nil {
				old, ok := share[u.ID]
				if !ok {
					old = 1
				}
				share[u.ID] = (old + droop(cmplx.Abs(across)/float64(b.net.Nominal))) / 2
				sent[u.ID] = cmplx.Conj(u.Power * complex(share[u.ID], 0) / across)
				continue
			}
			sent[u.ID] = cmplx.Conj(u.Power / across)
		}
		for _, l := range b.net.Loads {
			across := v[b.at(l.Node, l.Across[0])] - v[b.at(l.Node, l.Across[1])]
			switch l.Draws {
			case circuit.ConstantPower:
				sent[l.ID] = -cmplx.Conj(l.Power / across)
			case circuit.ConstantCurrent:
				sent[l.ID] = -cmplx.Conj(l.Power / b.nominal(l.Across))
			}
		}
		next := b.solution(t, bin, sent)
		moved := 0.0
		for n, x := range next {
			moved = max(moved, cmplx.Abs(x-v[n]))
		}
		v = next
		if moved < 1e-8 {
			return v
		}
	}
	t.Fatal("the voltages of ngspice do not stand still")
	return nil
}

// droop is the default volt-watt curve, written out: 100 % to 1.06, 20 % from 1.10.
func droop(u float64) float64 { return min(1, max(0.2, 1-0.8*(u-1.06)/0.04)) }

// compare allows 1e-6 of each conductor's voltage; of one that lies near zero,
// the neutral, 1e-6 of what it moves plus the last digits of the program.
func (b *bench) compare(t *testing.T, want map[string]complex128) {
	t.Helper()
	s, err := b.net.Solve()
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for _, node := range s.Nodes {
		for c := circuit.L1; c <= circuit.N; c++ {
			if !node.Has[c] {
				continue
			}
			x := want[b.at(node.ID, c)]
			off := cmplx.Abs(node.Phasor[c] - x)
			if off > 1e-6*cmplx.Abs(x)+1e-7 {
				t.Errorf("%s %v: %v, ngspice %v", node.ID, c, node.Phasor[c], x)
			}
			if cmplx.Abs(x) > 1 {
				worst = max(worst, off/cmplx.Abs(x))
			}
		}
	}
	t.Logf("%d sections, largest difference %.1e of the voltage", len(b.net.Sections), worst)
}

func TestAgainstSpiceLinear(t *testing.T) {
	bin := spice(t)
	all := drawn()
	if len(all) < 20 {
		t.Fatalf("%d networks, expected at least 20", len(all))
	}
	for name, n := range all {
		t.Run(name, func(t *testing.T) {
			b := newBench(linear(n))
			sent := map[string]complex128{}
			for _, l := range b.net.Loads {
				if l.Draws == circuit.ConstantCurrent {
					sent[l.ID] = -cmplx.Conj(l.Power / b.nominal(l.Across))
				}
			}
			b.compare(t, b.solution(t, bin, sent))
		})
	}
}

func TestAgainstSpiceConstantPower(t *testing.T) {
	bin := spice(t)
	for name, n := range drawn() {
		t.Run(name, func(t *testing.T) {
			b := newBench(n)
			b.compare(t, b.settled(t, bin))
		})
	}
}

func TestAgainstSpiceVoltWatt(t *testing.T) {
	bin := spice(t)
	for name, volts := range map[string]float64{
		"garage at the end of a feeder": 248.9, "behind a transformer": 255, "208Y pairs two to one": 221, "jumper between planes": 254,
	} {
		t.Run(name, func(t *testing.T) {
			c, err := drawn()[name].Curtail(quantity.Volts(volts), circuit.DefaultVoltWatt())
			if err != nil {
				t.Fatal(err)
			}
			if !(c.Worst.Share < 1) {
				t.Fatalf("nothing is curtailed at %g V, the case shows nothing", volts)
			}
			n := drawn()[name].At(quantity.Volts(volts)).WithUnits(func(u circuit.Unit) circuit.Unit { u.Curve = circuit.DefaultVoltWatt(); return u })
			b := newBench(n)
			b.compare(t, b.settled(t, bin))
			t.Logf("%s gives %.4f at %.2f V", c.Worst.Unit.ID, c.Worst.Share, c.Worst.Volts)
		})
	}
}

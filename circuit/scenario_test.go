package circuit_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"legwork/circuit"
	"legwork/quantity"
	"legwork/tables"
	"legwork/working"
)

// riseLine is a row of testdata/reference/scenario-rise.csv.
type riseLine map[string]string

func (l riseLine) number(t *testing.T, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(l[column], 64)
	if err != nil {
		t.Fatalf("%s, %s: %v", l["line"], column, err)
	}
	return v
}

func (l riseLine) size(t *testing.T, column string) quantity.Size {
	t.Helper()
	for _, s := range quantity.Sizes() {
		if s.Key() == l[column] {
			return s
		}
	}
	t.Fatalf("%s: no size %q", l["line"], l[column])
	return quantity.NoSize
}

// stretches are the units beyond each piece of trunk and its length, from the
// junction box.
func (l riseLine) stretches(t *testing.T) (beyond []int, feet []float64) {
	jumper := -1
	if l["jumper_units"] != "" {
		jumper = int(l.number(t, "jumper_units"))
	}
	for n := int(l.number(t, "arm_units")); n > 0; n-- {
		d := l.number(t, "spacing_ft")
		if n == jumper {
			d = l.number(t, "jumper_ft")
		}
		beyond, feet = append(beyond, n), append(feet, d)
	}
	return beyond, feet
}

func riseLines(t *testing.T) []riseLine {
	f, err := os.Open("testdata/reference/scenario-rise.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []riseLine
	for _, row := range all[1:] {
		l := riseLine{}
		for i, h := range all[0] {
			l[h] = row[i]
		}
		out = append(out, l)
	}
	return out
}

// printed reports whether a value rounds to what the sheet prints.
func (l riseLine) printed(t *testing.T, column string, got float64) {
	t.Helper()
	if l[column] == "" {
		return
	}
	places := 2
	if column == "highest_V" {
		places = 1
	}
	if quantity.Round(got, places) != l.number(t, column) {
		t.Errorf("%s: %s = %.4f, by hand %s", l["line"], column, got, l[column])
	}
}

// The lines that a reviewer works out, by RunRise and TrunkRise.
func TestScenarioRise(t *testing.T) {
	lines := riseLines(t)
	if len(lines) != 20 {
		t.Fatalf("%d lines, the scenarios have 20", len(lines))
	}
	given := working.Origin{Kind: working.Given}
	for _, l := range lines {
		w := working.NewSheet(2023)
		ohms := func(size quantity.Size, m tables.Material) working.Term {
			return w.Cell("R", "resistance", tables.ResistanceOf(size, m, tables.Stranded))
		}
		amps := func(v float64) working.Term { return working.Of(quantity.Amps(v), "", given) }
		feet := func(v float64) working.Term { return working.Of(quantity.Feet(v), "", given) }
		var stretches []circuit.Stretch
		beyond, lengths := l.stretches(t)
		for i := range beyond {
			stretches = append(stretches, circuit.Stretch{Beyond: beyond[i], Length: feet(lengths[i])})
		}
		unit := l.number(t, "unit_A")
		trunk := circuit.TrunkRise(w, "V_trunk", "", amps(unit), ohms(riseLine{"s": "12"}.size(t, "s"), tables.Copper), stretches)
		home := circuit.RunRise(w, "V_home", "", amps(unit*l.number(t, "branch_units")), ohms(l.size(t, "home_size"), tables.Copper), feet(l.number(t, "home_ft")))
		total := trunk.Plus(home)
		l.printed(t, "trunk_V", trunk.Float())
		l.printed(t, "home_V", home.Float())
		if l["out_A"] != "" {
			out := circuit.RunRise(w, "V_out", "", amps(l.number(t, "out_A")), ohms(l.size(t, "out_size"), tables.Material(l["out_material"])), feet(l.number(t, "out_ft")))
			l.printed(t, "out_V", out.Float())
			total = total.Plus(out)
		}
		l.judge(t, total.Float())
	}
}

func (l riseLine) judge(t *testing.T, total float64) {
	t.Helper()
	if math.IsNaN(total) {
		t.Fatalf("%s: the rise is unknown", l["line"])
	}
	l.printed(t, "total_V", total)
	l.printed(t, "percent", total/240*100)
	if l["no_pv_V"] != "" {
		l.printed(t, "highest_V", total+l.number(t, "no_pv_V"))
	}
}

// network is the scenario's way from the panel to the last unit; the units of
// the other arm and the other branches sit where their current enters.
func (l riseLine) network(t *testing.T) *circuit.Network {
	z := func(size quantity.Size, m tables.Material, feet float64) []circuit.Strand {
		ohms, err := circuit.Table8.Impedance(size, m, tables.InPVC, quantity.Feet(feet))
		if err != nil {
			t.Fatal(err)
		}
		return []circuit.Strand{{Conductor: circuit.L1, Ohms: ohms}, {Conductor: circuit.L2, Ohms: ohms}}
	}
	unit := l.number(t, "unit_A")
	n := &circuit.Network{Nominal: 240, Volts: 240, Source: "MP"}
	bus := "MP"
	add := func(id, node string, amps float64) {
		n.Units = append(n.Units, circuit.Unit{ID: id, Node: node, Across: circuit.L1L2,
			Power: complex(amps*240, 0), Current: quantity.Amps(amps)})
	}
	branch := unit * l.number(t, "branch_units")
	if l["out_A"] != "" {
		bus = "CB"
		n.Sections = append(n.Sections, circuit.Section{ID: "out", From: bus, To: "MP",
			Strands: z(l.size(t, "out_size"), tables.Material(l["out_material"]), l.number(t, "out_ft"))})
		add("other branches", bus, l.number(t, "out_A")-branch)
	}
	n.Sections = append(n.Sections, circuit.Section{ID: "home", From: "box", To: bus,
		Strands: z(l.size(t, "home_size"), tables.Copper, l.number(t, "home_ft"))})
	add("other arm", "box", branch-unit*l.number(t, "arm_units"))
	from := "box"
	beyond, feet := l.stretches(t)
	for i := range beyond {
		id := "unit " + strconv.Itoa(i+1)
		n.Sections = append(n.Sections, circuit.Section{ID: id, From: id, To: from, Strands: z(riseLine{"s": "12"}.size(t, "s"), tables.Copper, feet[i])})
		add(id, id, unit)
		from = id
	}
	return n
}

// The same lines by Network.OneLine.
func TestScenarioOneLine(t *testing.T) {
	for _, l := range riseLines(t) {
		n := l.network(t)
		one, err := n.OneLine("MP")
		if err != nil {
			t.Fatal(err)
		}
		l.judge(t, one.Units["unit "+l["arm_units"]].Float())
		l.printed(t, "home_V", one.Sections["home"].Float())
		l.printed(t, "out_V", one.Sections["out"].Float())
	}
}

// Units hold their power, so the current falls as the voltage rises, and the
// exact rise is less than the formula's by about the rise itself: of
// V = 240 + I·R·(240/V) follows, by hand for S1 at 2.03 V,
// 2.03/(1 + 2.03/240) = 2.02 V.
func TestScenarioExactBesideFormula(t *testing.T) {
	for _, l := range riseLines(t) {
		n := l.network(t)
		s, err := n.Solve()
		if err != nil {
			t.Fatal(l["line"], err)
		}
		one, err := n.OneLine("MP")
		if err != nil {
			t.Fatal(err)
		}
		last := "unit " + l["arm_units"]
		simple, exact := one.Units[last].Float(), s.Rise(last, "MP", circuit.L1L2).Float()
		lowest := simple / (1 + simple/240) // all current at the last unit's voltage
		if !(exact < simple && exact > lowest-0.01) {
			t.Errorf("%s: exact %.3f V, formula %.3f V, expected between %.3f V and the formula", l["line"], exact, simple, lowest)
		}
	}
}

// S5: the loop of droop and rise closes near 0.89 of rated at the last unit, as
// the scenario says. By hand, all 18 units alike at the formula's rise:
// V = 248.9 + 7.62·p and p = 1 − 0.8·(V/240 − 1.06)/0.04 give p = 0.8924. With
// each unit at its own voltage the nearer ones give more, and current falls as
// voltage rises: 0.90.
func TestScenarioCurtailment(t *testing.T) {
	for _, l := range riseLines(t) {
		if l["line"] != "S5 end-fed" {
			continue
		}
		n := l.network(t)
		// The other branch is like this one: its unit gets the same voltage
		// only if it has the same way, so build both.
		n = twice(n)
		c, err := n.Curtail(248.9, circuit.DefaultVoltWatt())
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("S5: %.4f at %s (%.2f V), %.4f of the plant", c.Worst.Share, c.Worst.Unit.ID, c.Worst.Volts, c.Share)
		if math.Abs(c.Worst.Share.Float()-0.89) > 0.015 {
			t.Errorf("S5: last unit at %.4f of rated, by hand about 0.89", c.Worst.Share)
		}
		return
	}
	t.Fatal("no line S5 end-fed")
}

// twice replaces the lumped other branch by a copy of the branch.
func twice(n *circuit.Network) *circuit.Network {
	out := &circuit.Network{Nominal: n.Nominal, Volts: n.Volts, Source: n.Source}
	other := func(node string) string {
		if node == "MP" || node == "CB" {
			return node
		}
		return "B " + node
	}
	for _, s := range n.Sections {
		out.Sections = append(out.Sections, s)
		if s.ID != "out" {
			s.ID, s.From, s.To = "B "+s.ID, other(s.From), other(s.To)
			out.Sections = append(out.Sections, s)
		}
	}
	for _, u := range n.Units {
		if u.ID != "other branches" && u.ID != "other arm" {
			out.Units = append(out.Units, u)
			u.ID, u.Node = "B "+u.ID, other(u.Node)
			out.Units = append(out.Units, u)
		}
	}
	return out
}

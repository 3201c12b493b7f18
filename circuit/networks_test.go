package circuit_test

import (
	"fmt"

	"legwork/circuit"
	"legwork/quantity"
	"legwork/tables"
)

// plot draws networks for tests, in trade words.
type plot struct {
	circuit.Network
	basis circuit.Basis
}

func splitPhase(volts quantity.Volts) *plot {
	return &plot{circuit.Network{System: circuit.SplitPhase, Nominal: 240, Volts: volts, Source: "service"}, circuit.Table8}
}

func wye(volts quantity.Volts) *plot {
	return &plot{circuit.Network{System: circuit.Wye, Nominal: 208, Volts: volts, Source: "service"}, circuit.Table8}
}

// key is a size as the tables write it.
func key(s string) quantity.Size {
	for _, size := range quantity.Sizes() {
		if size.Key() == s {
			return size
		}
	}
	panic("no size " + s)
}

func (p *plot) ohms(size string, m tables.Material, feet float64) complex128 {
	z, err := p.basis.Impedance(key(size), m, tables.InPVC, quantity.Feet(feet))
	if err != nil {
		panic(err)
	}
	return z
}

// run joins two nodes; without a neutral size there is no neutral.
func (p *plot) run(id, from, to, size string, m tables.Material, neutral string, feet float64) *plot {
	s := circuit.Section{ID: id, From: from, To: to}
	for _, c := range p.System.Conductors() {
		switch {
		case c != circuit.N:
			s.Strands = append(s.Strands, circuit.Strand{Conductor: c, Ohms: p.ohms(size, m, feet)})
		case neutral != "":
			s.Strands = append(s.Strands, circuit.Strand{Conductor: c, Ohms: p.ohms(neutral, m, feet)})
		}
	}
	p.Sections = append(p.Sections, s)
	return p
}

// branch is a home run with its trunk: arms of units, each piece 4 ft but for
// jumpers, given as the unit of the first arm before which they lie.
func (p *plot) branch(id, bus string, pair circuit.Pair, home float64, va complex128, arms []int, jumpers map[int]float64) *plot {
	two := func(z complex128) []circuit.Strand {
		return []circuit.Strand{{Conductor: pair[0], Ohms: z}, {Conductor: pair[1], Ohms: z}}
	}
	box := "box " + id
	p.Sections = append(p.Sections, circuit.Section{ID: "home " + id, From: box, To: bus, Strands: two(p.ohms("10", tables.Copper, home))})
	for a, n := range arms {
		at := box
		for k := 1; k <= n; k++ {
			feet := 4.0
			if j, ok := jumpers[k]; ok && a == 0 {
				feet = j
			}
			name := fmt.Sprintf("%s%d.%d", id, a+1, k)
			p.Sections = append(p.Sections, circuit.Section{ID: name, From: name, To: at, Strands: two(p.ohms("12", tables.Copper, feet))})
			p.Units = append(p.Units, circuit.Unit{ID: name, Node: name, Across: pair, Power: va})
			at = name
		}
	}
	return p
}

func (p *plot) load(id, node string, a, b circuit.Conductor, va complex128, draws circuit.Draw) *plot {
	p.Loads = append(p.Loads, circuit.Load{ID: id, Node: node, Across: circuit.Pair{a, b}, Power: va, Draws: draws})
	return p
}

// behind puts the utility's transformer before the service.
func (p *plot) behind(z circuit.Upstream) *plot {
	p.Sections = append(p.Sections, z.Section("transformer", "service", "utility", p.System))
	p.Source = "utility"
	return p
}

// warm takes conductors at a temperature and with reactance; it goes first.
func (p *plot) warm(t quantity.Celsius) *plot {
	p.basis = circuit.Basis{Temperature: t, Reactance: true}
	return p
}

// drawn are the networks that are compared with the outside program: kinds of
// plants as they are built, and unbalance worse than they should have.
func drawn() map[string]*circuit.Network {
	const cu, al = tables.Copper, tables.Aluminum
	const l1, l2, l3, n = circuit.L1, circuit.L2, circuit.L3, circuit.N
	const power, amps, ohms = circuit.ConstantPower, circuit.ConstantCurrent, circuit.ConstantImpedance
	pole := circuit.Upstream{Leg: 0.012 + 0.016i, Neutral: -0.004 - 0.0053i}
	all := map[string]*plot{
		"one unit": splitPhase(240).branch("A", "service", circuit.L1L2, 40, 341, []int{1}, nil),
		"end-fed branch of seven": splitPhase(244.2).run("out", "CB", "service", "10", cu, "", 6).
			branch("A", "CB", circuit.L1L2, 45, 341, []int{7}, nil),
		"two branches": splitPhase(244.2).run("out", "CB", "service", "10", cu, "10", 6).
			branch("A", "CB", circuit.L1L2, 45, 341, []int{7}, nil).branch("B", "CB", circuit.L1L2, 45, 341, []int{7}, nil),
		"center-fed eleven": splitPhase(240).branch("A", "service", circuit.L1L2, 70, 341, []int{6, 5}, nil),
		"jumper between planes": splitPhase(246.8).run("out", "CB", "service", "6", cu, "8", 12).
			branch("A", "CB", circuit.L1L2, 62, 401, []int{9}, map[int]float64{2: 18}),
		"center-fed with jumper": splitPhase(240).run("out", "CB", "service", "8", cu, "10", 15).
			branch("A", "CB", circuit.L1L2, 40, 319, []int{6, 6}, map[int]float64{4: 25}),
		"garage at the end of a feeder": splitPhase(248.9).run("feeder", "GP", "service", "4", al, "4", 180).
			branch("A", "GP", circuit.L1L2, 25, 401, []int{9}, nil).branch("B", "GP", circuit.L1L2, 25, 401, []int{9}, nil),
		"garage with a heater on one leg": splitPhase(248.9).run("feeder", "GP", "service", "4", al, "4", 180).
			branch("A", "GP", circuit.L1L2, 25, 401, []int{9}, nil).load("heater", "GP", l1, n, 1500, ohms),
		"garage with reactance, cold wire": splitPhase(248.9).warm(20).run("feeder", "GP", "service", "1", al, "3", 180).
			branch("A", "GP", circuit.L1L2, 25, 401, []int{5, 4}, nil).load("saw", "GP", l2, n, 1200+900i, power),
		"behind a transformer": splitPhase(249.6).behind(pole).run("out", "CB", "service", "6", cu, "10", 10).
			branch("A", "CB", circuit.L1L2, 70, 341, []int{11}, nil).branch("B", "CB", circuit.L1L2, 70, 341, []int{11}, nil),
		"transformer and unbalanced house": splitPhase(243).behind(pole).run("out", "CB", "service", "10", cu, "10", 4).
			branch("A", "CB", circuit.L1L2, 70, 319, []int{8}, nil).
			load("kitchen", "service", l1, n, 2200, ohms).load("furnace", "service", l2, n, 500+300i, power).load("range", "service", l1, l2, 4000, ohms),
		"loads only, legs far apart": splitPhase(240).warm(40).run("feeder", "SP", "service", "2", al, "4", 120).
			load("left", "SP", l1, n, 4000, ohms).load("right", "SP", l2, n, 700+500i, ohms),
		"opposite unbalance on two buses": splitPhase(240).run("feeder", "SP", "service", "2", al, "4", 90).
			run("far", "XP", "SP", "8", cu, "10", 60).load("a", "SP", l1, n, 3000, ohms).load("b", "XP", l2, n, 1800, power).
			branch("A", "XP", circuit.L1L2, 30, 401, []int{8}, nil),
		"current kept by a load": splitPhase(240).run("feeder", "SP", "service", "6", cu, "6", 100).
			load("drive", "SP", l1, l2, 2400+700i, amps).load("lamp", "SP", l1, n, 600, amps).
			branch("A", "SP", circuit.L1L2, 20, 319, []int{4}, nil),
		"units that absorb vars": splitPhase(250).warm(75).run("out", "CB", "service", "6", cu, "6", 60).
			branch("A", "CB", circuit.L1L2, 55, 324-149i, []int{10}, nil),
		"three branches of two models": splitPhase(243.4).run("out", "CB", "service", "6", cu, "8", 18).
			branch("A", "CB", circuit.L1L2, 55, 341, []int{10}, nil).branch("B", "CB", circuit.L1L2, 55, 341, []int{10}, nil).
			branch("C", "CB", circuit.L1L2, 55, 401, []int{8}, nil),
		"two combiners": splitPhase(240).run("east", "CB1", "service", "8", cu, "10", 40).run("west", "CB2", "service", "6", cu, "8", 75).
			branch("A", "CB1", circuit.L1L2, 30, 341, []int{11}, nil).branch("B", "CB2", circuit.L1L2, 80, 341, []int{5, 5}, nil).
			load("pump", "CB2", l1, l2, 1500+600i, power),
		"208Y one branch": wye(208).branch("A", "service", circuit.L1L2, 50, 341, []int{9}, nil),
		"208Y three pairs alike": wye(208).run("out", "CB", "service", "6", cu, "8", 30).branch("A", "CB", circuit.L1L2, 50, 341, []int{9}, nil).
			branch("B", "CB", circuit.L2L3, 50, 341, []int{9}, nil).branch("C", "CB", circuit.L3L1, 50, 341, []int{9}, nil),
		"208Y pairs two to one": wye(212).warm(60).run("out", "CB", "service", "6", cu, "8", 45).branch("A", "CB", circuit.L1L2, 50, 341, []int{9}, nil).
			branch("B", "CB", circuit.L1L2, 55, 341, []int{8}, nil).branch("C", "CB", circuit.L2L3, 60, 341, []int{5}, nil),
		"208Y loads leg to neutral": wye(208).run("feeder", "SP", "service", "2", al, "4", 110).
			load("one", "SP", l1, n, 2500, ohms).load("two", "SP", l2, n, 900+400i, power).load("three", "SP", l3, n, 300, ohms).
			load("between", "SP", l2, l3, 2000+800i, power).branch("A", "SP", circuit.L3L1, 40, 401, []int{7}, nil),
		"208Y center-fed with jumpers": wye(214).run("out", "CB", "service", "8", cu, "10", 25).
			branch("A", "CB", circuit.L2L3, 66, 341, []int{5, 4}, map[int]float64{3: 30}).branch("B", "CB", circuit.L3L1, 66, 341, []int{4, 4}, map[int]float64{2: 16}),
		"208Y behind a transformer": wye(208).behind(circuit.Upstream{Leg: 0.008 + 0.02i}).run("out", "CB", "service", "6", cu, "6", 30).
			branch("A", "CB", circuit.L1L2, 50, 341, []int{9}, nil).branch("B", "CB", circuit.L2L3, 50, 324+105i, []int{6}, nil).
			load("shop", "service", l1, n, 5000+2000i, ohms),
		"forty units on five branches": splitPhase(240).behind(pole).run("out", "CB", "service", "4", cu, "8", 25).
			branch("A", "CB", circuit.L1L2, 60, 341, []int{8}, nil).branch("B", "CB", circuit.L1L2, 60, 341, []int{4, 4}, nil).
			branch("C", "CB", circuit.L1L2, 80, 341, []int{8}, map[int]float64{5: 22}).branch("D", "CB", circuit.L1L2, 80, 341, []int{8}, nil).
			branch("E", "CB", circuit.L1L2, 95, 341, []int{5, 3}, map[int]float64{2: 12}),
	}
	out := map[string]*circuit.Network{}
	for name, p := range all {
		out[name] = &p.Network
	}
	return out
}

// linear turns units into fixed currents and loads into impedances, so that one
// solution of the outside program is the answer.
func linear(n *circuit.Network) *circuit.Network {
	out := *n
	out.Units, out.Loads = nil, nil
	for _, u := range n.Units {
		out.Loads = append(out.Loads, circuit.Load{ID: u.ID, Node: u.Node, Across: u.Across, Power: -u.Power, Draws: circuit.ConstantCurrent})
	}
	for _, l := range n.Loads {
		if l.Draws == circuit.ConstantPower {
			l.Draws = circuit.ConstantImpedance
		}
		out.Loads = append(out.Loads, l)
	}
	return &out
}

package main

import (
	"math/rand/v2"
	"strings"
)

// mistake is one thing done wrong, with what it touches.
type mistake struct {
	name    string
	touches []string
	last    bool // is applied after those that place conductors
	do      func(*plant, *rand.Rand)
}

// mistakes lists all that can be wrong with an installation, each as likely as the
// other.
func mistakes(p *plant) []mistake {
	out := onGrid()
	for c := range p.windows {
		out = append(out, onWindow(p, c)...)
	}
	out = append(out, onProduction(p)...)
	for b := range p.branches {
		out = append(out, onBranch(p, b)...)
	}
	return out
}

func reverse(ids ...string) func(*plant, *rand.Rand) {
	return func(p *plant, _ *rand.Rand) {
		for _, id := range ids {
			for c := range p.rings[id].turns {
				p.rings[id].turns[c] *= -1
			}
		}
	}
}

func scale(g float64, ids ...string) func(*plant, *rand.Rand) {
	return func(p *plant, _ *rand.Rand) {
		for _, id := range ids {
			p.rings[id].gain = g
		}
	}
}

// gap opens a jaw somewhere in the range that the metering reference gives.
func gap(id string, wide bool) func(*plant, *rand.Rand) {
	return func(p *plant, r *rand.Rand) {
		g := p.rings[id]
		if wide {
			x := r.Float64()
			g.lead, g.gain = 25+25*x, .85-.25*x
		} else {
			x := r.Float64()
			g.lead, g.gain = 5+11*x, .99-.04*x
		}
		p.open[id] = true
	}
}

func onGrid() []mistake {
	var out []mistake
	for c, id := range []string{"G1", "G2"} {
		own, oth := string(rune('1'+c)), string(rune('2'-c))
		place := func(name string, turns map[string]float64) {
			out = append(out, mistake{id + " " + name, []string{id + " place"}, false, func(p *plant, _ *rand.Rand) {
				p.rings[id].turns = map[string]float64{}
				for k, n := range turns {
					p.rings[id].turns[k] = n
				}
			}})
		}
		core := func(name string, do func(*plant, *rand.Rand)) {
			out = append(out, mistake{id + " " + name, []string{id + " core"}, true, do})
		}
		place("on the other leg", map[string]float64{"S" + oth: 1})
		place("around both legs", map[string]float64{"S1": 1, "S2": 1})
		place("around both legs, one turned", map[string]float64{"S" + own: 1, "S" + oth: -1})
		place("on the neutral", map[string]float64{"SN": 1})
		place("on the load side", map[string]float64{"H" + own: 1})
		place("on the PV output, facing the panel", map[string]float64{"O" + own: 1})
		place("on the PV output, facing PV", map[string]float64{"O" + own: -1})
		place("around PV too", map[string]float64{"S" + own: 1, "O" + own: 1})
		place("around PV too, opposed", map[string]float64{"S" + own: 1, "O" + own: -1})
		out = append(out, mistake{id + " reversed", []string{id + " arrow"}, true, reverse(id)})
		core("dead", scale(0, id))
		core("half ratio", scale(.5, id))
		core("double ratio", scale(2, id))
		core("jaw open", gap(id, true))
		core("not latched", gap(id, false))
		out = append(out, mistake{id + " voltage from the other leg", []string{id + " volts"}, true, func(p *plant, _ *rand.Rand) { p.rings[id].plus = "L" + oth }},
			mistake{id + " without voltage", []string{id + " volts"}, true, func(p *plant, _ *rand.Rand) { p.rings[id].plus, p.rings[id].minus = "", "" }})
	}
	both := func(name, what string, last bool, do func(*plant, *rand.Rand)) {
		out = append(out, mistake{name, []string{"G1 " + what, "G2 " + what}, last, do})
	}
	lay := func(one, two map[string]float64) func(*plant, *rand.Rand) {
		return func(p *plant, _ *rand.Rand) {
			for id, turns := range map[string]map[string]float64{"G1": one, "G2": two} {
				p.rings[id].turns = map[string]float64{}
				for k, n := range turns {
					p.rings[id].turns[k] = n
				}
			}
		}
	}
	type m = map[string]float64
	both("grid CTs both reversed", "arrow", true, reverse("G1", "G2"))
	both("grid CTs swapped", "place", false, lay(m{"S2": 1}, m{"S1": 1}))
	both("grid CTs on the load side", "place", false, lay(m{"H1": 1}, m{"H2": 1}))
	both("grid CTs on the PV output", "place", false, lay(m{"O1": 1}, m{"O2": 1}))
	both("grid CTs on the PV output, facing PV", "place", false, lay(m{"O1": -1}, m{"O2": -1}))
	both("grid CTs around PV too", "place", false, lay(m{"S1": 1, "O1": 1}, m{"S2": 1, "O2": 1}))
	both("grid CTs around PV too, opposed", "place", false, lay(m{"S1": 1, "O1": -1}, m{"S2": 1, "O2": -1}))
	both("both legs in G1", "place", false, lay(m{"S1": 1, "S2": 1}, nil))
	both("both legs in G1, one turned", "place", false, lay(m{"S1": 1, "S2": -1}, nil))
	both("both legs in G2", "place", false, lay(nil, m{"S1": 1, "S2": 1}))
	both("grid CTs dead", "core", true, scale(0, "G1", "G2"))
	both("grid ratio half", "core", true, scale(.5, "G1", "G2"))
	both("grid ratio double", "core", true, scale(2, "G1", "G2"))
	both("grid ratio quarter", "core", true, scale(.25, "G1", "G2"))
	both("grid voltages exchanged", "volts", true, func(p *plant, _ *rand.Rand) { p.rings["G1"].plus, p.rings["G2"].plus = "L2", "L1" })
	both("grid voltages line to line", "volts", true, func(p *plant, _ *rand.Rand) { p.rings["G1"].minus, p.rings["G2"].minus = "L2", "L1" })
	return out
}

func onWindow(p *plant, c int) []mistake {
	id := []string{"P1", "P2"}[c]
	out := []mistake{
		{id + " reversed", []string{id + " arrow"}, true, reverse(id)},
		{id + " dead", []string{id + " core"}, true, scale(0, id)},
		{id + " jaw open", []string{id + " core"}, true, gap(id, true)},
		{id + " not latched", []string{id + " core"}, true, gap(id, false)},
	}
	if p.windows == 2 {
		out = append(out, mistake{id + " half ratio", []string{id + " core"}, true, scale(.5, id)},
			mistake{id + " double ratio", []string{id + " core"}, true, scale(2, id)})
	}
	return out
}

func onProduction(p *plant) []mistake {
	ids := []string{"P1", "P2"}[:p.windows]
	touch := func(what string) []string {
		var out []string
		for _, id := range ids {
			out = append(out, id+" "+what)
		}
		return out
	}
	out := []mistake{
		{"production ratio half", touch("core"), true, scale(.5, ids...)},
		{"production ratio double", touch("core"), true, scale(2, ids...)},
		{"production around loads", touch("place"), true, func(p *plant, _ *rand.Rand) {
			for i, id := range ids {
				p.rings[id].turns["H"+string(rune('1'+i))] = -1
			}
		}},
	}
	if p.windows == 1 {
		return append(out, mistake{"production voltage from one leg", touch("volts"), true, func(p *plant, _ *rand.Rand) { p.rings["P1"].minus = "N" }})
	}
	return append(out,
		mistake{"production CTs both reversed", touch("arrow"), true, reverse(ids...)},
		mistake{"production voltages exchanged", touch("volts"), true, func(p *plant, _ *rand.Rand) { p.rings["P1"].plus, p.rings["P2"].plus = "L2", "L1" }})
}

func onBranch(p *plant, b int) []mistake {
	one, two := branch(b, "1"), branch(b, "2")
	name := "branch " + one[1:2] + " "
	put := func(what string, turns ...[2]float64) mistake {
		return mistake{name + what, []string{name}, false, func(p *plant, _ *rand.Rand) {
			for w, n := range turns {
				t := p.rings[[]string{"P1", "P2"}[w]].turns
				t[one], t[two] = n[0], n[1]
			}
		}}
	}
	if p.windows == 1 {
		return []mistake{put("backwards", [2]float64{-1, 0}), put("L2 for L1", [2]float64{0, 1}), put("both through", [2]float64{1, 1}),
			put("both opposed", [2]float64{1, -1}), put("missed", [2]float64{}), put("looped twice", [2]float64{2, 0})}
	}
	n := func(a, b float64) [2]float64 { return [2]float64{a, b} }
	return []mistake{
		put("L1 backwards", n(-1, 0), n(0, 1)), put("L2 backwards", n(1, 0), n(0, -1)), put("both backwards", n(-1, 0), n(0, -1)),
		put("crossed", n(0, 1), n(1, 0)), put("both in window 1", n(1, 1), n(0, 0)), put("both in window 1, opposed", n(1, -1), n(0, 0)),
		put("both in window 2, opposed", n(0, 0), n(-1, 1)), put("L1 missed", n(0, 0), n(0, 1)), put("L2 missed", n(1, 0), n(0, 0)),
		put("both missed", n(0, 0), n(0, 0)), put("L1 looped twice", n(2, 0), n(0, 1)),
	}
}

// spoil puts none, one or two mistakes into a plant: 40, 40 and 20 in a hundred.
func spoil(p *plant, r *rand.Rand) {
	x := r.Float64()
	if x < .4 {
		return
	}
	list := mistakes(p)
	chosen := []mistake{list[r.IntN(len(list))]}
	for x > .8 && len(chosen) < 2 {
		if m := list[r.IntN(len(list))]; apart(chosen[0], m) {
			chosen = append(chosen, m)
		}
	}
	for _, last := range []bool{false, true} {
		for _, m := range chosen {
			if m.last == last {
				m.do(p, r)
			}
		}
	}
	for _, m := range chosen {
		p.mistakes = append(p.mistakes, m.name)
	}
}

func apart(a, b mistake) bool {
	for _, x := range a.touches {
		for _, y := range b.touches {
			if strings.HasPrefix(x, y) || strings.HasPrefix(y, x) {
				return false
			}
		}
	}
	return true
}

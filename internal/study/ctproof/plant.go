package main

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
)

// plant is a simulated installation: what is really there. It shares no code with
// the inference: currents are solved on the network conductor by conductor, and
// every channel sums the currents that pass its ring.
type plant struct {
	wye               bool
	windows, branches int
	sky               string
	rings             map[string]*ring
	mistakes          []string
	open              map[string]bool // channels with a core gap

	source        [2]complex128 // open-circuit leg voltages
	line, neutral complex128    // service impedances
	base          [3]complex128 // house loads on L1, L2 and between, VA
	wander        float64       // share by which they drift from state to state
	switching     float64       // chance that a load is switched between two states
	rating        []float64     // W of each branch in the sun of the day
	told          []float64     // what was expected of it
	unsteady      float64       // spread of the sun between states
	heater        [3]float64    // true over told watts of the test load
	toldHeater    [3]float64
	resolution    float64 // of watts and vars
	gainErr       map[string]float64
	leadErr       map[string]float64
	offset        map[string]float64
}

// ring is one channel as wired.
type ring struct {
	turns map[string]float64 // by conductor: S1 S2 SN H1 H2 O1 O2 B1.1 B1.2 ...
	gain  float64
	lead  float64 // degrees
	plus  string  // voltage reference: L1, L2, N, or nothing when lost
	minus string
}

func pick[T any](r *rand.Rand, list ...T) T { return list[r.IntN(len(list))] }

func logUniform(r *rand.Rand, low, high float64) float64 {
	return low * math.Exp(r.Float64()*math.Log(high/low))
}

// build draws an installation without mistakes.
//
// Ranges: service impedances and meter errors after the worked cases of the
// metering reference, section 6, widened; house loads quiet to busy, 40 W to 2.5 kW
// a leg; test load 500 to 1800 W, true to 7 %; sun from 15 to 100 % of branches of
// 4 to 12 units of 300 W, expected to 15 % in common and 6 % each.
func build(r *rand.Rand) *plant {
	p := &plant{
		wye: r.Float64() < .15, windows: 2, branches: 1 + r.IntN(5),
		rings: map[string]*ring{}, open: map[string]bool{},
		gainErr: map[string]float64{}, leadErr: map[string]float64{}, offset: map[string]float64{},
		resolution: 1,
	}
	if r.Float64() < .3 {
		p.windows = 1
	}
	if r.Float64() < .15 {
		p.resolution = 10
	}
	p.sky = pick(r, "clear", "clear", "clear", "broken", "dull")
	p.unsteady = map[string]float64{"clear": .02, "broken": .25, "dull": .06}[p.sky]
	second := cmplx.Rect(1, math.Pi)
	if p.wye {
		second = cmplx.Rect(1, -2*math.Pi/3)
	}
	volts := 120 * (1 + .02*r.NormFloat64())
	p.source = [2]complex128{complex(volts*(1+.003*r.NormFloat64()), 0), second * complex(volts*(1+.003*r.NormFloat64()), 0)}
	p.line = complex(.010+.030*r.Float64(), .012)
	p.neutral = complex(.012+.036*r.Float64(), .012)
	for leg := range 2 {
		w := logUniform(r, 40, 2500)
		p.base[leg] = complex(w, w*math.Tan(math.Acos(.75+.25*r.Float64())))
	}
	if r.Float64() < .3 {
		w := logUniform(r, 100, 4000)
		p.base[2] = complex(w, w*math.Tan(math.Acos(.8+.2*r.Float64())))
	}
	p.wander = .02 + .08*r.Float64()
	p.switching = pick(r, .02, .1, .2)
	sun := .15 + .85*r.Float64()
	common := 1 + .15*r.NormFloat64()
	for range p.branches {
		w := float64(4+r.IntN(9)) * 300 * sun
		p.rating = append(p.rating, w)
		p.told = append(p.told, math.Max(20, math.Round(w*common*(1+.06*r.NormFloat64()))))
	}
	leg := math.Round(500 + 1300*r.Float64())
	p.toldHeater = [3]float64{leg, leg, math.Round(3000 + 2500*r.Float64())}
	for i := range p.heater {
		p.heater[i] = p.toldHeater[i] * (1 + .07*(2*r.Float64()-1))
	}
	for c, id := range []string{"G1", "G2", "P1", "P2"}[:2+p.windows] {
		k := string(rune('1' + c%2))
		g := &ring{turns: map[string]float64{}, gain: 1, plus: "L" + k, minus: "N"}
		if c < 2 {
			g.turns["S"+k] = 1
		} else {
			for b := range p.branches {
				g.turns[branch(b, k)] = 1
			}
			if p.windows == 1 {
				g.minus = "L2"
			}
		}
		p.rings[id] = g
		p.gainErr[id] = .005 * r.NormFloat64()
		p.leadErr[id] = .35 + .25*r.NormFloat64()
		p.offset[id] = 1.5 * r.NormFloat64()
	}
	return p
}

func branch(b int, leg string) string { return "B" + string(rune('1'+b)) + "." + leg }

// figures are the volts, amps, watts and vars that a channel shows.
type figures struct{ v, a, w, q float64 }

// currents solves the network for constant powers: loads on L1, L2 and between, and
// the watts of each branch.
func (p *plant) currents(load [3]complex128, pv []float64) (map[string]complex128, map[string]complex128) {
	v := p.source
	i := map[string]complex128{}
	for range 12 {
		i1 := cmplx.Conj(load[0] / v[0])
		i2 := cmplx.Conj(load[1] / v[1])
		i12 := cmplx.Conj(load[2] / (v[0] - v[1]))
		i["H1"], i["H2"] = i1+i12, i2-i12
		i["O1"], i["O2"] = 0, 0
		for b, w := range pv {
			g := cmplx.Conj(complex(w, 0) / (v[0] - v[1]))
			i[branch(b, "1")], i[branch(b, "2")] = g, -g
			i["O1"] += g
			i["O2"] -= g
		}
		i["S1"], i["S2"] = i["H1"]-i["O1"], i["H2"]-i["O2"]
		i["SN"] = i["S1"] + i["S2"]
		drop := p.neutral * i["SN"]
		v = [2]complex128{p.source[0] - p.line*i["S1"] - drop, p.source[1] - p.line*i["S2"] - drop}
	}
	return i, map[string]complex128{"L1": v[0], "L2": v[1]}
}

// sees is what a ring makes of currents and voltages.
func (g *ring) sees(i, v map[string]complex128) (volts float64, amps float64, power complex128) {
	var sum complex128
	for c, n := range g.turns {
		sum += complex(n, 0) * i[c]
	}
	sum *= cmplx.Rect(g.gain, g.lead*math.Pi/180)
	u := v[g.plus] - v[g.minus]
	return cmplx.Abs(u), cmplx.Abs(sum), u * cmplx.Conj(sum)
}

// shows adds the meter: ratio and phase of its own, offset, noise, steps, and the
// small readings that it suppresses (metering reference, section 6).
func (p *plant) shows(r *rand.Rand, id string, i, v map[string]complex128) figures {
	volts, amps, s := p.rings[id].sees(i, v)
	s *= cmplx.Rect(1+p.gainErr[id], -p.leadErr[id]*math.Pi/180)
	w := real(s) + p.offset[id] + 1.5*r.NormFloat64()
	q := imag(s) + 2.5*r.NormFloat64()
	if math.Abs(w) < 4 {
		w = 0
	}
	if math.Abs(q) < 6 {
		q = 0
	}
	step := func(x, by float64) float64 { return math.Round(x/by) * by }
	return figures{step(volts*(1+.0005*r.NormFloat64()), .1), step(math.Hypot(amps, .03*r.NormFloat64()), .01), step(w, p.resolution), step(q, p.resolution)}
}

// state is one state of the site as it really is and as it is told.
type state struct {
	leg   int // of the test load: 0, 1, 2, or -1 for none
	on    []int
	shown map[string]figures
}

// take puts the site into a state and reads its meter. The house moves on.
func (p *plant) take(r *rand.Rand, leg int, on []int) state {
	for k := range p.base {
		p.base[k] *= complex(math.Exp(p.wander*r.NormFloat64()), 0)
	}
	if r.Float64() < p.switching {
		k := r.IntN(3)
		w := 150 + 1500*r.Float64()
		if real(p.base[k]) > 900 && r.Float64() < .5 {
			p.base[k] *= .3
		} else {
			p.base[k] += complex(w, w*.4*r.Float64())
		}
	}
	common := complex(1+.0012*r.NormFloat64(), 0)
	kept := p.source
	p.source = [2]complex128{kept[0] * common, kept[1] * common}
	load := p.base
	if leg >= 0 {
		load[leg] += complex(p.heater[leg], 0)
	}
	sun := math.Max(.05, math.Min(1.3, 1+p.unsteady*r.NormFloat64()))
	pv := make([]float64, p.branches)
	for _, b := range on {
		pv[b] = p.rating[b] * sun * (1 + .02*r.NormFloat64())
	}
	i, v := p.currents(load, pv)
	p.source = kept
	out := state{leg: leg, on: on, shown: map[string]figures{}}
	for id := range p.rings {
		out.shown[id] = figures{}
	}
	for _, id := range []string{"G1", "G2", "P1", "P2"} {
		if p.rings[id] != nil {
			out.shown[id] = p.shows(r, id, i, v)
		}
	}
	return out
}

// truth is what a channel answers to one watt of each device, on a stiff service.
func (p *plant) truth(id string) map[string]complex128 {
	second := complex(-1, 0)
	if p.wye {
		second = cmplx.Rect(1, -2*math.Pi/3)
	}
	stiff := &plant{source: [2]complex128{1, second}}
	out := map[string]complex128{}
	ask := func(name string, load [3]complex128, pv []float64) {
		i, v := stiff.currents(load, pv)
		_, _, s := p.rings[id].sees(i, v)
		out[name] = s
	}
	none := make([]float64, p.branches)
	ask("L1", [3]complex128{1, 0, 0}, none)
	ask("L2", [3]complex128{0, 1, 0}, none)
	ask("L12", [3]complex128{0, 0, 1}, none)
	for b := range p.branches {
		one := make([]float64, p.branches)
		one[b] = 1
		ask("pv"+string(rune('1'+b)), [3]complex128{}, one)
	}
	return out
}

package ctproof

import (
	"fmt"
	"math"
	"math/cmplx"
	"strconv"
)

// trial is a state that could be taken next.
type trial struct {
	code    string
	minutes float64
	load    [3]float64 // added on L1, L2, between them
	branch  int        // switched on, 0 for none
	all     bool       // house as found
}

// Minutes of a state, and the load supposed for it.
//
// Source: metering reference, section 3: S0 a minute, a load on a leg two, a
// branch five for the enter-service delay.
const (
	minutesS0   = 1
	minutesLoad = 2
	minutesPV   = 5
	supposeLoad = 1500.
	supposeBoth = 4500.
	supposePV   = 1000.
)

// again is by how much a state that was taken before is put off: what split nothing
// once will hardly do so twice, unless a load of the house was switched meanwhile.
const again = 6

// worthwhile is the information in bits below which a state is not worth taking.
const worthwhile = .01

// next finds the state with the most expected information per minute, and turns
// Open into CannotTell where none would help.
func (p *Proof) next(j joint, a *Answer) *Next {
	var best *Next
	var bitsG, bitsP float64
	for _, t := range p.trials() {
		g, q := p.bits(j.grid, t), p.bits(j.prod, t)
		if (t.load[0] > 0 || t.load[1] > 0) && !p.legTested() {
			g = max(g, needed)
		}
		bitsG, bitsP = max(bitsG, g), max(bitsP, q)
		gain := 0.
		if a.Grid.Verdict != Settled && g > worthwhile {
			gain += g
		}
		if a.Production.Verdict != Settled && p.site.Windows > 0 && q > worthwhile {
			gain += q
		}
		if gain > 0 && (best == nil || gain/t.minutes > best.Bits/best.Minutes) {
			best = &Next{State: t.code, Minutes: t.minutes, Bits: gain, Caution: t.caution(),
				Why: fmt.Sprintf("%s: expected to tell %.1f bits about what is still possible", StateName(t.code), gain)}
		}
	}
	if a.Grid.Verdict == Open && bitsG <= worthwhile {
		a.Grid.Verdict = CannotTell
	}
	if a.Production.Verdict == Open && bitsP <= worthwhile {
		a.Production.Verdict = CannotTell
	}
	return best
}

// needed is what a load on one leg counts at least as long as none was on, in bits:
// without it the grid channels stay open.
const needed = .1

// trials lists the states to choose from: those not taken yet, and loads once more.
func (p *Proof) trials() []trial {
	taken := map[string]int{}
	for _, s := range p.states {
		if len(s.On) == 0 && s.L1.W == 0 && s.L2.W == 0 && s.L12.W == 0 {
			taken["S0"]++
		}
		for i, k := range []Known{s.L1, s.L2, s.L12} {
			if k.W > 0 {
				taken["S"+strconv.Itoa(i+1)]++
			}
		}
	}
	var out []trial
	offer := func(t trial) {
		switch taken[t.code] {
		case 0:
			out = append(out, t)
		case 1:
			t.minutes *= again
			out = append(out, t)
		}
	}
	offer(trial{code: "S0", minutes: minutesS0, all: true})
	for i, w := range []float64{supposeLoad, supposeLoad, supposeBoth} {
		t := trial{code: "S" + strconv.Itoa(i+1), minutes: minutesLoad}
		t.load[i] = w
		offer(t)
	}
	on := ""
	for b, was := range p.on {
		if was {
			on += strconv.Itoa(b + 1)
			continue
		}
		out = append(out, trial{code: "B" + on + strconv.Itoa(b+1), minutes: minutesPV, branch: b + 1})
		break
	}
	return out
}

func (t trial) caution() string {
	switch {
	case t.branch > 0:
		return fmt.Sprintf("close the breaker only; stay out of the enclosure. Wait %d s before reading: what shows until then is no evidence", EnterService)
	case t.load[2] > 0:
		return "switch the load at its own control; hot water and heating can scald"
	case t.all:
		return "with branch breakers open the conductors of the service stay live, and modules make DC in light"
	}
	return "find the leg of the outlet first; a heater gets hot: keep it clear, on a circuit that can carry it"
}

// bits is the information expected of a state about the classes of one side: how
// far apart their readings would lie, by drift and noise.
//
// Source: A. Kolchinsky, B. D. Tracey, Estimating mixture entropy with pairwise
// distances, 2017, the lower bound with Bhattacharyya distances.
func (p *Proof) bits(ws []weighed, t trial) float64 {
	const most = 16
	var list []weighed
	var sum float64
	for _, w := range ws {
		if weight(w) > 1e-3 {
			list = append(list, w)
		}
	}
	if len(list) > most {
		list = list[:most]
	}
	for _, w := range list {
		sum += weight(w)
	}
	if len(list) < 2 {
		return 0
	}
	info := 0.
	for i := range list {
		mix := 0.
		for j := range list {
			mix += weight(list[j]) / sum * math.Exp(-p.distance(list[i].response, list[j].response, t))
		}
		info -= weight(list[i]) / sum * math.Log2(mix)
	}
	return info
}

// weight stands between belief and caution, so that what no reading has tested
// draws a test.
func weight(w weighed) float64 { return (w.p + w.sceptic) / 2 }

// distance is Bhattacharyya's between the readings of two responses, channel by
// channel, with the wider of the two spreads.
func (p *Proof) distance(a, b *response, t trial) float64 {
	d := 0.
	for c := range a.rows {
		ya, va := t.predict(a, c)
		yb, vb := t.predict(b, c)
		x := cmplx.Abs(ya - yb)
		d += x * x / 8 / max(va, vb)
	}
	return d
}

// predict is the change of a channel's reading and its variance.
func (t trial) predict(r *response, c int) (complex128, float64) {
	row := r.rows[c]
	legs := []complex128{row.L1, row.L2, row.L12}
	var y complex128
	v := float64(floorW*floorW + floorVAR*floorVAR)
	square := func(k complex128, s float64) {
		x := cmplx.Abs(k) * s
		v += x * x
	}
	drift := houses[1].drift
	square(legs[0], drift)
	square(legs[1], drift)
	for i, k := range legs {
		w := t.load[i]
		y += k * complex(w, 0)
		square(k, testLoadW*w)
	}
	if t.all { // the house itself is the load, of unknown size
		y += (row.L1 + row.L2) * complex(houses[1].mean, 0)
		square(row.L1, houses[1].spread)
		square(row.L2, houses[1].spread)
	}
	if t.branch > 0 {
		k := row.PV[t.branch-1]
		y += k * supposePV
		square(k, sunCommon*supposePV)
	}
	if r.jaws[c] != shut {
		x := cmplx.Abs(y) * math.Hypot(r.jaws[c].ratio, r.jaws[c].phase)
		v += x * x
	}
	x := cmplx.Abs(y) * .03
	return y, v + x*x
}

package ctproof

import (
	"math"

	"legwork/meter"
)

// made is what the states so far tell of production responses, and what each of
// them makes of the PV power.
//
// The power of a branch in a state is its expectation times
//
//	1 + common + branch + state
//
// three errors with the spreads of house.go; the filter runs over these errors, over
// the loads that the windows may enclose, W and var of each leg, and over how far ratio
// and phase of each channel's gap lie from its middle.
type made struct {
	rows    []meter.Row
	jaws    []jaw
	members []*response // that the branches on so far cannot tell apart
	mean    []float64   // common, one a branch, one a state with PV on
	cov     [][]float64
	log     float64 // widths of all innovations
	misfit  float64 // ½ the sum of squared innovations
	steps   []float64
}

func (m *made) score() float64 { return m.log - m.misfit }

// best is the score of the likeliest member.
func (m *made) best() float64 {
	best := math.Inf(-1)
	for _, r := range m.members {
		best = max(best, m.score()+r.log)
	}
	return best
}

func beginMade(members []*response, branches int) *made {
	m := &made{members: members}
	m.grow(sunCommon)
	for range branches {
		m.grow(sunBranch)
	}
	for range 2 {
		m.grow(enclosedSpread)
		m.grow(enclosedSpreadVAR)
	}
	for range 4 {
		m.grow(0)
	}
	return m
}

// grow adds an error of a given spread.
func (m *made) grow(spread float64) {
	n := len(m.mean)
	m.mean = append(m.mean, 0)
	cov := make([][]float64, n+1)
	flat := make([]float64, (n+1)*(n+1))
	for i := range cov {
		cov[i] = flat[i*(n+1) : (i+1)*(n+1)]
		if i < n {
			copy(cov[i], m.cov[i])
		}
	}
	cov[n][n] = spread * spread
	m.cov = cov
}

// open gives gaps their spread once a branch that is on can tell them.
func (m *made) open(branches int) {
	for c, j := range m.jaws {
		k := 1 + branches + 4 + 2*c
		if m.cov[k][k] == 0 {
			m.cov[k][k], m.cov[k+1][k+1] = j.ratio*j.ratio, j.phase*j.phase
		}
	}
}

// output is the PV of one state as the production filter needs it.
type output struct {
	expected []float64 // by branch, 0 when off
	state    int       // index of the state's own error, -1 when PV is off
	spread   float64   // of that error
}

// scalar takes one figure y = base + h·errors, with the given variance.
func (m *made) scalar(h []float64, y, base, variance float64) {
	n := len(m.mean)
	ph := make([]float64, n)
	v, s := y-base, variance
	for i := range n {
		if h[i] == 0 {
			continue
		}
		v -= h[i] * m.mean[i]
		for j := range n {
			ph[j] += m.cov[j][i] * h[i]
		}
	}
	for i := range n {
		s += h[i] * ph[i]
	}
	m.log -= math.Log(s) / 2
	m.misfit += v * v / s / 2
	for i := range n {
		if ph[i] == 0 {
			continue
		}
		g := ph[i] / s
		m.mean[i] += g * v
		for j := range n {
			m.cov[i][j] -= g * ph[j]
		}
	}
}

// line is the linear dependence of Σ k_b·P_b on the errors.
func (o output) line(k func(b int) float64, branches, n int) (base float64, h []float64) {
	h = make([]float64, n)
	for b := range branches {
		x := k(b) * o.expected[b]
		base += x
		h[1+b] = x
	}
	h[0] = base
	if o.state >= 0 {
		h[1+branches+8+o.state] = base
	}
	return base, h
}

// step takes the production channels of one state.
func (m *made) step(in *instant, out output, channels []measured, branches int, sums []sum) {
	if out.state >= 0 {
		m.grow(out.spread)
	}
	n := len(m.mean)
	for c, y := range channels {
		if !y.known {
			continue
		}
		row := m.rows[c]
		u := row.L1*in.u[0] + row.L2*in.u[1] + row.L12*in.u[2]
		ww, wq, qq := y.ww, y.wq, y.qq
		re, hre := out.line(func(b int) float64 { return real(row.PV[b]) }, branches, n)
		im, him := out.line(func(b int) float64 { return imag(row.PV[b]) }, branches, n)
		if m.jaws[c] != shut {
			k := 1 + branches + 4 + 2*c
			hre[k], hre[k+1] = real(y.s), -imag(y.s)
			him[k], him[k+1] = imag(y.s), real(y.s)
		}
		for leg, k := range []complex128{row.L1, row.L2} {
			if k == 0 {
				continue
			}
			d := 1 + branches + 2*leg
			hre[d], hre[d+1] = real(k), -imag(k)
			him[d], him[d+1] = imag(k), real(k)
			u += k * complex(enclosedMean, enclosedMeanVAR)
			square := func(x float64) float64 { return x * x }
			ww += square(real(k)*enclosedDrift) + square(imag(k)*enclosedDriftVAR)
			qq += square(imag(k)*enclosedDrift) + square(real(k)*enclosedDriftVAR)
		}
		for i, k := range []complex128{row.L1, row.L2, row.L12} {
			w := real(k) * in.heat[i]
			ww += w * w
			w = imag(k) * in.heat[i]
			qq += w * w
		}
		// Two figures with a common error: the second less what the first tells.
		l := wq / ww
		m.scalar(hre, real(y.s), re+real(u), ww)
		for i := range him {
			him[i] -= l * hre[i]
		}
		m.scalar(him, imag(y.s)-l*real(y.s), im+imag(u)-l*(re+real(u)), qq-l*wq)
	}
	for _, s := range sums {
		base, h := out.line(func(int) float64 { return 1 }, branches, n)
		m.scalar(h, s.w, base, s.spread*s.spread)
	}
	m.steps = append(m.steps, m.score())
}

// Loads inside production windows, W and var a leg: anything from an outlet to the
// whole house. Judgement.
const (
	enclosedMean      = 600
	enclosedSpread    = 900
	enclosedDrift     = 200
	enclosedMeanVAR   = 200
	enclosedSpreadVAR = 500
	enclosedDriftVAR  = 150
)

// sum is the power of all branches as told by something other than a channel.
type sum struct{ w, spread float64 }

// sumsOf reads the inverters' own sum and the clamp.
//
// Spreads: microinverters report within about 3 %, common practice to expect 5 %
// agreement with a meter; a clamp meter 2 % and 5 digits, a usual specification.
func sumsOf(st *State, sys meter.System) []sum {
	var out []sum
	if st.InverterSum.Known {
		w := float64(st.InverterSum.Value)
		out = append(out, sum{w, 10 + .03*math.Abs(w)})
	}
	if st.ClampOutput.Known {
		volts := 240.
		if sys == meter.Wye {
			volts = 208
		}
		w := float64(st.ClampOutput.Value) * volts
		out = append(out, sum{w, .5/1.7*volts + .04*w})
	}
	return out
}

// power is the PV power of each state with PV on, as a Gaussian.
func (m *made) power(outs []output, branches int) (sun, bool) {
	s := sun{n: len(outs)}
	n := len(m.mean)
	lines := make([][]float64, len(outs))
	var mean [most]float64
	for t, o := range outs {
		base, h := o.line(func(int) float64 { return 1 }, branches, n)
		lines[t] = h
		mean[t] = base
		for i := range n {
			mean[t] += h[i] * m.mean[i]
		}
	}
	var c, l [most][most]float64
	for t := range outs {
		ch := make([]float64, n)
		for i := range n {
			for j := range n {
				ch[i] += m.cov[i][j] * lines[t][j]
			}
		}
		for k := 0; k <= t; k++ {
			for i := range n {
				c[t][k] += lines[k][i] * ch[i]
			}
		}
		c[t][t] += 4 // 2 W: keeps the inverse sound
	}
	if _, ok := factor(&c, s.n, &l); !ok {
		return s, false
	}
	// The precision is L⁻ᵀ·L⁻¹.
	var inv [most][most]float64
	for j := range s.n {
		for i := j; i < s.n; i++ {
			x := 0.
			if i == j {
				x = 1
			}
			for k := j; k < i; k++ {
				x -= l[i][k] * inv[k][j]
			}
			inv[i][j] = x / l[i][i]
		}
	}
	for i := range s.n {
		for j := range s.n {
			for k := max(i, j); k < s.n; k++ {
				s.lam[i][j] += inv[k][i] * inv[k][j]
			}
		}
	}
	for i := range s.n {
		for j := range s.n {
			s.eta[i] += s.lam[i][j] * mean[j]
		}
	}
	return s, s.settle()
}

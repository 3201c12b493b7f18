package ctproof

import (
	"math"

	"legwork/meter"
)

// strand is one story of the house: its level and where it jumped. Given the PV
// power of each state it is a Kalman filter over watts and vars of both legs,
// whose mean is kept as a linear function of that power.
type strand struct {
	level  int
	log    float64              // prior of the story, and widths of all innovations
	misfit float64              // ½ the sum of squared innovations at no PV
	m      [4][most + 1]float64 // mean: constant, then per watt of PV in each state
	p      [4][4]float64
	lam    [most][most]float64 // the likelihood as a function of PV
	eta    [most]float64
	score  float64 // with the prior of PV integrated out
}

// tracked is what the states so far tell of the grid responses that they cannot
// tell apart: before any PV is on, all that answer alike to loads.
type tracked struct {
	rows    []meter.Row
	jaws    []jaw
	members []*response
	strands []strand
	score   float64   // of all stories
	steps   []float64 // score after each state
}

// instant is one state as the grid filter needs it.
type instant struct {
	y        [2]meter.Channel
	m        [2]measured
	u        [3]complex128 // known loads
	e        [4][4]float64 // covariance of their errors, on the legs
	pv       int           // index of the PV power among states, -1 when off
	share    [2]complex128 // of a load between the legs
	anything bool
}

const (
	stories = 4  // kept per response
	patient = 12 // nats within which a story is kept
)

// step takes one state into all stories of a response. room is scratch that the
// caller keeps between calls.
func (t *tracked) step(in *instant, sky *sun, room *[]strand) {
	h, hpv, off := t.observe(in)
	var r [2]measured
	for c := range r {
		r[c] = in.m[c].slack(t.jaws[c])
	}
	next := (*room)[:0]
	if len(t.strands) == 0 {
		for i, l := range houses {
			next = append(next, strand{level: i, log: math.Log(l.weight)})
			s := &next[len(next)-1]
			s.m = [4][most + 1]float64{{l.mean}, {l.meanQ}, {l.mean}, {l.meanQ}}
			for k := range 4 {
				v := l.spread
				if k%2 == 1 {
					v = l.spreadQ
				}
				s.p[k][k] = v * v
			}
			jump(&s.p, in.share, l.between, l.between/3)
			s.update(&h, &hpv, &off, in, &r, sky)
		}
	}
	calm := math.Log(1 - 3*jumpChance)
	leap := math.Log(jumpChance)
	for i := range t.strands {
		old := &t.strands[i]
		l := houses[old.level]
		for k := range 4 {
			v := l.drift
			if k%2 == 1 {
				v = l.driftQ
			}
			old.p[k][k] += v * v
		}
		next = append(next, *old)
		s := &next[len(next)-1]
		s.log += calm
		width := s.update(&h, &hpv, &off, in, &r, sky)
		if s.score-old.score-width > -5 {
			continue // a calm house explains it: no jump could do so better
		}
		for leg := range 3 {
			next = append(next, *old)
			s := &next[len(next)-1]
			s.log += leap
			switch leg {
			case 0, 1:
				s.p[2*leg][2*leg] += jumpW * jumpW
				s.p[2*leg+1][2*leg+1] += jumpVAR * jumpVAR
			default:
				jump(&s.p, in.share, jumpBetween, jumpVAR)
			}
			s.update(&h, &hpv, &off, in, &r, sky)
		}
	}
	*room = next
	t.keepBest(next)
	t.steps = append(t.steps, t.score)
}

// keepBest keeps the likeliest stories.
func (t *tracked) keepBest(next []strand) {
	t.score = math.Inf(-1)
	var order [stories]int
	n := 0
	for i := range next {
		k := n
		if n < stories {
			n++
		} else if next[i].score <= next[order[n-1]].score {
			continue
		} else {
			k = n - 1
		}
		for k > 0 && next[i].score > next[order[k-1]].score {
			order[k] = order[k-1]
			k--
		}
		order[k] = i
	}
	t.strands = t.strands[:0]
	for _, i := range order[:n] {
		if next[i].score > next[order[0]].score-patient {
			t.strands = append(t.strands, next[i])
			t.score = add(t.score, next[i].score)
		}
	}
}

// jump adds the covariance of a load between the legs.
func jump(p *[4][4]float64, share [2]complex128, w, v float64) {
	var a [4][2]float64
	for leg, k := range share {
		a[2*leg] = [2]float64{real(k), -imag(k)}
		a[2*leg+1] = [2]float64{imag(k), real(k)}
	}
	for i := range 4 {
		for j := range 4 {
			p[i][j] += a[i][0]*a[j][0]*w*w + a[i][1]*a[j][1]*v*v
		}
	}
}

// observe is the response as a real matrix: what the four figures answer to the
// legs and to PV, and what the known loads alone would show.
func (t *tracked) observe(in *instant) (h [4][4]float64, pv, off [4]float64) {
	for c := range 2 {
		row := t.rows[c]
		for leg, k := range []complex128{row.L1, row.L2} {
			h[2*c][2*leg], h[2*c][2*leg+1] = real(k), -imag(k)
			h[2*c+1][2*leg], h[2*c+1][2*leg+1] = imag(k), real(k)
		}
		pv[2*c], pv[2*c+1] = real(row.PV[0]), imag(row.PV[0])
		u := row.L1*in.u[0] + row.L2*in.u[1] + row.L12*in.u[2]
		off[2*c], off[2*c+1] = real(u), imag(u)
	}
	return h, pv, off
}

// update is one Kalman step. It returns minus half the log determinant of the
// innovation, which is the score of a perfect fit.
func (s *strand) update(h *[4][4]float64, hpv, off *[4]float64, in *instant, r *[2]measured, sky *sun) float64 {
	n := sky.n
	var v [4][most + 1]float64 // innovation: constant, then per watt of PV
	for i := range 4 {
		for k := range n + 1 {
			x := 0.
			for j := range 4 {
				x -= h[i][j] * s.m[j][k]
			}
			v[i][k] = x
		}
		c := i / 2
		y := real(in.m[c].s)
		if i%2 == 1 {
			y = imag(in.m[c].s)
		}
		v[i][0] += y - off[i]
		if in.pv >= 0 {
			v[i][1+in.pv] -= hpv[i]
		}
	}
	var ph, pe [4][4]float64 // P·Hᵀ, (P+E)·Hᵀ
	for i := range 4 {
		for j := range 4 {
			for k := range 4 {
				ph[i][j] += s.p[i][k] * h[j][k]
				pe[i][j] += (s.p[i][k] + in.e[i][k]) * h[j][k]
			}
		}
	}
	var a, l [4][4]float64
	for i := range 4 {
		for j := 0; j <= i; j++ {
			for k := range 4 {
				a[i][j] += h[i][k] * pe[k][j]
			}
		}
	}
	for c := range 2 {
		a[2*c][2*c] += r[c].ww
		a[2*c+1][2*c+1] += r[c].qq
		a[2*c+1][2*c] += r[c].wq
	}
	half := 0.
	for i := range 4 {
		for j := 0; j <= i; j++ {
			x := a[i][j]
			for k := range j {
				x -= l[i][k] * l[j][k]
			}
			if i == j {
				l[i][i] = math.Sqrt(x)
				half += math.Log(l[i][i])
			} else {
				l[i][j] = x / l[j][j]
			}
		}
	}
	lower := func(b *[4]float64) {
		for i := range 4 {
			for k := range i {
				b[i] -= l[i][k] * b[k]
			}
			b[i] /= l[i][i]
		}
	}
	var w [4][most + 1]float64 // L⁻¹·innovation
	for k := range n + 1 {
		b := [4]float64{v[0][k], v[1][k], v[2][k], v[3][k]}
		lower(&b)
		for i := range 4 {
			w[i][k] = b[i]
		}
	}
	for i := range 4 {
		s.misfit += w[i][0] * w[i][0] / 2
	}
	for k := range n {
		for i := range 4 {
			s.eta[k] -= w[i][1+k] * w[i][0]
			for j := 0; j <= k; j++ {
				s.lam[k][j] += w[i][1+k] * w[i][1+j]
			}
		}
	}
	var g [4][4]float64 // P·Hᵀ·L⁻ᵀ, row by row
	for i := range 4 {
		b := ph[i]
		lower(&b)
		g[i] = b
	}
	for i := range 4 {
		for k := range n + 1 {
			for j := range 4 {
				s.m[i][k] += g[i][j] * w[j][k]
			}
		}
		for j := range 4 {
			for k := range 4 {
				s.p[i][j] -= g[i][k] * g[j][k]
			}
		}
	}
	s.log -= half
	meet, _ := sky.meet(&s.lam, &s.eta)
	s.score = s.log - s.misfit + meet
	return -half
}

package ctproof

import (
	"math"
	"slices"

	"legwork/meter"
)

// strand is one story of the house: its level and where it jumped. Given the PV
// power of each state it is a Kalman filter over watts and vars of both legs, and
// over the gap of one open core, whose mean is kept as a linear function of that
// power.
type strand struct {
	level  int
	log    float64                 // prior of the story, and widths of all innovations
	misfit float64                 // ½ the sum of squared innovations at no PV
	m      [dims][most + 1]float64 // mean: constant, then per watt of PV in each state
	p      [dims][dims]float64
	lam    [most][most]float64 // the likelihood as a function of PV
	eta    [most]float64
	// scores have PV integrated out, by each of the suns.
	scores [suns]float64
}

// dims are watts and vars of L1 and of L2, then how far ratio and phase of a gap lie
// from its middle.
const (
	legDims = 4
	dims    = 6
)

// suns are the beliefs about PV by which stories are compared: what the sun should
// give, and what the likeliest wiring of the production channels measures.
const suns = 2

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
	m        [2]measured
	u        [3]complex128       // known loads
	heat     [3]float64          // their errors in W
	e        [dims][dims]float64 // covariance of their errors, on the legs
	pv       int                 // index of the PV power among states, -1 when off
	share    [2]complex128       // of a load between the legs
	anything bool
}

const (
	stories    = 3 // kept per response and sun
	patient    = 9 // nats within which a story is kept
	calmEnough = 5 // nats of misfit that make no jump worth a thought
)

// step takes one state into all stories of a response. room is scratch that the
// caller keeps between calls.
func (t *tracked) step(in *instant, skies *[suns]sun, room *[]strand) {
	o := t.observe(in)
	next := (*room)[:0]
	if len(t.strands) == 0 {
		for i, l := range houses {
			next = append(next, strand{level: i, log: math.Log(l.weight)})
			s := &next[len(next)-1]
			s.m = [dims][most + 1]float64{{l.mean}, {l.meanQ}, {l.mean}, {l.meanQ}}
			for k := range legDims {
				v := l.spread
				if k%2 == 1 {
					v = l.spreadQ
				}
				s.p[k][k] = v * v
			}
			jump(&s.p, in.share, l.between, l.between/3)
			s.open(t.gap())
			s.update(o, in, skies)
		}
	}
	calm := math.Log(1 - 3*jumpChance)
	leap := math.Log(jumpChance)
	for i := range t.strands {
		old := &t.strands[i]
		l := houses[old.level]
		for k := range legDims {
			v := l.drift
			if k%2 == 1 {
				v = l.driftQ
			}
			old.p[k][k] += v * v
		}
		next = append(next, *old)
		s := &next[len(next)-1]
		s.log += calm
		width := s.update(o, in, skies)
		if s.scores[0]-old.scores[0]-width > -calmEnough && s.scores[1]-old.scores[1]-width > -calmEnough {
			continue // no jump could explain it better
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
				jump(&s.p, in.share, jumpBetween, jumpBetweenVAR)
			}
			s.update(o, in, skies)
		}
	}
	*room = next
	t.keepBest(next)
	t.steps = append(t.steps, t.score)
}

// keepBest keeps the likeliest stories by each sun.
func (t *tracked) keepBest(next []strand) {
	var kept [suns * stories]int
	total := 0
	for sun := range suns {
		var order [stories]int
		n := 0
		for i := range next {
			k := n
			switch {
			case n < stories:
				n++
			case next[i].scores[sun] <= next[order[n-1]].scores[sun]:
				continue
			default:
				k = n - 1
			}
			for k > 0 && next[i].scores[sun] > next[order[k-1]].scores[sun] {
				order[k] = order[k-1]
				k--
			}
			order[k] = i
		}
		for _, i := range order[:n] {
			if next[i].scores[sun] > next[order[0]].scores[sun]-patient && !slices.Contains(kept[:total], i) {
				kept[total] = i
				total++
			}
		}
	}
	t.strands = t.strands[:0]
	t.score = math.Inf(-1)
	for _, i := range kept[:total] {
		t.strands = append(t.strands, next[i])
		t.score = add(t.score, next[i].scores[0])
	}
}

// jump adds the covariance of a load between the legs.
func jump(p *[dims][dims]float64, share [2]complex128, w, v float64) {
	var a [legDims][2]float64
	for leg, k := range share {
		a[2*leg] = [2]float64{real(k), -imag(k)}
		a[2*leg+1] = [2]float64{imag(k), real(k)}
	}
	for i := range legDims {
		for j := range legDims {
			p[i][j] += a[i][0]*a[j][0]*w*w + a[i][1]*a[j][1]*v*v
		}
	}
}

// view is a response as real matrices: what the four figures answer.
type view struct {
	dims int              // 4, or 6 with an open core
	h    [4][dims]float64 // to the legs and to the gap
	pv   [4]float64       // to PV
	off  [4]float64       // to the known loads, as told
	r    [2]measured      // with the errors of each channel
}

// observe makes the view of one state.
func (t *tracked) observe(in *instant) *view {
	o := &view{dims: legDims}
	for c := range 2 {
		row := t.rows[c]
		for leg, k := range []complex128{row.L1, row.L2} {
			o.h[2*c][2*leg], o.h[2*c][2*leg+1] = real(k), -imag(k)
			o.h[2*c+1][2*leg], o.h[2*c+1][2*leg+1] = imag(k), real(k)
		}
		o.pv[2*c], o.pv[2*c+1] = real(row.PV[0]), imag(row.PV[0])
		u := row.L1*in.u[0] + row.L2*in.u[1] + row.L12*in.u[2]
		o.off[2*c], o.off[2*c+1] = real(u), imag(u)
		o.r[c] = in.m[c]
		switch {
		case t.jaws[c] == shut:
		case o.dims == legDims:
			// The gap scales what the channel shows: y = K·S·(1 + ratio + j·phase).
			o.dims = dims
			w, q := real(in.m[c].s), imag(in.m[c].s)
			o.h[2*c][legDims], o.h[2*c][legDims+1] = w, -q
			o.h[2*c+1][legDims], o.h[2*c+1][legDims+1] = q, w
		default: // a second gap: as if new in each state
			o.r[c] = in.m[c].slack(t.jaws[c])
		}
	}
	return o
}

// gap is the jaw that has dimensions of its own.
func (t *tracked) gap() jaw {
	for _, j := range t.jaws {
		if j != shut {
			return j
		}
	}
	return shut
}

// open gives the gap its spread in stories that began before it could be told.
func (t *tracked) open() {
	j := t.gap()
	for i := range t.strands {
		t.strands[i].open(j)
	}
}

func (s *strand) open(j jaw) {
	if s.p[legDims][legDims] == 0 {
		s.p[legDims][legDims], s.p[legDims+1][legDims+1] = j.ratio*j.ratio, j.phase*j.phase
	}
}

// update is one Kalman step. It returns minus half the log determinant of the
// innovation, which is the score of a perfect fit.
func (s *strand) update(o *view, in *instant, skies *[suns]sun) float64 {
	n, d := skies[0].n, o.dims
	var v [4][most + 1]float64 // innovation: constant, then per watt of PV
	for i := range 4 {
		for k := range n + 1 {
			x := 0.
			for j := range d {
				x -= o.h[i][j] * s.m[j][k]
			}
			v[i][k] = x
		}
		c := i / 2
		y := real(in.m[c].s)
		if i%2 == 1 {
			y = imag(in.m[c].s)
		}
		v[i][0] += y - o.off[i]
		if in.pv >= 0 {
			v[i][1+in.pv] -= o.pv[i]
		}
	}
	var ph, pe [dims][4]float64 // P·Hᵀ, (P+E)·Hᵀ
	for i := range d {
		for j := range 4 {
			var x, y float64
			for k := range d {
				x += s.p[i][k] * o.h[j][k]
				y += in.e[i][k] * o.h[j][k]
			}
			ph[i][j], pe[i][j] = x, x+y
		}
	}
	var a, l [4][4]float64
	for i := range 4 {
		for j := 0; j <= i; j++ {
			for k := range d {
				a[i][j] += o.h[i][k] * pe[k][j]
			}
		}
	}
	for c := range 2 {
		a[2*c][2*c] += o.r[c].ww
		a[2*c+1][2*c+1] += o.r[c].qq
		a[2*c+1][2*c] += o.r[c].wq
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
	var g [dims][4]float64 // P·Hᵀ·L⁻ᵀ
	for i := range d {
		g[i] = ph[i]
		lower(&g[i])
	}
	for i := range d {
		for k := range n + 1 {
			for j := range 4 {
				s.m[i][k] += g[i][j] * w[j][k]
			}
		}
		for j := range d {
			for k := range 4 {
				s.p[i][j] -= g[i][k] * g[j][k]
			}
		}
	}
	s.log -= half
	for i := range skies {
		meet, _ := skies[i].meet(&s.lam, &s.eta)
		s.scores[i] = s.log - s.misfit + meet
	}
	return -half
}

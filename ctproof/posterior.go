package ctproof

import (
	"math"
	"sort"
)

// weighed is a response of one side with its probability, and with the one it
// would have by the sceptic's prior.
type weighed struct {
	*response
	p, sceptic float64
	each       []float64 // of its explanations, summing to p
	steps      []float64
}

// joint is the joint posterior of both sides.
type joint struct {
	grid, prod       []weighed
	misfitG, misfitP float64 // squared, normalized: of the best pair
}

// counted is a response within its group.
type counted struct {
	r       *response
	log     float64   // of the prior, after the voltages
	each    []float64 // the same by explanation
	volts   []float64 // log-likelihood of the voltages alone, by explanation
	loudest float64   // the greatest of them
	arrow   float64   // share of explanations that come from misread arrows
	other   float64   // logarithm of the sum over the other side
	group   int
	steps   []float64
	score   float64
}

func (p *Proof) counted(members []*response, prefix string, channels int, cache map[refs]float64) []counted {
	var out []counted
	for _, r := range members {
		c := counted{r: r, log: math.Inf(-1), loudest: math.Inf(-1)}
		arrows := math.Inf(-1)
		for _, e := range r.of {
			v, ok := cache[e.refs]
			if !ok {
				v = voltsLog(e.refs, channels, p.states, [2]string{prefix + "1", prefix + "2"}, p.site.System)
				cache[e.refs] = v
			}
			c.each = append(c.each, e.prior+v)
			c.log = add(c.log, e.prior+v)
			c.volts = append(c.volts, v)
			c.loudest = max(c.loudest, v)
			if e.arrow {
				arrows = add(arrows, e.prior+v)
			}
		}
		c.arrow = math.Exp(arrows - c.log)
		out = append(out, c)
	}
	return out
}

// slackJoint is how many nats below the best a group may lie, by its own side's
// readings, to be tried with the other side's.
const slackJoint = 20

// judge joins the sides: the PV power that the production channels make likely is
// the known load of the grid channels.
func (p *Proof) judge() joint {
	var gs, ps []counted
	cache := map[refs]float64{}
	for i, t := range p.grid {
		for _, c := range p.counted(t.members, "G", 2, cache) {
			c.group, c.steps, c.score = i, t.steps, t.score
			gs = append(gs, c)
		}
	}
	cache = map[refs]float64{}
	for i, m := range p.prod {
		for _, c := range p.counted(m.members, "P", p.site.Windows, cache) {
			c.group, c.steps, c.score = i, m.steps, m.score()
			ps = append(ps, c)
		}
	}
	bestG, bestP := make([]float64, len(p.grid)), make([]float64, len(p.prod))
	top := func(cs []counted, best []float64) float64 {
		for i := range best {
			best[i] = math.Inf(-1)
		}
		all := math.Inf(-1)
		for _, c := range cs {
			best[c.group] = max(best[c.group], c.score+max(c.log, c.loudest))
			all = max(all, best[c.group])
		}
		return all
	}
	topG, topP := top(gs, bestG), top(ps, bestP)

	var out joint
	best := math.Inf(-1)
	link := make([][]float64, len(p.grid)) // log of the joint likelihood by groups
	for i := range link {
		link[i] = make([]float64, len(p.prod))
		for j := range link[i] {
			link[i][j] = math.Inf(-1)
		}
	}
	for j, m := range p.prod {
		if bestP[j] < topP-slackJoint {
			continue
		}
		s, ok := m.power(p.outs, p.site.Branches)
		if !ok {
			continue
		}
		for i, t := range p.grid {
			if bestG[i]+bestP[j] < topG+topP-slackJoint {
				continue
			}
			total := m.score()
			if len(t.strands) > 0 {
				sum, at, misfit := math.Inf(-1), math.Inf(-1), 0.
				for k := range t.strands {
					st := &t.strands[k]
					meet, width := s.meet(&st.lam, &st.eta)
					x := st.log - st.misfit + meet
					sum = add(sum, x)
					if x > at {
						at, misfit = x, 2*(st.misfit-meet+width)
					}
				}
				total += sum
				if total+bestG[i]-p.grid[i].score+bestP[j]-m.score() > best {
					best = total + bestG[i] - p.grid[i].score + bestP[j] - m.score()
					out.misfitG, out.misfitP = misfit, 2*m.misfit
				}
			}
			link[i][j] = total
		}
	}
	gather(gs, ps, link)
	out.grid, out.prod = normalize(gs), normalize(ps)
	return out
}

// gather sums the joint weights over the other side, group by group. Two sides
// that are both wrong by misread arrows are likelier together than apart.
func gather(gs, ps []counted, link [][]float64) {
	top := math.Inf(-1)
	for _, row := range link {
		for _, l := range row {
			top = max(top, l)
		}
	}
	like := func(i, j int) float64 { return math.Exp(link[i][j] - top) }
	weigh(gs, ps, like)
	weigh(ps, gs, func(j, i int) float64 { return like(i, j) })
}

// weigh sets the sums of one side over the groups of the other.
func weigh(own, other []counted, like func(own, other int) float64) {
	type mass struct{ all, arrow float64 }
	groups := map[int]mass{}
	var order []int
	for _, c := range other {
		m, ok := groups[c.group]
		if !ok {
			order = append(order, c.group)
		}
		w := math.Exp(c.log)
		m.all += w
		m.arrow += w * c.arrow
		groups[c.group] = m
	}
	sums := map[int]mass{}
	for i := range own {
		c := &own[i]
		m, ok := sums[c.group]
		if !ok {
			for _, g := range order {
				l := like(c.group, g)
				m.all += l * groups[g].all
				m.arrow += l * groups[g].arrow
			}
			sums[c.group] = m
		}
		x := math.Log(m.all + (SharedCause-1)*c.arrow*m.arrow)
		c.other = x
	}
}

// normalize makes probabilities, first by the priors, then by the sceptic's.
func normalize(cs []counted) []weighed {
	if len(cs) == 0 {
		return nil
	}
	p := math.Inf(-1)
	lead := 0
	for i, c := range cs {
		p = add(p, c.log+c.other)
		if c.log+c.other > cs[lead].log+cs[lead].other {
			lead = i
		}
	}
	first := 0
	for i, e := range cs[lead].each {
		if e > cs[lead].each[first] {
			first = i
		}
	}
	leading := cs[lead].r.of[first]
	var out []weighed
	all := math.Inf(-1)
	sceptic := make([]float64, len(cs))
	for i, c := range cs {
		sceptic[i] = math.Inf(-1)
		for k, e := range c.r.of {
			sceptic[i] = add(sceptic[i], e.sceptic(leading)+c.volts[k])
		}
		sceptic[i] += c.other
		all = add(all, sceptic[i])
	}
	for i, c := range cs {
		w := weighed{response: c.r, p: math.Exp(c.log + c.other - p), sceptic: math.Exp(sceptic[i] - all), steps: c.steps}
		for _, e := range c.each {
			w.each = append(w.each, w.p*math.Exp(e-c.log))
		}
		out = append(out, w)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].p > out[j].p })
	return out
}

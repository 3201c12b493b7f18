package ctproof

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwork/meter"
	"legwork/where"
)

// EnterService is how long a microinverter stays off after its branch is switched
// on, in seconds.
//
// Source: IEEE 1547-2018 default of the enter-service delay, 300 s (from memory;
// metering reference, VERIFICATION).
const EnterService = 300

// hopeless is how many nats below the best an explanation is given up.
const hopeless = 24

// Proof gathers the evidence of one site, state by state.
type Proof struct {
	site    Site
	grid    []*tracked
	prod    []*made
	sun     *made // PV by the expectation and other evidence, without the production channels
	outs    []output
	states  []State
	on      []bool // branches that were ever on
	figures int    // real figures used, of the grid channels
	figureP int    // of the production channels
	dropped []dropped
	refused []Refusal
	room    []strand
}

// dropped is a response given up, with the state that did it.
type dropped struct {
	grid  bool
	r     *response
	state string
}

// Refusal is a state that was no evidence, and why.
type Refusal struct {
	State string `json:"state"`
	Why   string `json:"why"`
}

// New starts a proof. It panics on a site that no library covers: the caller
// checks what came from outside.
func New(s Site) *Proof {
	if s.Branches < 1 || s.Windows < 0 || s.Windows > 2 || (s.System != meter.Split && s.System != meter.Wye) {
		panic(fmt.Sprintf("ctproof: no library for %+v", s))
	}
	lib := libraryOf(s)
	p := &Proof{site: s, on: make([]bool, s.Branches), sun: beginMade(nil, s.Branches)}
	p.grid = []*tracked{{members: lib.grid}}
	p.prod = []*made{beginMade(lib.prod, s.Branches)}
	return p
}

// Add takes one state. A state that can be no evidence is refused, which is told
// in the answer; an error means that it contradicts the site.
func (p *Proof) Add(st State) error {
	if err := p.check(st); err != nil {
		return err
	}
	if why := p.refuse(st); why != "" {
		p.refused = append(p.refused, Refusal{st.Reading.State, why})
		return nil
	}
	before := append([]bool(nil), p.on...)
	in, out, sums := p.prepare(st)
	p.states = append(p.states, st)
	if p.fresh(before) {
		p.split()
	}
	p.sun.step(in, out, nil, p.site.Branches, sums)
	var channels []measured
	for _, id := range p.site.channels()[2:] {
		c, _ := st.Channel(id)
		channels = append(channels, p.measure(c, in.pv >= 0))
	}
	lead := p.sun
	for i, m := range p.prod {
		m.step(in, out, channels, p.site.Branches, sums)
		if i == 0 || m.best() > lead.best() {
			lead = m
		}
	}
	if in.anything {
		var skies [suns]sun
		skies[0], _ = p.sun.power(p.outs, p.site.Branches)
		skies[1], _ = lead.power(p.outs, p.site.Branches)
		for _, t := range p.grid {
			t.step(in, &skies, &p.room)
		}
	}
	p.giveUp(st.Reading.State)
	return nil
}

func (p *Proof) measure(c meter.Channel, pv bool) measured {
	if pv {
		return measure(c, p.site.rated(), phasePV)
	}
	return measure(c, p.site.rated(), 0)
}

// check holds a state against the site.
func (p *Proof) check(st State) error {
	name := st.Reading.State
	seen := map[int]bool{}
	for _, b := range st.On {
		if b < 1 || b > p.site.Branches || seen[b] {
			return where.Error{Path: name, Came: fmt.Sprintf("branch %d on", b), Expected: fmt.Sprintf("branches 1 to %d, each once", p.site.Branches)}
		}
		seen[b] = true
	}
	if len(st.On) > 0 && len(p.outs) == most {
		return where.Error{Path: name, Came: fmt.Sprintf("%d states with PV on", most+1), Expected: fmt.Sprintf("%d at most", most)}
	}
	for _, id := range p.site.channels() {
		if c, ok := st.Channel(id); ok && (c.W.Known || c.VAR.Known) {
			return nil
		}
	}
	return where.Error{Path: name, Came: "no watts and no vars of " + strings.Join(p.site.channels(), ", "), Expected: "at least one"}
}

// tooSmall is the share of the rated current below which a production reading has
// no sign (metering reference: 1 to 5 % of the rating).
const tooSmall = .01

// refuse says why a state is no evidence.
func (p *Proof) refuse(st State) string {
	if len(st.On) == 0 {
		return ""
	}
	if st.Waited.Known && st.Waited.Value < EnterService {
		return fmt.Sprintf("read %.0f s after a branch was switched on: microinverters stay off for %d s, and what shows until then is no evidence", float64(st.Waited.Value), EnterService)
	}
	if p.site.Windows == 0 || len(p.states) == 0 {
		return ""
	}
	for _, id := range p.site.channels()[2:] {
		c, ok := st.Channel(id)
		if !ok || !c.W.Known || math.Abs(float64(c.W.Value)) > tooSmall*p.site.rated()*120 {
			return ""
		}
	}
	// Did the grid channels stay where they were with less PV?
	last := p.states[len(p.states)-1]
	if len(last.On) >= len(st.On) || last.L1 != st.L1 || last.L2 != st.L2 || last.L12 != st.L12 {
		return ""
	}
	for _, id := range p.site.channels()[:2] {
		a, okA := last.Channel(id)
		b, okB := st.Channel(id)
		if !okA || !okB || !a.W.Known || !b.W.Known || math.Abs(float64(a.W.Value-b.W.Value)) > 2*tooSmall*p.site.rated()*120 {
			return ""
		}
	}
	return "nothing moved when a branch was switched on: its microinverters may still be in their delay, or off; readings this small have no sign"
}

// prepare turns a state into what the filters need.
func (p *Proof) prepare(st State) (*instant, output, []sum) {
	in := &instant{pv: -1}
	in.share[0], in.share[1] = p.site.System.Share()
	for c := range 2 {
		ch, _ := st.Channel(p.site.channels()[c])
		in.m[c] = p.measure(ch, len(st.On) > 0)
		in.anything = in.anything || in.m[c].known
		p.count(ch, &p.figures)
	}
	for c := 2; c < len(p.site.channels()); c++ {
		ch, _ := st.Channel(p.site.channels()[c])
		p.count(ch, &p.figureP)
	}
	for i, k := range []Known{st.L1, st.L2, st.L12} {
		if k.W == 0 {
			continue
		}
		in.u[i] = complex(float64(k.W), float64(k.VAR.Value))
		w, v := testLoadW*float64(k.W), testLoadVAR*float64(k.W)
		if !k.VAR.Known {
			v = testLoadNoPower * float64(k.W)
		}
		in.heat[i] = w
		if i == 2 {
			jump(&in.e, in.share, w, v)
			continue
		}
		in.e[2*i][2*i] += w * w
		in.e[2*i+1][2*i+1] += v * v
	}
	out := output{expected: make([]float64, p.site.Branches), state: -1}
	if len(st.On) == 0 {
		return in, out, nil
	}
	in.pv, out.state = len(p.outs), len(p.outs)
	out.spread = p.site.Sky.drift()
	for _, b := range st.On {
		p.on[b-1] = true
		out.expected[b-1] = idleGuess
		if b <= len(st.Expected) && st.Expected[b-1].Known {
			out.expected[b-1] = float64(st.Expected[b-1].Value)
		} else {
			out.spread = noIdea
		}
	}
	p.outs = append(p.outs, out)
	return in, out, sumsOf(&st, p.site.System)
}

func (p *Proof) count(c meter.Channel, n *int) {
	if c.W.Known {
		*n++
	}
	if c.VAR.Known {
		*n++
	}
}

// fresh says that groups may part now: at the first state, and when a branch is on
// for the first time.
func (p *Proof) fresh(before []bool) bool {
	return len(p.states) == 1 || !slices.Equal(before, p.on)
}

// split parts the groups whose members the branches on by now can tell apart.
func (p *Proof) split() {
	var grid []*tracked
	for _, t := range p.grid {
		for _, ms := range p.apart(t.members, true) {
			c := *t
			c.members, c.rows, c.jaws = ms, ms[0].rows, ms[0].jaws
			c.strands = append([]strand(nil), t.strands...)
			c.steps = append([]float64(nil), t.steps...)
			c.open()
			grid = append(grid, &c)
		}
	}
	p.grid = grid
	var prod []*made
	for _, m := range p.prod {
		for _, ms := range p.apart(m.members, false) {
			c := *m
			c.members, c.rows, c.jaws = ms, ms[0].rows, ms[0].jaws
			c.mean = append([]float64(nil), m.mean...)
			c.cov = nil
			for _, row := range m.cov {
				c.cov = append(c.cov, append([]float64(nil), row...))
			}
			c.steps = append([]float64(nil), m.steps...)
			c.open(p.site.Branches)
			prod = append(prod, &c)
		}
	}
	p.prod = prod
}

// apart groups responses by what they answer to loads and to the branches that
// were ever on.
func (p *Proof) apart(members []*response, grid bool) [][]*response {
	if len(members) < 2 {
		return [][]*response{members}
	}
	var out [][]*response
next:
	for _, r := range members {
		for i, ms := range out {
			if p.alike(ms[0], r, grid) {
				out[i] = append(out[i], r)
				continue next
			}
		}
		out = append(out, []*response{r})
	}
	return out
}

const sameK = 1e-9

func near(a, b complex128) bool {
	d := a - b
	return real(d)*real(d)+imag(d)*imag(d) < sameK*sameK
}

func (p *Proof) alike(a, b *response, grid bool) bool {
	for c := range a.rows {
		x, y := &a.rows[c], &b.rows[c]
		if !near(x.L1, y.L1) || !near(x.L2, y.L2) {
			return false
		}
		live := x.L1 != 0 || x.L2 != 0
		for i, on := range p.on {
			if !on {
				continue
			}
			if !near(x.PV[i], y.PV[i]) {
				return false
			}
			live = live || x.PV[i] != 0
			if grid {
				break // the grid channels answer alike to all branches
			}
		}
		if live && a.jaws[c] != b.jaws[c] {
			return false
		}
	}
	return true
}

// giveUp drops what is hopeless by now.
func (p *Proof) giveUp(state string) {
	best := math.Inf(-1)
	for _, t := range p.grid {
		for _, r := range t.members {
			best = max(best, t.score+r.log)
		}
	}
	keptGrid := p.grid[:0]
	for _, t := range p.grid {
		t.members = p.keep(t.members, best-hopeless-t.score, state, true)
		if len(t.members) > 0 {
			keptGrid = append(keptGrid, t)
		}
	}
	p.grid = keptGrid
	best = math.Inf(-1)
	for _, m := range p.prod {
		for _, r := range m.members {
			best = max(best, m.score()+r.log)
		}
	}
	keptProd := p.prod[:0]
	for _, m := range p.prod {
		m.members = p.keep(m.members, best-hopeless-m.score(), state, false)
		if len(m.members) > 0 {
			keptProd = append(keptProd, m)
		}
	}
	p.prod = keptProd
}

func (p *Proof) keep(members []*response, least float64, state string, grid bool) []*response {
	var kept []*response
	for _, r := range members {
		if r.log >= least {
			kept = append(kept, r)
		} else {
			p.dropped = append(p.dropped, dropped{grid, r, state})
		}
	}
	return kept
}

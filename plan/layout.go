package plan

import (
	"context"
	"fmt"
	"slices"

	"legwork/job"
	"legwork/quantity"
	"legwork/site"
)

// Proof says how far a layout's price is known to be the least.
type Proof string

// Proofs, from the strongest.
const (
	EveryLayout Proof = "no layout costs less"        // the bound is met
	EveryLine   Proof = "no cut of a line costs less" // every order of planes, every sweep, every cut
	BestFound   Proof = "the cheapest that was found" // orders of planes tried step by step
)

// Layout is a way to string the open units, with its price and what is known
// about cheaper ones. Bound holds for every layout whatever: any ordered paths
// within the limits, in the combiner's spaces.
type Layout struct {
	Name     string // what it is best at: "cheapest"
	Branches []Stretch
	Cost     Cents
	Bound    Cents
	Proof    Proof          // of the cheapest; an alternative has one only where it meets the bound
	Rise     quantity.Volts // the largest along a trunk
	Cable    quantity.Feet  // trunk cable, jumpers and home runs
	Short    int            // two-pole spaces that the landing lacks
	Over     bool           // no layout found keeps the rise; this one leaves it out of account
}

// Gap is how much a cheaper layout could save at most.
func (l *Layout) Gap() Cents { return l.Cost - l.Bound }

// Stretch is a branch of a layout.
type Stretch struct {
	Units   []string // stretches of positions in trunk order: S-r1-c1..c7
	Count   int      // units
	Model   string
	Feed    job.TrunkFeed
	Jumpers []job.Jumper
	Empty   int    // drops left empty on the way
	From    string // junction box
	Run     string // home run
	Cost    Cents
	Rise    quantity.Volts // along the trunk
	Cable   quantity.Feet

	amps  float64
	units []*site.Unit
	model *site.Inverter
}

// ground is one model's open units: the roof and what its numbers stand for.
type ground struct {
	model *site.Inverter
	units []*site.Unit
	roof  *roof
}

// question is all that the planner is asked at one landing.
type question struct {
	bus     *site.Bus
	grounds []*ground
	spaces  int
	pairs   []float64 // amps on each phase pair already; nil on split phase
	costs   *Costs
}

// answer searches all roofs of the question.
func (q *question) answer(ctx context.Context, alternatives int, progress func(Progress)) []*Layout {
	need := 0
	for _, g := range q.grounds {
		need += g.roof.fewest()
	}
	short := max(0, need-q.spaces)
	spaces := max(q.spaces, need)
	searches := make([]*search, len(q.grounds))
	prices, bounds := make([][]Cents, len(q.grounds)), make([][]Cents, len(q.grounds))
	found := make([][]entry, len(q.grounds))
	over := false
	for i, g := range q.grounds {
		most := min(g.roof.units(), spaces-need+g.roof.fewest())
		searches[i] = g.roof.start(ctx, most, progress)
		found[i] = searches[i].entries(cheapestFeed)
		if !slices.ContainsFunc(found[i], func(e entry) bool { return e.branches != nil }) {
			// Nothing keeps the rise: string it without, and say so.
			g.roof, over = g.roof.unlimited(), true
			searches[i] = g.roof.start(ctx, most, progress)
			found[i] = searches[i].entries(cheapestFeed)
		}
		bounds[i] = searches[i].bounds
		for _, e := range found[i] {
			if e.branches == nil {
				e.price = unreached.price
			}
			prices[i] = append(prices[i], e.price)
		}
	}
	_, bound := choose(spaces, bounds)
	taken, _ := choose(spaces, prices)
	pick := func(name string, of func(i int) []branch) *Layout {
		l := q.layout(name, of)
		l.Bound, l.Short, l.Over = bound, short, over
		if l.Gap() == 0 {
			l.Proof = EveryLayout
		}
		return l
	}
	best := pick("cheapest", func(i int) []branch { return found[i][taken[i]].branches })
	if q.pairs != nil { // even branches may spare more imbalance than they cost
		even := pick("cheapest", func(i int) []branch {
			n := q.grounds[i].roof.units()
			return orElse(searches[i].cheapest(taken[i], (n+taken[i]-1)/taken[i], cheapestFeed))(found[i][taken[i]].branches)
		})
		if even.Cost < best.Cost {
			best = even
		}
	}
	if best.Proof == "" {
		best.Proof = EveryLine
		if q.pairs != nil || slices.ContainsFunc(q.grounds, func(g *ground) bool { return len(g.roof.planes) > mostOrdered }) {
			best.Proof = BestFound
		}
	}
	out := []*Layout{best}
	if alternatives == 0 {
		return out
	}
	used := 0
	for _, b := range taken {
		used += b
	}
	// Each alternative starts from the numbers of branches of the cheapest.
	others := []*Layout{pick("lower rise", func(i int) []branch { return searches[i].gentlest(taken[i]) })}
	if used > need {
		others = append(others, pick("fewer branches", func(i int) []branch {
			return orElse(searches[i].cheapest(q.grounds[i].roof.fewest(), q.grounds[i].roof.limit, cheapestFeed))(found[i][taken[i]].branches)
		}))
	}
	others = append(others, pick("less cable", func(i int) []branch {
		g := q.grounds[i].roof
		s := g.byCable().start(ctx, taken[i], nil)
		return g.reprice(orElse(s.cheapest(taken[i], g.limit, cheapestFeed))(found[i][taken[i]].branches))
	}))
	if steep := steepest(found, taken, searches); used < spaces && steep >= 0 {
		others = append(others, pick("one more branch", func(i int) []branch {
			if i == steep {
				if more := searches[i].gentlest(taken[i] + 1); more != nil {
					return more
				}
			}
			return found[i][taken[i]].branches
		}))
	}
	for _, l := range others {
		if len(out) <= alternatives && !slices.ContainsFunc(out, func(o *Layout) bool { return !l.beats(o) }) {
			out = append(out, l)
		}
	}
	return out
}

// orElse takes what was found, or else what stands.
func orElse(found []branch, ok bool) func([]branch) []branch {
	return func(stands []branch) []branch {
		if ok {
			return found
		}
		return stands
	}
}

// steepest is the roof with the highest rise among those that another branch
// could relieve, −1 where there is none.
func steepest(found [][]entry, taken []int, searches []*search) int {
	steep, top := -1, 0.0
	for i := range found {
		if w := worst(found[i][taken[i]].branches); w > top && taken[i]+1 < len(searches[i].bounds) {
			steep, top = i, w
		}
	}
	return steep
}

// beats reports whether a layout is better than another in something that
// matters: price, branches, rise or cable.
func (l *Layout) beats(o *Layout) bool {
	return l.Cost < o.Cost || len(l.Branches) < len(o.Branches) ||
		quantity.Compare(float64(l.Rise), float64(o.Rise)) < 0 || quantity.Compare(float64(l.Cable), float64(o.Cable)) < 0
}

// layout puts the branches of all roofs together.
func (q *question) layout(name string, of func(i int) []branch) *Layout {
	l := &Layout{Name: name}
	for i, g := range q.grounds {
		branches := of(i)
		for _, b := range branches {
			l.Branches = append(l.Branches, g.stretch(b))
			l.Rise = max(l.Rise, quantity.Volts(b.rise))
		}
		l.Cost += sum(branches)
		l.Cable += g.roof.cable(branches)
	}
	l.Cost += cents(q.costs.Imbalance * imbalance(q.pairs, l.Branches))
	return l
}

// imbalance is the difference in amps between the most and the least loaded
// pair of legs, the heavier branches placed first, each on the lightest pair.
func imbalance(pairs []float64, branches []Stretch) float64 {
	if pairs == nil {
		return 0
	}
	load := slices.Clone(pairs)
	var amps []float64
	for _, b := range branches {
		amps = append(amps, b.amps)
	}
	slices.Sort(amps)
	slices.Reverse(amps)
	for _, a := range amps {
		load[lightest(load)] += a
	}
	return slices.Max(load) - slices.Min(load)
}

// lightest is the first of the least loaded pairs.
func lightest(load []float64) int {
	best := 0
	for i := range load {
		if quantity.Compare(load[i], load[best]) < 0 {
			best = i
		}
	}
	return best
}

// stretch turns numbers back into positions.
func (g *ground) stretch(b branch) Stretch {
	h := &g.roof.homes[b.home]
	s := Stretch{Model: g.model.ID, model: g.model, Count: len(b.units), Feed: b.feed, From: h.box, Run: h.run, Cost: b.price,
		Rise: quantity.Volts(b.rise), Cable: b.feet, amps: g.roof.amps * float64(len(b.units))}
	for _, u := range b.units {
		s.units = append(s.units, g.units[u])
	}
	s.Units = stretches(s.units)
	first, small := b.units[0], 0
	arms := 1
	lead := h.leads[first]
	if b.feed == job.CenterFed {
		small, arms = len(b.units)/2, 2
		lead = g.roof.middle(b.units, b.home)
	}
	if lead.extra > 0 {
		s.Jumpers = append(s.Jumpers, job.Jumper{After: h.box, Length: lead.feet})
		s.Empty += arms * lead.empty
	}
	for i := 1; i < len(b.units); i++ {
		k := g.roof.links[b.units[i-1]][b.units[i]]
		if k.extra > 0 && (small == 0 || i != small) {
			s.Jumpers = append(s.Jumpers, job.Jumper{After: g.units[b.units[i-1]].Position, Length: k.feet})
			s.Empty += k.empty
		}
	}
	return s
}

// stretches writes positions in trunk order as a document does, straight runs
// shortened.
func stretches(units []*site.Unit) []string {
	var at []job.Position
	for i, u := range units {
		var own []job.Position
		for _, s := range u.Positions {
			p, _ := job.ParsePosition(s) // made by site
			own = append(own, p)
		}
		if leftward(units, i) {
			slices.Reverse(own)
		}
		at = append(at, own...)
	}
	var out []string
	for i := 0; i < len(at); {
		j := i + 1
		for j < len(at) && at[j].Plane == at[i].Plane && straight(at[i:j+1]) {
			j++
		}
		a, z := at[i], at[j-1]
		switch {
		case j == i+1:
			out = append(out, a.String())
		case a.Row == z.Row:
			out = append(out, fmt.Sprintf("%s..c%d", a, z.Col))
		default:
			out = append(out, fmt.Sprintf("%s-r%d..r%d-c%d", a.Plane, a.Row, z.Row, a.Col))
		}
		i = j
	}
	return out
}

// leftward reports whether the trunk passes a unit from right to left.
func leftward(units []*site.Unit, i int) bool {
	for _, k := range []int{i, i + 1} {
		if k < 1 || k >= len(units) {
			continue
		}
		a, errA := job.ParsePosition(units[k-1].Position)
		b, errB := job.ParsePosition(units[k].Position)
		if errA == nil && errB == nil && a.Plane == b.Plane && a.Row == b.Row {
			return b.Col < a.Col
		}
	}
	return false
}

// straight reports whether positions follow each other along a row or a column.
func straight(at []job.Position) bool {
	n := len(at)
	dr, dc := at[1].Row-at[0].Row, at[1].Col-at[0].Col
	if dr*dr+dc*dc != 1 {
		return false
	}
	return n < 3 || at[n-1].Row-at[n-2].Row == dr && at[n-1].Col-at[n-2].Col == dc
}

package plan

import (
	"cmp"
	"context"
	"math"
	"slices"

	"legwork/quantity"
)

// noBudget leaves the rise free.
var noBudget = math.Inf(1)

// mostOrdered is the most planes of a model of which lines tries every order;
// beyond, orders are improved step by step.
const mostOrdered = 5

// patience is how many orders of planes are tried beyond mostOrdered.
const patience = 120

// Progress tells how far a long search is.
type Progress struct {
	Branches int   // the number of branches searched for
	Tried    int   // orders of planes tried
	Cost     Cents // the cheapest so far
}

// search finds layouts of one roof by number of branches.
type search struct {
	*roof
	ctx      context.Context
	progress func(Progress)
	every    [][]branch // by number of branches, where every layout was searched
	bounds   []Cents    // by number of branches; index 0 is not used
}

// start bounds every number of branches up to most.
func (r *roof) start(ctx context.Context, most int, progress func(Progress)) *search {
	s := &search{roof: r, ctx: ctx, progress: progress, bounds: make([]Cents, most+1)}
	if r.units() <= mostExact {
		s.every = r.everyLayout(most)
	}
	clusters := r.clusters()
	reach := unreached.price // of some layout, end-fed; what costs more by its fixed parts needs no closer bound
	if any, ok := r.unlimited().lines(context.WithoutCancel(ctx), r.fewest(), r.limit, cheapestFeed, s.nearestFirst(), unreached.price); ok {
		reach = sum(any)
	}
	for b := 1; b <= most; b++ {
		switch {
		case b < r.fewest() || b > r.units():
			s.bounds[b] = unreached.price
		case s.every != nil && s.every[b] != nil:
			s.bounds[b] = sum(s.every[b])
		default:
			s.bounds[b] = Cents(b)*r.leastBranch() + Cents(r.units())*r.drop
			if s.bounds[b] < reach {
				s.bounds[b] = r.atLeast(b, clusters)
			}
		}
	}
	return s
}

// fewest is the least number of branches that hold all units.
func (r *roof) fewest() int { return (r.units() + r.limit - 1) / r.limit }

// cheapest is the cheapest layout found with exactly b branches of at most limit
// units within the rise that is left, false where none was found.
func (s *search) cheapest(b, limit int, how feeding) ([]branch, bool) {
	if how == cheapestFeed && limit == s.limit && s.every != nil && s.every[b] != nil && !slices.ContainsFunc(s.every[b], func(x branch) bool { return !s.fits(x) }) {
		return s.every[b], true
	}
	order := s.nearestFirst()
	best, ok := s.lines(context.WithoutCancel(s.ctx), b, limit, how, order, unreached.price)
	done := func() bool { return ok && sum(best) == s.bounds[b] || s.ctx.Err() != nil }
	switch {
	case done():
	case len(s.planes) > mostOrdered:
		best, ok = s.improve(b, limit, how, order, best, done)
	case len(s.planes) > 1:
		most := unreached.price
		if ok {
			most = sum(best)
		}
		if got, found := s.lines(s.ctx, b, limit, how, nil, most); found {
			best, ok = got, true
		}
	}
	return best, ok
}

// improve turns pieces of an order of the planes round as long as that saves
// something, until the bound is met, or patience or time runs out.
func (s *search) improve(b, limit int, how feeding, order []int, best []branch, done func() bool) ([]branch, bool) {
	for tried, better := 1, true; better; {
		better = false
		for i := range order {
			for j := i + 2; j <= len(order); j++ {
				if s.progress != nil && best != nil {
					s.progress(Progress{b, tried, sum(best)})
				}
				if tried >= patience || done() {
					return best, best != nil
				}
				most := unreached.price
				if best != nil {
					most = sum(best)
				}
				turned := slices.Clone(order)
				slices.Reverse(turned[i:j])
				tried++
				if got, found := s.lines(s.ctx, b, limit, how, turned, most); found && sum(got) < most {
					best, order, better = got, turned, true
				}
			}
		}
	}
	return best, best != nil
}

// nearestFirst orders planes from the first one, the nearest next.
func (s *search) nearestFirst() []int {
	order := []int{0}
	for len(order) < len(s.planes) {
		best, least := -1, unreached.price
		for p := range s.planes {
			if slices.Contains(order, p) {
				continue
			}
			for _, u := range s.planes[order[len(order)-1]] {
				for _, v := range s.planes[p] {
					if k := s.links[u][v].extra; k < least || best < 0 {
						best, least = p, k
					}
				}
			}
		}
		order = append(order, best)
	}
	return order
}

// entry is the best layout of one roof for a number of branches.
type entry struct {
	branches []branch
	price    Cents
}

// entries finds the layouts worth having, by number of branches: a number whose
// bound is no better than the price of a smaller one is left out.
func (s *search) entries(how feeding) []entry {
	out := make([]entry, len(s.bounds))
	best := unreached.price
	for b := 1; b < len(s.bounds); b++ {
		if s.bounds[b] >= best {
			continue
		}
		if got, ok := s.cheapest(b, s.limit, how); ok {
			out[b] = entry{got, sum(got)}
			best = min(best, out[b].price)
		}
	}
	return out
}

// choose takes one entry of each roof so that together they need at most spaces
// branches and cost least; among equals the fewest branches.
func choose(spaces int, prices [][]Cents) ([]int, Cents) {
	type way struct {
		price Cents
		taken []int
	}
	ways := map[int]way{0: {}}
	for _, of := range prices {
		next := map[int]way{}
		for used, w := range ways {
			for b, p := range of {
				if b == 0 || p >= unreached.price || used+b > spaces {
					continue
				}
				old, there := next[used+b]
				c := way{w.price + p, append(slices.Clone(w.taken), b)}
				if !there || c.price < old.price || c.price == old.price && slices.Compare(c.taken, old.taken) < 0 {
					next[used+b] = c
				}
			}
		}
		ways = next
	}
	best, least := []int(nil), unreached.price
	for used := 0; used <= spaces; used++ {
		if w, ok := ways[used]; ok && w.price < least {
			best, least = w.taken, w.price
		}
	}
	return best, least
}

// worst is the largest rise along a trunk.
func worst(branches []branch) float64 {
	var w float64
	for _, b := range branches {
		w = max(w, b.rise)
	}
	return w
}

// gentlest looks for the layout of a roof with b branches and the lowest rise:
// with even branches or not, fed at the end or in the middle.
func (s *search) gentlest(b int) []branch {
	var best []branch // stays nil only where the rise rules all layouts out
	even := (s.units() + b - 1) / b
	for _, how := range []feeding{cheapestFeed, centerFeed} {
		for _, limit := range []int{s.limit, even} {
			got, ok := s.cheapest(b, limit, how)
			if ok && (best == nil || cmp.Or(quantity.Compare(worst(got), worst(best)), cmp.Compare(sum(got), sum(best))) < 0) {
				best = got
			}
		}
	}
	return best
}

// byCable is the roof priced by the foot of cable, in hundredths.
func (r *roof) byCable() *roof {
	c := *r
	c.drop, c.end, c.center = 0, 0, 0
	feet := func(l link) link { return link{extra: Cents(math.Round(float64(l.feet) * 100)), feet: l.feet} }
	c.links = make([][]link, len(r.links))
	for i := range r.links {
		for _, l := range r.links[i] {
			c.links[i] = append(c.links[i], feet(l))
		}
	}
	c.homes = slices.Clone(r.homes)
	for i := range c.homes {
		h := &c.homes[i]
		h.price = Cents(math.Round(float64(h.feet) * 100))
		h.leads = nil
		for _, l := range r.homes[i].leads {
			h.leads = append(h.leads, feet(l))
		}
	}
	return &c
}

// reprice feeds paths found under other prices the best way under these.
func (r *roof) reprice(branches []branch) []branch {
	out := make([]branch, len(branches))
	for i, b := range branches {
		var ok bool
		if out[i], ok = r.feedBest(b.units, cheapestFeed); !ok {
			out[i] = r.branch(b.units, b.feed, b.home)
		}
	}
	return out
}

// cable is all cable of branches: trunk, jumpers and home runs.
func (r *roof) cable(branches []branch) quantity.Feet {
	var f quantity.Feet
	for _, b := range branches {
		f += b.feet + r.homes[b.home].feet
	}
	return f
}

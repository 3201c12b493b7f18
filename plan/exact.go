package plan

import (
	"math/bits"
	"slices"
)

// mostExact is the most units for which every layout is searched: the tables
// grow with 3^n.
const mostExact = 12

// everyLayout finds the cheapest branches over all ordered paths whatever, for
// each number of branches up to most, end-fed, without regard to the rise. The
// rise can only rule layouts out and center feed only adds to a price, so that
// the price is a lower bound where either comes in.
//
// First for each set of units the cheapest path through it, by its last unit
// (Held and Karp, 1962); then for each set of units the cheapest split into
// branches.
func (r *roof) everyLayout(most int) [][]branch {
	n := r.units()
	full := 1<<n - 1
	paths, single := r.paths()
	best := make([][]worth, most+1)
	last := make([][]int, most+1)
	for b := range best {
		best[b], last[b] = make([]worth, full+1), make([]int, full+1)
		for s := range best[b] {
			best[b][s] = unreached
		}
	}
	best[0][0] = worth{}
	for b := 1; b <= most; b++ {
		for s := 1; s <= full; s++ {
			// The branch that holds the lowest unit, so that each split counts once.
			low := s & -s
			for t := s; t > 0; t = (t - 1) & s {
				if t&low == 0 || single[t] == unreached || best[b-1][s&^t] == unreached {
					continue
				}
				if w := best[b-1][s&^t].plus(single[t]); w.less(best[b][s]) {
					best[b][s], last[b][s] = w, t
				}
			}
		}
	}
	out := make([][]branch, most+1)
	for b := 1; b <= most; b++ {
		if best[b][full] == unreached {
			continue
		}
		for s, k := full, b; s > 0; k-- {
			units := r.path(paths, last[k][s])
			fed, _ := r.unlimited().feedBest(units, cheapestFeed)
			out[b] = append(out[b], fed)
			s &^= last[k][s]
		}
		inOrder(out[b])
	}
	return out
}

// unlimited is the roof without a limit on the rise.
func (r *roof) unlimited() *roof {
	free := *r
	free.budget = noBudget
	return &free
}

// paths gives for each set of units and each last unit the price of the links
// of the cheapest path, and for each set the worth of a branch over it, fed at
// the last unit. The sets are at most limit large.
func (r *roof) paths() ([][]Cents, []worth) {
	n := r.units()
	paths := make([][]Cents, 1<<n)
	single := make([]worth, 1<<n)
	for s := range paths {
		single[s] = unreached
		k := bits.OnesCount(uint(s))
		if k == 0 || k > r.limit {
			continue
		}
		paths[s] = make([]Cents, n)
		for v := range n {
			if s>>v&1 == 0 {
				continue
			}
			p := Cents(0)
			if before := s &^ (1 << v); before > 0 {
				p = unreached.price
				for u := range n {
					if before>>u&1 == 1 {
						p = min(p, paths[before][u]+r.links[u][v].extra)
					}
				}
			}
			paths[s][v] = p
			for h := range r.homes {
				w := worth{r.homes[h].price + r.end + Cents(k)*r.drop + p + r.homes[h].leads[v].extra, k * k}
				if w.less(single[s]) {
					single[s] = w
				}
			}
		}
	}
	return paths, single
}

// path walks back through the table of paths, from the box on.
func (r *roof) path(paths [][]Cents, set int) []int {
	var out []int
	price := func(v int) Cents {
		p := paths[set][v]
		if len(out) > 0 {
			return p + r.links[v][out[len(out)-1]].extra
		}
		lead := unreached.price
		for h := range r.homes {
			lead = min(lead, r.homes[h].price+r.homes[h].leads[v].extra)
		}
		return p + lead
	}
	for set > 0 {
		next := -1
		for v := range r.units() {
			if set>>v&1 == 1 && (next < 0 || price(v) < price(next)) {
				next = v
			}
		}
		out = append(out, next)
		set &^= 1 << next
	}
	return slices.Clip(out)
}

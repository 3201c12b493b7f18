package plan

import (
	"cmp"
	"slices"
)

// atLeast is a price that no layout with so many branches undercuts, whatever
// its paths.
//
// Each branch costs its fixed part and the cheapest way from a box; each unit
// costs its drop. n units on b branches have n − b links. How many of the links
// cost more than w? Join all units whose links cost w or less: R clusters. If a
// branch enters a cluster, leaves it and enters another, it crosses by a dear
// link. Draw clusters and branches as dots and a line wherever a branch enters a
// cluster: with K separate parts there are at least R + b − K lines, so at least
// R − K dear links. In each part the units of its clusters fit its branches; K is
// at most the largest number of such parts that b branches allow. Counting the
// links above each price in turn and adding the steps between prices bounds their
// sum.
func (r *roof) atLeast(b int, clusters []cluster) Cents {
	total := Cents(b)*r.leastBranch() + Cents(r.units())*r.drop
	before := Cents(0)
	sizes := make([]int, r.units())
	for i := range sizes {
		sizes[i] = 1
	}
	for _, c := range clusters {
		total += (c.price - before) * Cents(max(0, len(sizes)-parts(sizes, r.limit, b)))
		before, sizes = c.price, c.sizes
	}
	return total
}

// leastBranch is the fixed part of the cheapest branch there can be.
func (r *roof) leastBranch() Cents {
	least := unreached.price
	for _, h := range r.homes {
		for _, l := range h.leads {
			least = min(least, h.price+r.end+l.extra)
		}
	}
	return least
}

// cluster is what joins up when links of a price are allowed.
type cluster struct {
	price Cents
	sizes []int // units in each cluster
}

// clusters joins units by links of rising price until all hang together.
func (r *roof) clusters() []cluster {
	type pair struct {
		a, b  int
		price Cents
	}
	n := r.units()
	var pairs []pair
	for a := range n {
		for b := a + 1; b < n; b++ {
			pairs = append(pairs, pair{a, b, r.links[a][b].extra})
		}
	}
	slices.SortStableFunc(pairs, func(p, q pair) int { return cmp.Compare(p.price, q.price) })
	of := make([]int, n)
	for i := range of {
		of[i] = i
	}
	root := func(i int) int {
		for of[i] != i {
			of[i] = of[of[i]]
			i = of[i]
		}
		return i
	}
	var out []cluster
	joined := 1
	for i, p := range pairs {
		if a, b := root(p.a), root(p.b); a != b {
			of[max(a, b)] = min(a, b)
			joined++
		}
		last := i+1 == len(pairs) || pairs[i+1].price > p.price
		if !last {
			continue
		}
		count := map[int]int{}
		for u := range n {
			count[root(u)]++
		}
		sizes := make([]int, 0, len(count))
		for _, c := range count {
			sizes = append(sizes, c)
		}
		slices.Sort(sizes)
		if len(out) == 0 || len(sizes) < len(out[len(out)-1].sizes) {
			out = append(out, cluster{p.price, sizes})
		}
		if joined == n {
			break
		}
	}
	return out
}

// parts is the largest number of groups that clusters of the given sizes fall
// into, where a group of s units takes ⌈s/limit⌉ branches of the b there are.
// Where there are too many different clusters to try, it says b: no more groups
// than branches.
func parts(sizes []int, limit, b int) int {
	if len(sizes) <= 1 {
		return len(sizes)
	}
	var kinds, counts []int
	states := 1
	for i := 0; i < len(sizes); {
		j := i
		for j < len(sizes) && sizes[j] == sizes[i] {
			j++
		}
		kinds, counts = append(kinds, sizes[i]), append(counts, j-i)
		states *= j - i + 1
		if states > 512 {
			return min(b, len(sizes))
		}
		i = j
	}
	// fewest[s][g]: branches that clusters s take in g groups.
	fewest := make([][]int, states)
	content := func(s int) []int {
		out := make([]int, len(kinds))
		for i, c := range counts {
			out[i], s = s%(c+1), s/(c+1)
		}
		return out
	}
	most := min(b, len(sizes))
	for s := range fewest {
		fewest[s] = make([]int, most+1)
		for g := range fewest[s] {
			fewest[s][g] = b + 1
		}
		if s == 0 {
			fewest[0][0] = 0
			continue
		}
		have := content(s)
		for t := range s + 1 { // the group taken last
			group := content(t)
			units, inside := 0, t > 0
			for i := range group {
				inside = inside && group[i] <= have[i]
				units += group[i] * kinds[i]
			}
			if !inside {
				continue
			}
			// Positional counts subtract digit by digit, so s − t is what is left.
			for g := 1; g <= most; g++ {
				fewest[s][g] = min(fewest[s][g], fewest[s-t][g-1]+(units+limit-1)/limit)
			}
		}
	}
	for g := most; g > 0; g-- {
		if fewest[states-1][g] <= b {
			return g
		}
	}
	return most // no split fits: b branches are too few, and any bound holds
}

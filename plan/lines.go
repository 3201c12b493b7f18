package plan

import (
	"context"
	"slices"

	"legwork/job"
)

// A line over the roof is how a crew would string it without cutting: plane
// after plane, each plane in one sweep, back and forth along its rows or its
// columns from one of its corners. Cut into stretches it gives the branches; each
// stretch is then fed at either end or in its middle.
//
// lines finds the cheapest of all cuts of all such lines by dynamic programming:
// exactly, over every order of the planes and every sweep. Where a cut falls
// inside a plane, the line goes on in the same sweep.

// line is the search for a given number of branches.
type line struct {
	*roof
	branches int
	limit    int // units on one branch; at most the roof's own
	how      feeding
	order    []int // of planes, where it is fixed; nil tries every order
	most     Cents // no dearer line is of use
	least    Cents // the fixed part of a branch
	width    int   // of a plane's part in a key
	reached  []map[int]reach
	ahead    map[int][]Cents // by key: what the cheapest links ahead cost, by their number
}

// reach is the cheapest way to have strung some planes with some branches.
type reach struct {
	worth worth
	from  int   // key before the last branch
	units []int // of the last branch, along the line
}

// lines returns the branches of the cheapest line with exactly so many branches
// of at most limit units that costs no more than most, false where there is none.
func (r *roof) lines(ctx context.Context, branches, limit int, how feeding, order []int, most Cents) ([]branch, bool) {
	l := &line{roof: r, branches: branches, limit: limit, how: how, order: order, most: most,
		least: r.leastBranch(), ahead: map[int][]Cents{}}
	for _, p := range r.planes {
		l.width = max(l.width, len(p)+1)
	}
	l.reached = make([]map[int]reach, branches+1)
	for i := range l.reached {
		l.reached[i] = map[int]reach{}
	}
	l.reached[0][0] = reach{}
	for i := range branches {
		for _, key := range sortedKeys(l.reached[i]) {
			if ctx.Err() != nil {
				return nil, false
			}
			l.extend(i, key)
		}
	}
	last, ok := l.reached[branches][l.done(l.all(), 0, 0, 0)]
	if !ok {
		return nil, false
	}
	out := make([]branch, 0, branches)
	for i := branches; i > 0; i-- {
		b, _ := r.feedBest(last.units, how)
		out = append(out, b)
		last = l.reached[i-1][last.from]
	}
	inOrder(out)
	return out, true
}

func sortedKeys(m map[int]reach) []int {
	keys := make([]int, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// all is the mark of every plane done: a set of bits, or a count along the order.
func (l *line) all() int {
	if l.order != nil {
		return len(l.order)
	}
	return 1<<len(l.planes) - 1
}

// done is the key of a place along a line: planes done, and how far the next one
// is strung in which sweep.
func (l *line) done(planes, plane, sweep, at int) int {
	return ((planes*len(l.planes)+plane)*8+sweep)*l.width + at
}

func (l *line) parts(key int) (planes, plane, sweep, at int) {
	at, key = key%l.width, key/l.width
	sweep, key = key%8, key/8
	return key / len(l.planes), key % len(l.planes), sweep, at
}

// next lists the planes that may follow.
func (l *line) next(planes int) []int {
	var out []int
	switch {
	case l.order != nil && planes < len(l.order):
		out = l.order[planes : planes+1]
	case l.order == nil:
		for p := range l.planes {
			if planes>>p&1 == 0 {
				out = append(out, p)
			}
		}
	}
	return out
}

func (l *line) with(planes, plane int) int {
	if l.order != nil {
		return planes + 1
	}
	return planes | 1<<plane
}

// strung counts the units of the planes that are done.
func (l *line) strung(planes int) int {
	n := 0
	for i, p := range l.planes {
		if l.order == nil && planes>>i&1 == 1 {
			n += len(p)
		}
	}
	if l.order != nil {
		for _, p := range l.order[:planes] {
			n += len(l.planes[p])
		}
	}
	return n
}

// stretch is a branch in the making, with what its prices need, so that one more
// unit costs a few additions.
type stretch struct {
	units      []int
	extra      Cents
	feet       float64 // of links
	fromFirst  float64 // units beyond each link times its length, fed at the first unit
	fromLast   float64
	least      int // units that it must have, so that the rest fits the branches left
	most       int
	from, used int
	rest       int // units not strung before it
	before     worth
}

// extend tries every next branch from a place along a line.
func (l *line) extend(used, key int) {
	planes, plane, sweep, at := l.parts(key)
	rest := l.units() - l.strung(planes) - at
	left := l.branches - used - 1
	s := &stretch{from: key, used: used + 1, rest: rest, before: l.reached[used][key].worth,
		least: max(1, rest-left*l.limit), most: min(l.limit, rest-left)}
	if left == 0 {
		s.least = rest
	}
	if s.least > s.most {
		return
	}
	if at > 0 {
		l.walk(s, planes, plane, sweep, at)
		return
	}
	for _, p := range l.next(planes) {
		for i := range l.sweeps[p] {
			l.walk(s, planes, p, i, 0)
		}
	}
}

// walk strings units along a plane's sweep, and on over the planes that may
// follow, until the stretch is full.
func (l *line) walk(s *stretch, planes, plane, sweep, at int) {
	kept := *s
	defer func() { *s = kept }()
	units, left := l.sweeps[plane][sweep], l.branches-s.used
	for ; at < len(units) && len(s.units) < s.most; at++ {
		s.add(l.roof, units[at])
		if s.before.price+s.extra+Cents(left+1)*l.least+Cents(s.rest)*l.drop > l.most {
			return // what is strung already makes it too dear
		}
		if len(s.units) < s.least {
			continue
		}
		to := l.done(l.with(planes, plane), 0, 0, 0)
		if at+1 < len(units) {
			to = l.done(planes, plane, sweep, at+1)
		}
		l.arrive(s, to)
	}
	if at == len(units) && len(s.units) < s.most {
		planes = l.with(planes, plane)
		for _, p := range l.next(planes) {
			for i := range l.sweeps[p] {
				l.walk(s, planes, p, i, 0)
			}
		}
	}
}

func (s *stretch) add(r *roof, unit int) {
	if n := len(s.units); n > 0 {
		k := r.links[s.units[n-1]][unit]
		s.extra += k.extra
		s.feet += float64(k.feet)
		s.fromFirst += s.feet
		s.fromLast += float64(k.feet) * float64(n)
	}
	s.units = append(s.units, unit)
}

// arrive keeps the stretch as the last branch before a key, where it is the
// cheapest so far.
func (l *line) arrive(s *stretch, to int) {
	n := len(s.units)
	price, ok := l.price(s)
	w := s.before.plus(worth{price, n * n})
	if !ok || w.price > l.most {
		return
	}
	old, there := l.reached[s.used][to]
	if !there && w.price+l.rest(to, s.rest-n, l.branches-s.used) > l.most {
		return
	}
	if !there || w.less(old.worth) {
		l.reached[s.used][to] = reach{w, s.from, slices.Clone(s.units)}
	}
}

// rest bounds what the units ahead of a key cost on the branches that are left:
// the fixed parts, the drops, and links that join no two units twice (Kruskal,
// 1956: the cheapest of that kind are those of a shortest tree, taken in order).
func (l *line) rest(key, units, branches int) Cents {
	fixed := Cents(branches)*l.least + Cents(units)*l.drop
	if l.units() > mostTrees || units == 0 {
		return fixed
	}
	sums, there := l.ahead[key]
	if !there {
		sums = l.tree(l.beyond(key))
		l.ahead[key] = sums
	}
	return fixed + sums[units-branches]
}

// mostTrees is the most units for which a tree for every key pays.
const mostTrees = 120

// beyond lists the units ahead of a key.
func (l *line) beyond(key int) []int {
	planes, plane, sweep, at := l.parts(key)
	var out []int
	strung := map[int]bool{}
	if at > 0 {
		out = append(out, l.sweeps[plane][sweep][at:]...)
		strung[plane] = true
	}
	for p := range l.planes {
		isDone := l.order == nil && planes>>p&1 == 1 || l.order != nil && slices.Contains(l.order[:planes], p)
		if !isDone && !strung[p] {
			out = append(out, l.planes[p]...)
		}
	}
	return out
}

// tree adds up the links of a shortest tree over units, the cheapest first
// (Prim, 1957).
func (r *roof) tree(units []int) []Cents {
	near := make([]Cents, len(units))
	for i := range near {
		near[i] = unreached.price
	}
	var links []Cents
	in := make([]bool, len(units))
	for at := 0; len(links) < len(units)-1; {
		in[at] = true
		next := -1
		for i, u := range units {
			if in[i] {
				continue
			}
			near[i] = min(near[i], r.links[units[at]][u].extra)
			if next < 0 || near[i] < near[next] {
				next = i
			}
		}
		links = append(links, near[next])
		at = next
	}
	slices.Sort(links)
	sums := make([]Cents, len(units))
	for i, c := range links {
		sums[i+1] = sums[i] + c
	}
	return sums
}

// price is what feedBest says of the stretch, found from its running sums
// while the trunk is fed at an end.
func (l *line) price(s *stretch) (Cents, bool) {
	n := len(s.units)
	if l.how == cheapestFeed {
		best, found := Cents(0), false
		for i := range l.homes {
			h := &l.homes[i]
			for _, e := range [2]struct {
				lead   link
				moment float64
			}{{h.leads[s.units[0]], s.fromFirst}, {h.leads[s.units[n-1]], s.fromLast}} {
				p := h.price + l.end + Cents(n)*l.drop + s.extra + e.lead.extra
				total := l.volts*(e.moment+float64(e.lead.feet)*float64(n)) + h.volts*float64(n)
				if l.fits(branch{total: total}) && (!found || p < best) {
					best, found = p, true
				}
			}
		}
		if found {
			return best, true
		}
	}
	b, ok := l.feedBest(s.units, l.how)
	return b.price, ok
}

// sweepsOf are the ways to string a plane back and forth: along rows or along
// columns, from each corner. Ways that come to the same stand once.
func sweepsOf(units []int, at func(unit int) job.Position) [][]int {
	var out [][]int
	for _, byColumn := range []bool{false, true} {
		for corner := range 4 {
			lane := func(u int) int { return at(u).Row }
			along := func(u int) int { return at(u).Col }
			if byColumn {
				lane, along = along, lane
			}
			way := serpentine(units, lane, along, corner&1 == 1, corner&2 == 2)
			if !slices.ContainsFunc(out, func(o []int) bool { return slices.Equal(o, way) }) {
				out = append(out, way)
			}
		}
	}
	return out
}

// serpentine strings lane after lane, along one and back along the next.
func serpentine(units []int, lane, along func(int) int, lastLaneFirst, farEndFirst bool) []int {
	lanes := map[int][]int{}
	var names []int
	for _, u := range units {
		if lanes[lane(u)] == nil {
			names = append(names, lane(u))
		}
		lanes[lane(u)] = append(lanes[lane(u)], u)
	}
	slices.Sort(names)
	if lastLaneFirst {
		slices.Reverse(names)
	}
	var out []int
	for i, name := range names {
		row := lanes[name]
		slices.SortFunc(row, func(a, b int) int { return along(a) - along(b) })
		if farEndFirst != (i%2 == 1) {
			slices.Reverse(row)
		}
		out = append(out, row...)
	}
	return out
}

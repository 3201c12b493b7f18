package plan

import (
	"cmp"
	"math"
	"slices"

	"legwork/job"
	"legwork/quantity"
)

// roof is the planner's question: the open units of one model, numbered, and
// what it costs to string them.
type roof struct {
	limit  int     // units on one branch
	planes [][]int // the units of each plane
	sweeps [][][]int
	links  [][]link
	homes  []home
	drop   Cents // a unit's own drop
	end    Cents // the cap of an end-fed trunk
	center Cents // center feed, beyond an end-fed trunk
	amps   float64
	volts  float64 // rise along a trunk for a unit's current over one foot
	budget float64 // largest rise of trunk and home run, V; infinite where nothing limits it
}

// home is a way from a junction box to the landing.
type home struct {
	box   string
	run   string
	price Cents // breaker, splice, landing and conductors of one branch
	feet  quantity.Feet
	leads []link  // from the box to each unit
	volts float64 // rise over the run for each unit on the branch
}

func (r *roof) units() int { return len(r.links) }

// branch is a stretch of trunk with its price.
type branch struct {
	units []int // in trunk order, as the document lists them
	feed  job.TrunkFeed
	home  int
	price Cents
	rise  float64 // along the trunk, to its last unit, V
	total float64 // with the home run
	feet  quantity.Feet
}

// branch prices a path as it stands, fed at its first unit or in its middle.
func (r *roof) branch(units []int, feed job.TrunkFeed, h int) branch {
	b := branch{units: units, feed: feed, home: h, price: r.homes[h].price + r.end + Cents(len(units))*r.drop}
	n, small := len(units), 0
	if feed == job.CenterFed && n > 1 {
		small = n / 2
		b.price += r.center
	} else {
		b.feed = job.EndFed
	}
	lead, arms := r.homes[h].leads[units[0]], 1
	if small > 0 {
		lead, arms = r.middle(units, h), 2
	}
	b.price += Cents(arms) * lead.extra
	b.feet += quantity.Feet(arms) * lead.feet
	ahead, back := float64(lead.feet)*float64(n-small), float64(lead.feet)*float64(small)
	for i := 1; i < n; i++ {
		if i == small {
			continue // the box lies between the arms
		}
		l := r.links[units[i-1]][units[i]]
		b.price += l.extra
		b.feet += l.feet
		if i > small {
			ahead += float64(l.feet) * float64(n-i)
		} else {
			back += float64(l.feet) * float64(i)
		}
	}
	b.rise = r.volts * max(ahead, back)
	b.total = b.rise + r.homes[h].volts*float64(n)
	return b
}

// middle is the cable from the box to either arm of a center-fed trunk. The box
// sits at one of the two middle drops or apart from both, so each of the two
// cables is taken as the dearest and longest way there.
func (r *roof) middle(units []int, h int) link {
	small := len(units) / 2
	lead := r.homes[h].leads[units[small]]
	for _, l := range []link{r.homes[h].leads[units[small-1]], r.links[units[small-1]][units[small]]} {
		if l.extra > lead.extra || l.extra == lead.extra && l.feet > lead.feet {
			lead = l
		}
	}
	return lead
}

// fits reports whether the branch keeps within the rise that is left for it.
func (r *roof) fits(b branch) bool {
	return b.total <= r.budget || quantity.Compare(b.total, r.budget) <= 0
}

// feeding tells which feeds a search may use.
type feeding int

const (
	cheapestFeed feeding = iota // end-fed, or center-fed where the rise asks for it
	centerFeed                  // center-fed wherever there are two units
)

// feedBest prices a path fed the best way: from either end, or in the middle.
func (r *roof) feedBest(units []int, how feeding) (branch, bool) {
	var best branch
	found := false
	take := func(b branch) {
		if r.fits(b) && (!found || b.better(best)) {
			best, found = b, true
		}
	}
	back := slices.Clone(units)
	slices.Reverse(back)
	for h := range r.homes {
		if how == cheapestFeed || len(units) == 1 {
			take(r.branch(units, job.EndFed, h))
			take(r.branch(back, job.EndFed, h))
		}
		if len(units) > 1 {
			take(r.branch(units, job.CenterFed, h))
			take(r.branch(back, job.CenterFed, h))
		}
	}
	return best, found
}

// better prefers the lower price, then the lower rise, then the path that starts
// nearer the first plane's lower left corner.
func (b branch) better(c branch) bool {
	return cmp.Or(cmp.Compare(b.price, c.price), quantity.Compare(b.rise, c.rise), slices.Compare(b.units, c.units)) < 0
}

// worth is what a search minimizes: the price, then the sum of the squared
// numbers of units, which evens out branches of one price.
type worth struct {
	price   Cents
	squares int
}

func (w worth) plus(o worth) worth { return worth{w.price + o.price, w.squares + o.squares} }

func (w worth) less(o worth) bool {
	return w.price < o.price || w.price == o.price && w.squares < o.squares
}

var unreached = worth{math.MaxInt64 / 2, 0}

// sum is the price of branches together.
func sum(branches []branch) Cents {
	var c Cents
	for _, b := range branches {
		c += b.price
	}
	return c
}

// inOrder sorts branches by their first unit in the order of planes, rows and
// columns, so that letters run over the roof as people read it.
func inOrder(branches []branch) {
	slices.SortFunc(branches, func(a, b branch) int { return cmp.Compare(slices.Min(a.units), slices.Min(b.units)) })
}

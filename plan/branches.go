package plan

import (
	"context"
	"fmt"
	"math"
	"slices"

	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// branches strings every unit that is on no branch yet, the cheapest way found.
func (f *filler) branches(ctx context.Context) error {
	q, ok := f.question()
	if !ok {
		return nil
	}
	f.layouts = q.answer(ctx, f.options.Alternatives, f.options.Progress)
	best := f.layouts[0]
	pairs := slices.Clone(q.pairs)
	for i := range best.Branches {
		f.branch(q, &best.Branches[i], pairs)
	}
	return f.resolve()
}

// question asks how to string the open units; false where there is none, or a
// fact is missing that the answer hangs on.
func (f *filler) question() (*question, bool) {
	bus, runs := f.landing()
	if bus == nil {
		return nil, false // nothing to feed from or land on; the survey is not that far
	}
	q := &question{bus: bus, costs: f.options.costs()}
	for _, u := range f.plant.Units {
		if u.Branch != nil {
			continue
		}
		i := slices.IndexFunc(q.grounds, func(g *ground) bool { return g.model == u.Inverter })
		if i < 0 {
			i = len(q.grounds)
			q.grounds = append(q.grounds, &ground{model: u.Inverter})
		}
		q.grounds[i].units = append(q.grounds[i].units, u)
	}
	if len(q.grounds) == 0 {
		return nil, false
	}
	free, ok := f.freeSpaces(bus)
	if !ok {
		return nil, false
	}
	q.spaces = len(free)
	if f.plant.System.Value == job.Wye208 {
		q.pairs = f.loads(bus)
	}
	q.grounds = slices.DeleteFunc(q.grounds, func(g *ground) bool { return !f.survey(q, g, runs) })
	return q, len(q.grounds) > 0
}

// landing is the bus where new branches end, with the runs that lead there from
// junction boxes: the first combiner or panel that has any.
func (f *filler) landing() (*site.Bus, []*site.Run) {
	for _, b := range f.plant.Buses {
		var runs []*site.Run
		for i := range f.doc.JunctionBoxes {
			for _, r := range f.plant.Runs {
				if r.From == f.doc.JunctionBoxes[i].ID && r.To == b.ID {
					runs = append(runs, r)
					break // as site does: one run from a box to a bus
				}
			}
		}
		if runs != nil {
			return b, runs
		}
	}
	return nil, nil
}

// limit is the most units of a model on one branch: by listing and by amps.
func (f *filler) limit(m *site.Inverter) (int, bool) {
	if f.lacks(slices.Concat(m.Current.Term().Missing(), m.UnitsPer20A.Term().Missing(), m.Trunk.Rating.Term().Missing())...) {
		return 0, false
	}
	byAmps := int(math.Floor(quantity.Snap(m.Trunk.Rating.Value.Float() / 1.25 / m.Current.Value.Float())))
	return max(1, min(byAmps, int(m.UnitsPer20A.Value))), true
}

// survey measures one model's roof; false where a fact is missing.
func (f *filler) survey(q *question, g *ground, runs []*site.Run) bool {
	limit, ok := f.limit(g.model)
	if !ok {
		return false
	}
	t := g.model.Trunk
	if f.lacks(slices.Concat(g.model.ModulesPerUnit.Term().Missing(), t.Size.Term().Missing(), t.Material.Term().Missing())...) {
		return false
	}
	c, amps := q.costs, g.model.Current.Value.Float()
	g.roof = &roof{limit: limit, drop: cents(c.Drop), end: cents(c.TrunkEnd), center: cents(c.CenterFeed + c.TrunkEnd),
		amps: amps, volts: 2 * amps * ohms(t.Size.Value, t.Material.Value) / 1000, budget: noBudget}
	if f.budget != nil {
		g.roof.budget = f.budget.volts
	}
	return f.links(q, g) && f.homes(q, g, runs)
}

// ohms is a conductor's resistance in Ω/kft; a size that the table has not
// rises nothing here and is a finding of the rule.
func ohms(s quantity.Size, m tables.Material) float64 {
	r, _, err := tables.ResistanceOf(s, m, tables.Stranded)()
	if err != nil {
		return 0
	}
	return r.Float()
}

// wayBetweenPlanes is what the way over a ridge, a valley or a wall adds to the
// straight way between two planes, whose heights nobody has measured. Invented.
const wayBetweenPlanes quantity.Feet = 6

// links measures the cable between every two units; false where a measure is
// missing.
func (f *filler) links(q *question, g *ground) bool {
	fields := map[*job.Plane]*site.Field{}
	index := map[*job.Plane]int{}
	r := g.roof
	var missing, unplaced []working.Missing
	for i, u := range g.units {
		if fields[u.Plane] == nil {
			field := f.plant.Field(u.Plane)
			fields[u.Plane] = field
			missing = slices.Concat(missing, field.Missing, g.model.Trunk.Spacing(u.Plane.Grid.Orientation).Term().Missing())
			unplaced = append(unplaced, field.Unplaced...)
			index[u.Plane] = len(r.planes)
			r.planes = append(r.planes, nil)
		}
		p := index[u.Plane]
		r.planes[p] = append(r.planes[p], i)
	}
	if len(r.planes) > 1 { // the way between planes needs their places
		missing = append(missing, unplaced...)
	}
	if f.lacks(missing...) {
		return false
	}
	for _, p := range r.planes {
		r.sweeps = append(r.sweeps, sweepsOf(p, func(u int) job.Position {
			at, _ := job.ParsePosition(g.units[u].Position) // made by site
			return at
		}))
	}
	r.links = make([][]link, len(g.units))
	for i, u := range g.units {
		r.links[i] = make([]link, len(g.units))
		for k, v := range g.units {
			var way quantity.Feet
			if u.Plane == v.Plane {
				way = fields[u.Plane].Way(u, v)
			} else {
				way = site.Across(fields[u.Plane], u, fields[v.Plane], v) + wayBetweenPlanes
			}
			spacing := min(spacingOf(u), spacingOf(v))
			r.links[i][k] = q.costs.link(way, spacing)
		}
	}
	return true
}

func spacingOf(u *site.Unit) quantity.Feet {
	return u.Inverter.Trunk.Spacing(u.Plane.Grid.Orientation).Value
}

// homes prices the ways from junction boxes to the landing; false where a
// measure is missing. A box whose place nobody gave is taken to sit at the first
// drop.
func (f *filler) homes(q *question, g *ground, runs []*site.Run) bool {
	for _, run := range runs {
		if f.lacks(run.Length.Term().Missing()...) {
			return false
		}
		h := home{box: run.From, run: run.ID, feet: run.Length.Value,
			price: cents(q.costs.Branch) + cents(q.costs.HomeRun*run.Length.Value.Float())}
		if f.budget != nil {
			h.volts = f.budget.homes[run.ID] * g.roof.amps
		}
		i := slices.IndexFunc(f.doc.JunctionBoxes, func(j job.JunctionBox) bool { return j.ID == run.From })
		at := f.doc.JunctionBoxes[i].At
		for _, u := range g.units {
			lead := link{feet: spacingOf(u)}
			if at.Known {
				field := f.plant.Field(u.Plane)
				if f.lacks(field.Unplaced...) {
					return false
				}
				lead = q.costs.link(field.FromBox(at.Value, u), spacingOf(u))
			}
			h.leads = append(h.leads, lead)
		}
		g.roof.homes = append(g.roof.homes, h)
	}
	return true
}

// branch enters a branch of the layout into the decisions.
func (f *filler) branch(q *question, s *Stretch, pairs []float64) {
	id := f.nextLetter()
	m := s.model
	d := job.Branch{ID: id, Units: s.Units, Feed: s.Feed, Jumpers: s.Jumpers, From: s.From, Lands: q.bus.ID,
		Breaker: known(m.Trunk.Rating.Value), Decided: job.Decided{By: job.Tool}}
	d.Spaces = f.spaces(q.bus, pairs, s.amps)
	f.dec.Branches = append(f.dec.Branches, d)
	path := "decisions.branches." + id
	limit, _ := f.limit(m)
	f.chose(path+".units", fmt.Sprintf("%d units of %s", s.Count, m.ID), "branch-units",
		"at most %d on a branch: listing %d, amps %g A of %g A", limit, int(m.UnitsPer20A.Value), m.Current.Value.Float(), m.Trunk.Rating.Value.Float()/1.25)
	if s.Feed == job.CenterFed {
		f.chose(path+".feed", "center-fed", "voltage-rise", "end-fed the rise to the last unit would pass the target")
	}
	f.chose(path+".breaker", fmt.Sprintf("%g A, two-pole", d.Breaker.Value.Float()), "branch-breaker",
		"the listing counts units on a breaker of this size")
}

func (f *filler) nextLetter() string {
	for c := 'A'; ; c++ {
		taken := false
		for _, b := range f.dec.Branches {
			taken = taken || b.ID == string(c)
		}
		if !taken {
			return string(c)
		}
	}
}

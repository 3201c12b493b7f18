package plan

import (
	"fmt"
	"math"

	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// branches puts every unit that is on no branch yet on a new one, model by
// model, in the order of planes and rows.
func (f *filler) branches() error {
	var models []*site.Inverter
	free := map[*site.Inverter][]*site.Unit{}
	for _, u := range f.plant.Units {
		if u.Branch != nil {
			continue
		}
		if free[u.Inverter] == nil {
			models = append(models, u.Inverter)
		}
		free[u.Inverter] = append(free[u.Inverter], u)
	}
	for _, m := range models {
		limit, ok := f.limit(m)
		if !ok {
			continue
		}
		units := free[m]
		count := (len(units) + limit - 1) / limit
		for i := range count {
			from, to := i*len(units)/count, (i+1)*len(units)/count
			f.branch(m, units[from:to], limit)
		}
	}
	return f.resolve()
}

// limit is the most units of a model on one branch: by listing and by amps.
func (f *filler) limit(m *site.Inverter) (int, bool) {
	for _, t := range []interface{ Known() bool }{m.Current.Term(), m.UnitsPer20A.Term(), m.Trunk.Rating.Term()} {
		if !t.Known() {
			f.lacks(m.Current.Term().Missing()...)
			f.lacks(m.UnitsPer20A.Term().Missing()...)
			f.lacks(m.Trunk.Rating.Term().Missing()...)
			return 0, false
		}
	}
	byAmps := int(math.Floor(quantity.Snap(m.Trunk.Rating.Value.Float() / 1.25 / m.Current.Value.Float())))
	return max(1, min(byAmps, int(m.UnitsPer20A.Value))), true
}

func (f *filler) branch(m *site.Inverter, units []*site.Unit, limit int) {
	if len(f.doc.JunctionBoxes) == 0 || len(f.doc.Combiners) == 0 {
		f.lacks(working.Missing{Path: "combiners", What: "junction box and combiner for the branches", Find: "say where trunk cable ends and branches land, or decide the branches"})
		return
	}
	id := f.nextLetter()
	d := job.Branch{ID: id, Feed: job.EndFed, From: f.doc.JunctionBoxes[0].ID, Lands: f.doc.Combiners[0].ID,
		Breaker: known(m.Trunk.Rating.Value), Decided: job.Decided{By: job.Tool}}
	for _, u := range serpentine(units) {
		d.Units = append(d.Units, u.Position)
	}
	d.Spaces = f.combinerSpaces(d.Lands)
	f.dec.Branches = append(f.dec.Branches, d)
	path := "decisions.branches." + id
	f.chose(path+".units", fmt.Sprintf("%d units of %s", len(units), m.ID), "branch-units",
		"at most %d on a branch: listing %d, amps %g A of %g A", limit, int(m.UnitsPer20A.Value), m.Current.Value.Float(), m.Trunk.Rating.Value.Float()/1.25)
	f.chose(path+".breaker", fmt.Sprintf("%g A, two-pole", d.Breaker.Value.Float()), "branch-breaker",
		"the listing counts units on a breaker of this size")
}

// serpentine orders units as a trunk runs: along one row and back along the
// next, so that no jumper crosses the plane.
func serpentine(units []*site.Unit) []*site.Unit {
	out := make([]*site.Unit, 0, len(units))
	for i := 0; i < len(units); {
		j := i
		for j < len(units) && row(units[j]) == row(units[i]) {
			j++
		}
		back := len(out) > 0 && out[len(out)-1].Plane == units[i].Plane && column(out[len(out)-1]) > column(units[i])
		for k := range j - i {
			if back {
				out = append(out, units[j-1-k])
			} else {
				out = append(out, units[i+k])
			}
		}
		i = j
	}
	return out
}

func row(u *site.Unit) string {
	p, _ := job.ParsePosition(u.Position)
	return fmt.Sprint(p.Plane, p.Row)
}

func column(u *site.Unit) int {
	p, _ := job.ParsePosition(u.Position)
	return p.Col
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

// combinerSpaces gives the next free two-pole position of a combiner, down its
// left side.
func (f *filler) combinerSpaces(combiner string) []int {
	taken := map[int]bool{}
	for _, b := range f.dec.Branches {
		if b.Lands == combiner {
			for _, s := range b.Spaces {
				taken[s] = true
			}
		}
	}
	for s := 1; ; s += 4 {
		if !taken[s] && !taken[s+2] {
			return []int{s, s + 2}
		}
	}
}

package plan

import (
	"fmt"

	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
)

// connection lands each combiner that has no point of connection yet on the
// far end of the service panel.
func (f *filler) connection() error {
	for i := range f.doc.Combiners {
		from := f.plant.Bus(f.doc.Combiners[i].ID)
		if from.Up != nil || !from.HasSource() {
			continue
		}
		run := f.runFrom(from.ID)
		panel := f.plant.Service.Panel
		if run == nil || panel == nil || run.To != panel.ID || !f.plant.Edition.Known {
			f.lacks(f.plant.Edition.Term().Missing()...)
			continue
		}
		d := job.Connection{ID: "PV", From: from.ID, Run: run.ID, Kind: job.BackfedBreaker, Panel: panel.ID,
			Decided: job.Decided{By: job.Tool}}
		path := "decisions.connections." + d.ID
		if spaces := farEnd(panel); spaces != nil {
			d.Spaces = spaces
			f.chose(path+".spaces", fmt.Sprint(spaces), "busbar-end", "free, and opposite the main")
		}
		out, ok := current(from)
		if ok {
			need := 1.25 * out
			rating, err := tables.NextStandard(f.plant.Edition.Value, quantity.Amps(need))
			if err != nil {
				return err
			}
			d.Breaker = known(rating)
			f.chose(path+".breaker", fmt.Sprintf("%g A, two-pole", rating.Float()), "output-breaker",
				"smallest standard rating that holds 1.25 × %s A = %s A", quantity.Trim(out, 2), quantity.Trim(need, 2))
		}
		f.dec.Connections = append(f.dec.Connections, d)
	}
	return f.resolve()
}

func (f *filler) runFrom(id string) *site.Run {
	for _, r := range f.plant.Runs {
		if r.From == id {
			return r
		}
	}
	return nil
}

func current(b *site.Bus) (float64, bool) {
	var sum float64
	for _, g := range b.Groups() {
		if !g.Inverter.Current.Known {
			return 0, false
		}
		sum += float64(g.Count) * g.Inverter.Current.Value.Float()
	}
	return sum, true
}

// farEnd finds a free two-pole position at the end of the busbar opposite its
// main, or at either end of a center-fed one; nil where there is none.
func farEnd(b *site.Bus) []int {
	if !b.Spaces.Known || !b.Feed.Known {
		return nil
	}
	taken := map[int]bool{}
	for _, d := range b.Breakers {
		for _, s := range d.Spaces {
			taken[s] = true
		}
	}
	n := int(b.Spaces.Value)
	for _, pair := range [][]int{{n - 2, n}, {n - 3, n - 1}, {1, 3}, {2, 4}} {
		at := &site.Breaker{Spaces: pair}
		if pair[0] > 0 && !taken[pair[0]] && !taken[pair[1]] && b.AtEnd(at).Value {
			return pair
		}
	}
	return nil
}

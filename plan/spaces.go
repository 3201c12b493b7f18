package plan

import "legwork/site"

// freeSpaces lists the two-pole positions left on a bus, in the order in which
// they are filled: down the left side, then down the right. A combiner has as
// many as its nameplate says, whatever their numbers. False while that is not
// known.
func (f *filler) freeSpaces(b *site.Bus) ([][]int, bool) {
	taken := map[int]bool{}
	landed := 0
	for _, d := range b.Breakers {
		for _, s := range d.Spaces {
			taken[s] = true
		}
		if d.Branch != nil {
			landed++
		}
	}
	left, last := 0, 0
	switch {
	case b.Kind == site.CombinerBus:
		if !b.BranchSpaces.Known {
			f.lacks(b.BranchSpaces.Term().Missing()...)
			return nil, false
		}
		left, last = int(b.BranchSpaces.Value)-landed, 1000
	case !b.Spaces.Known:
		f.lacks(b.Spaces.Term().Missing()...)
		return nil, false
	default:
		last = int(b.Spaces.Value)
		left = last
	}
	var out [][]int
	for side := 1; side <= 2; side++ {
		for s := side; s+2 <= last && len(out) < left; s += 2 {
			if !taken[s] && !taken[s+2] {
				out = append(out, []int{s, s + 2})
				taken[s], taken[s+2] = true, true
			}
		}
	}
	return out, true
}

// pair is the pair of legs that a two-pole breaker gets in a three-phase bus,
// whose legs follow each other down each side: 1 and 3 are A and B, 5 and 7 C
// and A, 9 and 11 B and C. Common practice of panelboards.
func pair(spaces []int) int { return (spaces[0] - 1) / 2 % 3 }

// loads are the amps on each pair of legs of a bus already.
func (f *filler) loads(b *site.Bus) []float64 {
	out := make([]float64, 3)
	for _, d := range b.Breakers {
		if d.Branch == nil || len(d.Spaces) == 0 {
			continue
		}
		for _, g := range d.Branch.Groups() {
			out[pair(d.Spaces)] += float64(g.Count) * g.Inverter.Current.Value.Float()
		}
	}
	return out
}

// spaces gives the position for a branch: the next free one, on 208Y/120 the next
// on the least loaded pair. Where none is left the branch still gets none, and
// the rules say so.
func (f *filler) spaces(b *site.Bus, pairs []float64, amps float64) []int {
	free, _ := f.freeSpaces(f.taken(b))
	if len(free) == 0 {
		return nil
	}
	best := free[0]
	if pairs != nil {
		for _, s := range free {
			if pairs[pair(s)] < pairs[pair(best)] {
				best = s
			}
		}
		pairs[pair(best)] += amps
	}
	return best
}

// taken is the bus with the branches that the decisions put there since the
// plant was resolved.
func (f *filler) taken(b *site.Bus) *site.Bus {
	with := *b
	with.Breakers = nil
	for _, d := range b.Breakers {
		if d.Branch == nil {
			with.Breakers = append(with.Breakers, d)
		}
	}
	for i := range f.dec.Branches {
		if d := &f.dec.Branches[i]; d.Lands == b.ID {
			with.Breakers = append(with.Breakers, &site.Breaker{Spaces: d.Spaces, Branch: &site.Branch{ID: d.ID}})
		}
	}
	return &with
}

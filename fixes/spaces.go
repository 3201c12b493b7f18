package fixes

import (
	"fmt"
	"slices"
	"strings"

	"legwork/job"
	"legwork/site"
)

// mostMoves is how many breakers a person moves to make room for one.
const mostMoves = 3

// move is one breaker with the spaces that it goes to.
type move struct {
	device *site.Breaker
	to     []int
}

// moveBreaker puts a source breaker where the sum allows it, and makes room there.
func moveBreaker(c *Case) []Edit {
	var out []Edit
	for _, f := range c.stopsBy("busbar-end", "spaces-free") {
		b, d := entryAt(c.Plant, f.Place)
		if d == nil || !b.Spaces.Known {
			continue
		}
		var here []Edit
		least := mostMoves
		for _, to := range pairs(b) {
			far := b.AtEnd(&site.Breaker{Spaces: to})
			if !far.Known || !far.Value || slices.Equal(to, d.Spaces) && f.Rule == "busbar-end" {
				continue
			}
			moves, ok := makeRoom(b, d, to)
			switch {
			case !ok || len(moves) > least:
			case len(moves) < least: // fewer breakers to move
				least, here = len(moves), []Edit{moveEdit(b, d, to, moves)}
			default:
				here = append(here, moveEdit(b, d, to, moves))
			}
		}
		for _, e := range here {
			if !slices.ContainsFunc(out, func(o Edit) bool { return o.Title == e.Title }) {
				out = append(out, e)
			}
		}
	}
	return out
}

// entryAt finds the breaker that a place such as MP/38-40 names.
func entryAt(p *site.Plant, place string) (*site.Bus, *site.Breaker) {
	b := p.Bus(site.PlaceRoot(place))
	if b == nil {
		return nil, nil
	}
	for _, d := range b.Breakers {
		if b.ID+"/"+d.Place() == place && (d.New || len(b.Entries()) > 0 && slices.Contains(b.Entries(), d)) {
			return b, d
		}
	}
	return nil, nil
}

// pairs are the two-pole positions of a panel, one space below the other.
func pairs(b *site.Bus) [][]int {
	var out [][]int
	for s := 1; s+2 <= int(b.Spaces.Value); s++ {
		out = append(out, []int{s, s + 2})
	}
	return out
}

// makeRoom finds which breakers move where, so that a pair of spaces is free.
// Two poles travel to the nearest pair, at most one single pole making way.
func makeRoom(b *site.Bus, d *site.Breaker, pair []int) ([]move, bool) {
	at := map[int]*site.Breaker{}
	for _, o := range b.Breakers {
		for _, s := range o.Spaces {
			if o != d {
				at[s] = o
			}
		}
	}
	// The main of a center-fed bar takes its spaces.
	for _, s := range b.MainBetween {
		if slices.Contains(pair, s) {
			return nil, false
		}
	}
	var moves []move
	for _, s := range pair {
		o := at[s]
		if o == nil {
			continue
		}
		more, ok := relocate(b, at, o, pair)
		if !ok {
			return nil, false
		}
		for _, m := range more {
			for _, x := range m.device.Spaces {
				delete(at, x)
			}
		}
		for _, m := range more {
			for _, x := range m.to {
				at[x] = m.device
			}
		}
		moves = append(moves, more...)
	}
	return moves, len(moves) <= mostMoves
}

// relocate finds the nearest other place for a breaker, with the single pole
// that makes way for it, if any.
func relocate(b *site.Bus, at map[int]*site.Breaker, o *site.Breaker, not []int) ([]move, bool) {
	if o.New || len(o.Spaces) > 2 || len(o.Spaces) == 0 {
		return nil, false
	}
	if len(o.Spaces) == 1 {
		to := nearestFree(b, at, o.Spaces[0], not)
		return []move{{o, []int{to}}}, to > 0
	}
	var best []move
	least := 0
	for _, to := range pairs(b) {
		if slices.ContainsFunc(to, func(s int) bool { return slices.Contains(not, s) || slices.Contains(b.MainBetween, s) }) {
			continue
		}
		way := []move{{o, to}}
		travel := 2 * distance(o.Spaces[0], to[0])
		possible := true
		for _, s := range to {
			switch h := at[s]; {
			case h == nil || h == o:
			case len(h.Spaces) != 1 || h.New || len(way) > 1:
				possible = false
			default:
				x := nearestFree(b, at, s, append(slices.Clone(to), not...))
				possible = possible && x > 0
				way = append([]move{{h, []int{x}}}, way...)
				travel += distance(s, x)
			}
		}
		if possible && (best == nil || travel < least) {
			best, least = way, travel
		}
	}
	return best, best != nil
}

func nearestFree(b *site.Bus, at map[int]*site.Breaker, from int, not []int) int {
	best := 0
	for s := 1; s <= int(b.Spaces.Value); s++ {
		if at[s] == nil && !slices.Contains(not, s) && !slices.Contains(b.MainBetween, s) && (best == 0 || distance(s, from) < distance(best, from)) {
			best = s
		}
	}
	return best
}

func distance(a, b int) int { return max(a-b, b-a) }

func list(spaces []int) string { return (&site.Breaker{Spaces: spaces}).SpaceList() }

func moveTitle(moves []move, d *site.Breaker, to []int) string {
	var parts []string
	for _, m := range moves {
		parts = append(parts, fmt.Sprintf("move %s from %s to %s", m.device.Name, m.device.SpaceList(), list(m.to)))
	}
	if !slices.Equal(to, d.Spaces) {
		verb := "move the breaker of "
		if d.New {
			verb = "put the breaker of "
		}
		parts = append(parts, fmt.Sprintf("%s%s to %s", verb, d.Name, list(to)))
	}
	return strings.Join(parts, ", ")
}

func moveEdit(b *site.Bus, d *site.Breaker, to []int, moves []move) Edit {
	n := float64(len(moves))
	if !d.New {
		n++
	}
	return Edit{Title: moveTitle(moves, d, to), Slot: "spaces of " + b.ID + "/" + d.Place(), Touches: []string{b.ID},
		Takes: []Take{{"breaker_move", n}},
		Apply: func(x *Draft) {
			for _, m := range moves {
				x.move(b.ID, m.device.Spaces, m.to)
			}
			x.place(b, d, to)
		}}
}

// place puts a source breaker into spaces.
func (x *Draft) place(b *site.Bus, d *site.Breaker, to []int) {
	switch {
	case d.Branch != nil:
		for i := range x.Decisions.Branches {
			if x.Decisions.Branches[i].ID == d.Branch.ID {
				x.Decisions.Branches[i].Spaces = to
			}
		}
	case d.New:
		if c := x.connection(d.Carries.Up.Run.ID); c != nil {
			c.Spaces = to
		}
	case !slices.Equal(d.Spaces, to):
		x.move(b.ID, d.Spaces, to)
	}
}

func (x *Draft) move(panel string, from, to []int) {
	for i := range x.Decisions.Moves {
		if m := &x.Decisions.Moves[i]; m.Panel == panel && slices.Equal(m.To, from) {
			m.To = to
			return
		}
	}
	x.Decisions.Moves = append(x.Decisions.Moves, job.Move{Panel: panel, From: from, To: to, Decided: job.Decided{By: job.Tool}})
}

package plan

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"legwork/job"
	"legwork/quantity"
)

// anyRoof draws a roof: one to three planes of up to three rows and five columns
// with some positions left empty, two to seven units on a branch.
func anyRoof(t *rapid.T, tb testing.TB) *job.Document {
	var grids []grid
	for range rapid.IntRange(1, 3).Draw(t, "planes") {
		grids = append(grids, grid{rapid.IntRange(1, 3).Draw(t, "rows"), rapid.IntRange(2, 5).Draw(t, "columns")})
	}
	doc := roofed(tb, rapid.IntRange(2, 7).Draw(t, "limit"), grids...)
	for i := range doc.Planes {
		g := &doc.Planes[i].Grid
		for r := 1; r <= g.Rows; r++ {
			for c := 2; c <= g.Columns; c++ {
				if rapid.IntRange(0, 5).Draw(t, "empty") == 0 {
					g.Omit = append(g.Omit, job.Position{Plane: doc.Planes[i].ID, Row: r, Col: c}.String())
				}
			}
		}
	}
	if rapid.Bool().Draw(t, "box placed") {
		doc.JunctionBoxes[0].At = known(job.Point{X: quantity.Feet(rapid.IntRange(0, 80).Draw(t, "x")), Y: quantity.Feet(rapid.IntRange(0, 40).Draw(t, "y"))})
	}
	return doc
}

// mirrored is the roof seen in a mirror: east becomes west, the first column the
// last. Outlines still run from left to right.
func mirrored(doc *job.Document) *job.Document {
	out := *doc
	const axis = 200
	flip := func(p job.Point) job.Point { return job.Point{X: axis - p.X, Y: p.Y} }
	out.Planes = slices.Clone(doc.Planes)
	for i := range out.Planes {
		pl := &out.Planes[i]
		o := pl.Outline
		pl.Outline = []job.Point{flip(o[1]), flip(o[0]), flip(o[3]), flip(o[2])}
		eave := o[1].X - o[0].X
		field := quantity.Feet(pl.Grid.Columns)*45.6/12 - 1.0/12
		pl.Grid.FromLeft = known(eave - pl.Grid.FromLeft.Value - field)
		pl.Grid.Omit = nil
		for _, s := range doc.Planes[i].Grid.Omit {
			pl.Grid.Omit = append(pl.Grid.Omit, otherHand(s, pl.Grid.Columns))
		}
	}
	out.JunctionBoxes = slices.Clone(doc.JunctionBoxes)
	if at := &out.JunctionBoxes[0].At; at.Known {
		*at = known(flip(at.Value))
	}
	return &out
}

func otherHand(position string, columns int) string {
	p, err := job.ParsePosition(position)
	if err != nil {
		panic(err)
	}
	p.Col = columns + 1 - p.Col
	return p.String()
}

// TestMirroredRoof: the mirrored roof costs the same and has the same bound, and
// the mirrored plan, priced there branch by branch, is as cheap as the plan
// found there. (Where several plans cost the least, either may be taken.)
func TestMirroredRoof(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		doc := anyRoof(rt, t)
		here, there := asked(t, doc), asked(t, mirrored(doc))
		a, b := here.answer(context.Background(), 0, nil)[0], there.answer(context.Background(), 0, nil)[0]
		if a.Cost != b.Cost || a.Bound != b.Bound {
			rt.Fatalf("cost %v, bound %v; mirrored %v, %v", a.Cost, a.Bound, b.Cost, b.Bound)
		}
		g := there.grounds[0]
		columns := map[string]int{}
		for _, pl := range doc.Planes {
			columns[pl.ID] = pl.Grid.Columns
		}
		var sum Cents
		for _, s := range a.Branches {
			var path []int
			for _, u := range s.units {
				want := otherHand(u.Position, columns[u.Plane.ID])
				for i, v := range g.units {
					if v.Position == want {
						path = append(path, i)
					}
				}
			}
			sum += g.roof.branch(path, s.Feed, 0).price
		}
		if sum != b.Cost {
			rt.Fatalf("the mirrored plan costs %v, the plan of the mirrored roof %v", sum, b.Cost)
		}
	})
}

// TestNamesOfPlanes: other names give the same plan, letter by letter.
func TestNamesOfPlanes(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		doc := anyRoof(rt, t)
		other := *doc
		other.Planes = slices.Clone(doc.Planes)
		names := rapid.Permutation([]string{"porch", "E", "barn"}).Draw(rt, "names")
		back := map[string]string{}
		for i := range other.Planes {
			pl := &other.Planes[i]
			back[names[i]] = pl.ID
			pl.ID = names[i]
			pl.Grid.Omit = nil
			for _, s := range doc.Planes[i].Grid.Omit {
				p, _ := job.ParsePosition(s)
				p.Plane = names[i]
				pl.Grid.Omit = append(pl.Grid.Omit, p.String())
			}
		}
		a, b := answered(t, doc), answered(t, &other)
		if len(a.Branches) != len(b.Branches) {
			rt.Fatalf("%d branches, under other names %d", len(a.Branches), len(b.Branches))
		}
		for i := range a.Branches {
			var renamed []string
			for _, u := range b.Branches[i].units {
				p, _ := job.ParsePosition(u.Position)
				p.Plane = back[p.Plane]
				renamed = append(renamed, p.String())
			}
			var own []string
			for _, u := range a.Branches[i].units {
				own = append(own, u.Position)
			}
			if !slices.Equal(own, renamed) || a.Branches[i].Cost != b.Branches[i].Cost {
				rt.Fatalf("branch %d: %v; under other names %v", i, own, renamed)
			}
		}
	})
}

// TestPlanesInAnyOrder: the order in which the survey lists the planes changes
// neither price nor bound.
func TestPlanesInAnyOrder(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		doc := anyRoof(rt, t)
		other := *doc
		other.Planes = rapid.Permutation(doc.Planes).Draw(rt, "order")
		if a, b := answered(t, doc), answered(t, &other); a.Cost != b.Cost || a.Bound != b.Bound {
			rt.Fatalf("cost %v, bound %v; in another order %v, %v", a.Cost, a.Bound, b.Cost, b.Bound)
		}
	})
}

// TestForbiddenPlace: with the same units to string, something that stands on an
// empty position, or elsewhere in the way, never makes the plan cheaper: every
// cable gets as long as it was, or longer, and the same layouts are searched.
func TestForbiddenPlace(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		doc := anyRoof(rt, t)
		before := answered(t, doc)
		pl := &doc.Planes[rapid.IntRange(0, len(doc.Planes)-1).Draw(rt, "plane")]
		place := func(most int) job.Fact[quantity.Feet] {
			return known(quantity.Feet(rapid.IntRange(1, 4*most).Draw(rt, "quarter ft")) / 4)
		}
		pl.Obstructions = []job.Obstruction{{ID: "chimney", FromLeft: place(20), FromEave: place(18), Width: place(6), Height: place(6)}}
		if after := answered(t, doc); after.Cost < before.Cost {
			rt.Fatalf("%v, with a chimney %v", before.Cost, after.Cost)
		}
	})
}

// TestLayoutHolds: cost is at least the bound; every unit hangs once; no branch
// passes its limit; the alternatives differ in what matters; the same question
// has the same answer.
func TestLayoutHolds(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		doc := anyRoof(rt, t)
		q := asked(t, doc)
		layouts := q.answer(context.Background(), 3, nil)
		for _, l := range layouts {
			if l.Cost < l.Bound {
				rt.Fatalf("%s: cost %v below the bound %v", l.Name, l.Cost, l.Bound)
			}
			hung := map[string]int{}
			for _, s := range l.Branches {
				if s.Count > q.grounds[0].roof.limit || s.Count != len(s.units) {
					rt.Fatalf("%s: %d units on a branch of at most %d", l.Name, s.Count, q.grounds[0].roof.limit)
				}
				at, err := job.ExpandUnits(s.Units)
				if err != nil {
					rt.Fatal(err)
				}
				for _, p := range at {
					hung[p]++
				}
			}
			for _, u := range q.grounds[0].units {
				if hung[u.Position] != 1 {
					rt.Fatalf("%s: %s hangs %d times", l.Name, u.Position, hung[u.Position])
				}
			}
			if l != layouts[0] && !l.beats(layouts[0]) {
				rt.Fatalf("%s is better in nothing", l.Name)
			}
		}
		again := asked(t, doc).answer(context.Background(), 3, nil)
		for i := range layouts {
			if a, b := fmt.Sprint(describe(layouts[i])), fmt.Sprint(describe(again[i])); a != b {
				rt.Fatalf("once %s, then %s", a, b)
			}
		}
	})
}

func describe(l *Layout) []string {
	out := []string{l.Name, l.Cost.String()}
	for _, s := range l.Branches {
		out = append(out, fmt.Sprint(s.Units, s.Feed, s.Jumpers, s.From))
	}
	return out
}

// TestBoundUnderEveryLayout holds the bound of large roofs against the search of
// every layout, on roofs of any shape up to ten units.
func TestBoundUnderEveryLayout(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := asked(t, anyRoof(rt, t)).grounds[0].roof
		if r.units() > 10 {
			rt.Skip()
		}
		for b := r.fewest(); b <= min(r.units(), r.fewest()+2); b++ {
			exact := sum(r.everyLayout(b)[b])
			if bound := r.atLeast(b, r.clusters()); bound > exact {
				rt.Fatalf("%d branches: bound %v, the cheapest layout costs %v", b, bound, exact)
			}
			got, ok := r.lines(context.Background(), b, r.limit, cheapestFeed, nil, unreached.price)
			if !ok || sum(got) < exact {
				rt.Fatalf("%d branches: a line for %v, the cheapest layout costs %v", b, sum(got), exact)
			}
		}
	})
}

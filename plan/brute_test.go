package plan

import (
	"context"
	"fmt"
	"math"
	"testing"

	"legwork/job"
	"legwork/quantity"
)

// everyPath is the oracle for small roofs: it strings the units in every order,
// with a new branch or on the last one, and keeps the cheapest. It prices a
// portrait grid by hand (modules 44.6 × 67.8 in, gap 1 in, 4 ft between drops,
// 45 ft of home run) and shares no code with the planner but the table of prices.
type everyPath struct {
	at     [][2]int // row, column
	limit  int
	spaces int
	extra  [][]Cents
	branch Cents
	drop   Cents
	best   Cents
}

func bruteForce(at [][2]int, limit, spaces int) Cents {
	c := InventedCosts()
	round := func(v float64) Cents { return Cents(math.Round(v * 100)) }
	o := &everyPath{at: at, limit: limit, spaces: spaces, best: math.MaxInt64,
		branch: round(c.Branch) + round(c.HomeRun*45) + round(c.TrunkEnd), drop: round(c.Drop)}
	for _, a := range at {
		var row []Cents
		for _, b := range at {
			inches := math.Abs(float64(a[1]-b[1]))*45.6 + math.Abs(float64(a[0]-b[0]))*68.8
			sections := math.Ceil(inches/48 - 1e-9)
			skip := round(c.EmptyDrop * max(0, sections-1))
			if sections > 1 {
				skip = min(skip, round(c.JumperEnds+c.JumperCable*math.Ceil(inches/12-1e-9)))
			}
			row = append(row, skip)
		}
		o.extra = append(o.extra, row)
	}
	o.string(make([]bool, len(at)), -1, -1, 0, 0, 0, 0)
	return o.best
}

// string tries each next unit: on the branch, or first of a new one. Branches
// are begun in rising order of their first units, so that no set comes twice.
func (o *everyPath) string(used []bool, first, last, on, branches, done int, price Cents) {
	if price >= o.best {
		return
	}
	if done == len(o.at) {
		o.best = price
		return
	}
	for u := range o.at {
		if used[u] {
			continue
		}
		used[u] = true
		if last >= 0 && on < o.limit {
			o.string(used, first, u, on+1, branches, done+1, price+o.drop+o.extra[last][u])
		}
		if u > first && branches < o.spaces {
			o.string(used, u, u, 1, branches+1, done+1, price+o.drop+o.branch)
		}
		used[u] = false
	}
}

// TestEverySmallRoof: all grids up to ten units with two to five on a branch:
// the planner finds the price of the oracle, and its bound is that price.
func TestEverySmallRoof(t *testing.T) {
	for rows := 1; rows <= 10; rows++ {
		for columns := 1; rows*columns <= 10; columns++ {
			var at [][2]int
			for r := range rows {
				for c := range columns {
					at = append(at, [2]int{r, c})
				}
			}
			for limit := 2; limit <= 5; limit++ {
				name := fmt.Sprintf("%d × %d, %d on a branch", rows, columns, limit)
				l := answered(t, roofed(t, limit, grid{rows, columns}))
				if want := bruteForce(at, limit, len(at)); l.Cost != want || l.Bound != want {
					t.Errorf("%s: cost %v, bound %v, want %v", name, l.Cost, l.Bound, want)
				}
				if rows*columns > mostExact-4 {
					continue
				}
				// The same roofs by the methods of large ones.
				r := asked(t, roofed(t, limit, grid{rows, columns})).grounds[0].roof
				want := bruteForce(at, limit, r.fewest())
				got, ok := r.lines(context.Background(), r.fewest(), limit, cheapestFeed, nil, unreached.price)
				bound := r.atLeast(r.fewest(), r.clusters())
				if !ok || sum(got) < want || bound > want {
					t.Errorf("%s: line %v %v, bound %v, want them on either side of %v", name, sum(got), ok, bound, want)
				}
			}
		}
	}
}

// TestRoofsWithHoles: grids with positions left empty, where no line over the
// roof need be the best.
func TestRoofsWithHoles(t *testing.T) {
	for _, c := range []struct {
		name          string
		rows, columns int
		omit          [][2]int
	}{
		{"L", 3, 3, [][2]int{{1, 1}, {1, 2}, {2, 1}, {2, 2}}},
		{"U", 3, 3, [][2]int{{1, 1}, {2, 1}}},
		{"ring", 3, 3, [][2]int{{1, 1}}},
		{"stairs", 3, 4, [][2]int{{0, 3}, {1, 0}, {2, 0}, {2, 1}}},
		{"two islands", 2, 5, [][2]int{{0, 2}, {1, 2}}},
	} {
		for limit := 2; limit <= 5; limit++ {
			doc := roofed(t, limit, grid{c.rows, c.columns})
			var at [][2]int
			for r := range c.rows {
			column:
				for k := range c.columns {
					for _, o := range c.omit {
						if o == [2]int{r, k} {
							doc.Planes[0].Grid.Omit = append(doc.Planes[0].Grid.Omit, job.Position{Plane: "roof1", Row: r + 1, Col: k + 1}.String())
							continue column
						}
					}
					at = append(at, [2]int{r, k})
				}
			}
			l := answered(t, doc)
			if want := bruteForce(at, limit, len(at)); l.Cost != want || l.Bound != want {
				t.Errorf("%s, %d on a branch: cost %v, bound %v, want %v", c.name, limit, l.Cost, l.Bound, want)
			}
		}
	}
}

// TestPriceByHand: seven portrait modules in a row and one above the last. Six
// links along the row are one spacing, 45.6 in of 48. The eighth is 68.8 in away:
// two spacings, one drop empty.
//
//	drop        19.00 + 4 min × 85/60             = 24.67   × 8 = 197.36
//	empty drop  23.00 + 2 min                     = 25.83
//	branch      34.00 + 35 min                    = 83.58
//	home run    45 ft × (1.20 + 0.4 min) = 45 × 1.76667 = 79.50
//	trunk end    9.00 + 2 min                     = 11.83
//	together                                       398.10
//
// Rise: 2 × 1.42 A × 1.98 Ω/kft × Σ; fed at the row's far end from the turn the
// sections carry 8 … 2 units over 4 ft and 1 over 8 ft: 35 × 4 + 8 = 148;
// 2 × 1.42 × 1.98 × 148 / 1000 = 0.832 V (12 AWG stranded, chapter 9 table 8).
func TestPriceByHand(t *testing.T) {
	doc := roofed(t, 8, grid{2, 7})
	for c := 1; c <= 6; c++ {
		doc.Planes[0].Grid.Omit = append(doc.Planes[0].Grid.Omit, fmt.Sprintf("roof1-r2-c%d", c))
	}
	l := answered(t, doc)
	b := l.Branches[0]
	if l.Cost != 39810 || b.Empty != 1 || quantity.Round(float64(b.Rise), 3) != 0.832 || b.Cable != 7*4+8 {
		t.Errorf("cost %v, %d empty, rise %.3f V, cable %v ft; want $398.10, 1, 0.832 V, 36 ft", l.Cost, b.Empty, b.Rise, b.Cable)
	}
	if fmt.Sprint(b.Units) != "[roof1-r1-c1..c7 roof1-r2-c7]" {
		t.Errorf("units %v", b.Units)
	}
}

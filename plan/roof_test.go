package plan

import (
	"context"
	"fmt"
	"testing"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/quantity"
)

// grid is a field of modules for a test: rows and columns on a plane of its own.
type grid struct{ rows, columns int }

// roofed is an invented house with other planes: one a grid, all facing south at
// 22°, row after row of planes 30 ft apart to the east, and no decision taken.
func roofed(t testing.TB, limit int, grids ...grid) *job.Document {
	t.Helper()
	doc := houses.Get(t, "quillfeather").Doc
	doc.Decisions.Branches = nil
	doc.Equipment.Inverters[0].UnitsPer20A240 = known(limit)
	doc.Equipment.Combiners[0].BranchSpaces = known(200)
	model := doc.Planes[0]
	doc.Planes = nil
	x := quantity.Feet(10)
	for i, g := range grids {
		pl := model
		pl.ID = fmt.Sprintf("roof%d", i+1)
		pl.Grid.Rows, pl.Grid.Columns = g.rows, g.columns
		width := quantity.Feet(g.columns)*3.8 + 4
		depth := quantity.Feet(g.rows)*5.8 + 4
		pl.Azimuth = known(quantity.Degrees(180))
		pl.Outline = []job.Point{{X: x, Y: 10}, {X: x + width, Y: 10}, {X: x + width, Y: 10 + depth}, {X: x, Y: 10 + depth}}
		x += width + 10
		doc.Planes = append(doc.Planes, pl)
	}
	return doc
}

// asked is the planner's question for a document.
func asked(t testing.TB, doc *job.Document) *question {
	t.Helper()
	f := &filler{doc: doc, dec: clone(doc.Decisions)}
	if err := f.resolve(); err != nil {
		t.Fatal(err)
	}
	q, ok := f.question()
	if !ok {
		t.Fatalf("no question; missing %v", f.open)
	}
	return q
}

func answered(t testing.TB, doc *job.Document) *Layout {
	t.Helper()
	return asked(t, doc).answer(context.Background(), 0, nil)[0]
}

func BenchmarkPlan(b *testing.B) {
	for _, c := range []struct {
		name  string
		grids []grid
	}{
		{"10 modules on one plane", []grid{{2, 5}}},
		{"40 modules on one plane", []grid{{4, 10}}},
		{"40 modules on four planes", []grid{{2, 7}, {2, 6}, {2, 4}, {2, 3}}},
		{"40 modules on five planes", []grid{{2, 5}, {2, 5}, {2, 4}, {2, 3}, {2, 3}}},
		{"100 modules on four planes", []grid{{4, 8}, {4, 7}, {3, 8}, {2, 8}}},
		{"400 modules on four planes", []grid{{10, 12}, {10, 10}, {10, 10}, {8, 10}}},
		{"400 modules on ten planes", []grid{{4, 10}, {4, 10}, {4, 10}, {4, 10}, {4, 10}, {4, 10}, {4, 10}, {4, 10}, {4, 10}, {4, 10}}},
	} {
		b.Run(c.name, func(b *testing.B) {
			q := asked(b, roofed(b, 11, c.grids...))
			for b.Loop() {
				l := q.answer(context.Background(), 0, nil)[0]
				b.ReportMetric(float64(l.Gap())/float64(l.Cost)*100, "%gap")
			}
		})
	}
}

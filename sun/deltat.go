package sun

import (
	"fmt"
	"math"
	"sync"
	"time"

	"legwork/quantity"
	"legwork/where"
)

type deltaTRow struct{ year, seconds float64 }

var deltaTRows = sync.OnceValue(func() []deltaTRow {
	var out []deltaTRow
	for _, r := range records("delta_t") {
		out = append(out, deltaTRow{number(r[0]), number(r[1])})
	}
	return out
})

// DeltaT is terrestrial time less universal time at t, between two January 1sts
// in proportion. A second of it moves the sun by 0.04 arc seconds.
//
// Source: Meeus, Astronomical Algorithms, table 10.A; IERS EOP 14 C04; data/delta_t.csv.
// Valid: 1900 to 2040; assumed flat from 2027.
func DeltaT(t time.Time) (quantity.Seconds, error) {
	t = t.UTC()
	start := time.Date(t.Year(), 1, 1, 0, 0, 0, 0, time.UTC)
	length := time.Date(t.Year()+1, 1, 1, 0, 0, 0, 0, time.UTC).Sub(start)
	year := float64(t.Year()) + t.Sub(start).Seconds()/length.Seconds()
	rows := deltaTRows()
	first, last := rows[0], rows[len(rows)-1]
	if math.IsNaN(year) || year < first.year || year >= last.year+1 {
		return 0, where.Error{
			Path: "delta T", Came: fmt.Sprintf("the year %d", t.Year()),
			Expected: fmt.Sprintf("%.0f to %.0f", first.year, last.year), Try: "give delta T in seconds",
		}
	}
	before := first
	for _, r := range rows {
		if year < r.year {
			share := (year - before.year) / (r.year - before.year)
			return quantity.Seconds(before.seconds + share*(r.seconds-before.seconds)), nil
		}
		before = r
	}
	return quantity.Seconds(last.seconds), nil
}

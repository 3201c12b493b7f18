package sun

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"legwork/quantity"
)

// apart is the largest difference of two positions in any angle; azimuth and
// hour angle count as far as they move the sun in the sky.
func apart(a, b Position) float64 {
	d := func(x, y quantity.Degrees) float64 { return math.Abs(math.Remainder(float64(x-y), 360)) }
	return max(
		d(a.Azimuth, b.Azimuth)*math.Cos(radians(a.Airless)), d(a.Airless, b.Airless),
		d(a.RightAscension, b.RightAscension), d(a.Declination, b.Declination), d(a.HourAngle, b.HourAngle),
		math.Abs(float64(a.Distance-b.Distance))*57, math.Abs(float64(a.EquationOfTime-b.EquationOfTime))/240)
}

func TestTrackAgreesWithAt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		year := rapid.IntRange(1900, 2099).Draw(t, "year")
		loc := Location{
			Latitude:  quantity.Degrees(rapid.Float64Range(-90, 90).Draw(t, "latitude")),
			Longitude: quantity.Degrees(rapid.Float64Range(-180, 180).Draw(t, "longitude")),
			Elevation: Feet(rapid.Float64Range(-100, 4000).Draw(t, "meters")),
			// Without air: at the edge of refraction a hair decides for or against.
		}
		from := time.Date(year, time.Month(rapid.IntRange(1, 12).Draw(t, "month")), 1, 0, 0, 0, 0, time.UTC)
		to := from.AddDate(0, 0, rapid.IntRange(0, 20).Draw(t, "days"))
		track := NewTrack(loc, from, to, 69)
		span := max(1, int64(to.Sub(from)))
		at := from.Add(time.Duration(rapid.Int64Range(-span/2, span*3/2).Draw(t, "at"))) // also outside
		if off := apart(track.At(at), At(at, loc, 69)); off > float64(TrackBound) {
			t.Errorf("%s: off by %.2g°, bound %.2g°", at, off, TrackBound)
		}
	})
}

func TestTrackOverAYearOfHours(t *testing.T) {
	loc := workedLocation()
	from := time.Date(2026, 1, 1, 0, 30, 0, 0, time.UTC)
	track := NewTrack(loc, from, from.AddDate(1, 0, 0), 69.1)
	worst := 0.0
	for at := from; at.Year() == 2026; at = at.Add(time.Hour) {
		worst = max(worst, apart(track.At(at), At(at, loc, 69.1)))
	}
	if worst > float64(TrackBound) {
		t.Errorf("off by %.2g°, bound %.2g°", worst, TrackBound)
	}
	t.Logf("worst %.2g°", worst)
}

// BenchmarkYearOfHours measures the fast path and, in the same run, the full
// series over the same hours, and says how many times faster it is.
func BenchmarkYearOfHours(b *testing.B) {
	loc := workedLocation()
	from := time.Date(2026, 1, 1, 0, 30, 0, 0, time.UTC)
	const hours = 8760
	plainStart := time.Now()
	for h := range hours {
		At(from.Add(time.Duration(h)*time.Hour), loc, 69.1)
	}
	plain := time.Since(plainStart)
	for b.Loop() {
		track := NewTrack(loc, from, from.AddDate(1, 0, 0), 69.1)
		for h := range hours {
			track.At(from.Add(time.Duration(h) * time.Hour))
		}
	}
	fast := b.Elapsed() / time.Duration(b.N)
	b.ReportMetric(hours/plain.Seconds(), "plain-positions/s")
	b.ReportMetric(hours/fast.Seconds(), "positions/s")
	b.ReportMetric(plain.Seconds()/fast.Seconds(), "times-faster")
}

func BenchmarkTrackAt(b *testing.B) {
	from := time.Date(2026, 1, 1, 0, 30, 0, 0, time.UTC)
	track := NewTrack(workedLocation(), from, from.AddDate(1, 0, 0), 69.1)
	i := 0
	for b.Loop() {
		track.At(from.Add(time.Duration(i%525600) * time.Minute))
		i++
	}
}

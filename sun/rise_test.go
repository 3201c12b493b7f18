package sun

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"legwork/quantity"
)

// Rise and set of the U.S. Naval Observatory, to the minute: two places over a
// year and the neighborhood of both poles.
func TestAlmanac(t *testing.T) {
	type place struct{ latitude, longitude quantity.Degrees }
	printed := map[place][]Event{}
	compared := 0
	for _, r := range outside(t, "sunrise_sunset_almanac.csv") {
		p := place{quantity.Degrees(r.number(t, "lat_deg")), quantity.Degrees(r.number(t, "lon_deg_east"))}
		at, err := time.Parse("2006-01-02T15:04Z", r["utc_minute"])
		if err != nil {
			t.Fatal(err)
		}
		printed[p] = append(printed[p], Event{EventKind(r["event"]), at})
		compared++
	}
	if compared != 1040 {
		t.Errorf("%d events, want 1040", compared)
	}
	// The almanac's definition: 50′ below the horizon seen from the ground.
	const almanac quantity.Degrees = -50./60 + 8.794/3600
	// Beyond the rounding to the minute up to 18″ of height remain, a second and
	// a half of time at latitude 29. The 200 positions say that ours lie within
	// 1″; the almanac's program is of low precision.
	const slack = 20. / 3600
	for p, events := range printed {
		deltaT, err := DeltaT(events[0].At)
		if err != nil {
			t.Fatal(err)
		}
		track := NewTrack(Location{Latitude: p.latitude, Longitude: p.longitude}, events[0].At, events[len(events)-1].At, deltaT)
		polar := math.Abs(float64(p.latitude)) > 66
		var worst, worstOfReport time.Duration
		sum, n := map[EventKind]float64{}, map[EventKind]float64{}
		for _, want := range events {
			off := nearest(track.events(want.At.Add(-time.Hour), want.At.Add(time.Hour), almanac), want)
			worst = max(worst, off.Abs())
			worstOfReport = max(worstOfReport, nearest(track.Events(want.At.Add(-time.Hour), want.At.Add(time.Hour)), want).Abs())
			sum[want.Kind], n[want.Kind] = sum[want.Kind]+off.Seconds(), n[want.Kind]+1
			height := func(late time.Duration) float64 {
				return math.Asin(track.sinElevation(daysSinceJ2000(want.At.Add(late)))) * 180 / math.Pi
			}
			early, late := height(-30*time.Second), height(30*time.Second)
			if float64(almanac) < min(early, late)-slack || float64(almanac) > max(early, late)+slack {
				t.Errorf("latitude %g, %s %s: off by %v", p.latitude, want.Kind, want.At.Format(time.DateTime), off)
			}
			if !polar && off.Abs() > 34*time.Second {
				t.Errorf("latitude %g, %s %s: off by %v", p.latitude, want.Kind, want.At.Format(time.DateTime), off)
			}
		}
		t.Logf("latitude %g: %d events, worst %v; by the report's definition %v", p.latitude, len(events), worst.Round(time.Second), worstOfReport.Round(time.Second))
		// Rounding to the minute has a spread of 17.3 s: the mean of many events
		// tells far smaller errors.
		for kind, s := range sum {
			mean, limit := s/n[kind], 4*17.3/math.Sqrt(n[kind])
			if !polar {
				t.Logf("latitude %g: %s is %+.2f s late on the mean", p.latitude, kind, mean)
				if math.Abs(mean) > limit {
					t.Errorf("latitude %g: %s is %+.1f s late on the mean, limit %.1f", p.latitude, kind, mean, limit)
				}
			}
		}
		if !polar && worstOfReport > 35*time.Second {
			t.Errorf("latitude %g: the report's definition is off by %v", p.latitude, worstOfReport)
		}
	}
}

// nearest is how much later than want the nearest event of its kind comes.
func nearest(found []Event, want Event) time.Duration {
	off := time.Duration(math.MaxInt64)
	for _, e := range found {
		if d := e.At.Sub(want.At); e.Kind == want.Kind && d.Abs() < off.Abs() {
			off = d
		}
	}
	return off
}

func TestMidnightSunAndPolarNight(t *testing.T) {
	utqiagvik := Location{Latitude: 71.29, Longitude: -156.79}
	for _, tt := range []struct {
		name string
		day  time.Time
	}{
		{"midnight sun", time.Date(2026, 6, 21, 8, 0, 0, 0, time.UTC)},
		{"polar night", time.Date(2026, 12, 21, 9, 0, 0, 0, time.UTC)},
	} {
		got := NewTrack(utqiagvik, tt.day, tt.day.Add(24*time.Hour), 69).Events(tt.day, tt.day.Add(24*time.Hour))
		if len(got) != 1 || got[0].Kind != Transit {
			t.Errorf("%s: %v, want one transit", tt.name, got)
		}
	}
}

// Outside the polar circles a day has one of each; the sun is at its mark then.
func TestDayHasRiseTransitSet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		loc := Location{
			Latitude:  quantity.Degrees(rapid.Float64Range(-64, 64).Draw(t, "latitude")),
			Longitude: quantity.Degrees(rapid.Float64Range(-180, 180).Draw(t, "longitude")),
		}
		// From about midnight of local mean time.
		day := time.Date(rapid.IntRange(1950, 2039).Draw(t, "year"), 1, 1, 0, 0, 0, 0, time.UTC).
			AddDate(0, 0, rapid.IntRange(0, 365).Draw(t, "day")).
			Add(-time.Duration(float64(loc.Longitude) / 15 * float64(time.Hour)))
		track := NewTrack(loc, day, day.Add(24*time.Hour), 60)
		got := track.Events(day, day.Add(24*time.Hour))
		if len(got) != 3 || got[0].Kind != Rise || got[1].Kind != Transit || got[2].Kind != Set {
			t.Fatalf("%v", got)
		}
		for _, e := range got {
			p := track.At(e.At)
			switch {
			case e.Kind == Transit && math.Abs(float64(p.HourAngle)) > 0.002:
				t.Errorf("hour angle %g° at transit", p.HourAngle)
			case e.Kind != Transit && math.Abs(float64(p.Airless-riseElevation)) > 0.003: // parallax
				t.Errorf("elevation %g° at %s", p.Airless, e.Kind)
			}
		}
	})
}

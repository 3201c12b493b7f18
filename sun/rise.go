package sun

import (
	"math"
	"time"

	"legwork/quantity"
)

// EventKind is what the sun does at an instant.
type EventKind string

// The events of a day.
const (
	Rise    EventKind = "rise"
	Transit EventKind = "transit"
	Set     EventKind = "set"
)

// Event is one of them.
type Event struct {
	Kind EventKind
	At   time.Time // UTC
}

// riseElevation is the geocentric elevation of the sun's center at rise and
// set: the upper edge touches a level horizon through usual air.
//
// Source: NREL/TP-560-34302, appendix A.2: −0.8333°. The almanac of the U.S.
// Naval Observatory takes the same angle from the ground, 9″ of parallax lower
// down: a second of time in the United States, minutes at the poles.
const riseElevation = -(sunRadius + horizonRefraction)

// scanStep is how finely a day is looked through before a crossing is narrowed
// down. Near a pole the sun may rise and set within the hour.
const scanStep = 10.0 / (24 * 60)

// Events lists the rises, transits and sets in [from, to), in order. A day
// without any rise or set is one of midnight sun or of polar night.
//
// Source: the definition is that of NREL/TP-560-34302, appendix A.2; in place of
// its interpolation over three days the crossing itself is found, to 1 ms.
// Valid: a level horizon at the observer's own height and usual air. Real air
// shifts rise and set by a minute or more at high latitudes.
func (t *Track) Events(from, to time.Time) []Event {
	return t.events(from, to, riseElevation)
}

// events is Events for rise and set at a geocentric elevation.
func (t *Track) events(from, to time.Time, elevation quantity.Degrees) []Event {
	var out []Event
	sinRise := math.Sin(radians(elevation))
	above := func(d float64) float64 { return t.sinElevation(d) - sinRise }
	start, end := daysSinceJ2000(from), daysSinceJ2000(to)
	add := func(kind EventKind, d float64) {
		// Within a millisecond of the edge the rounding decides, not the sun.
		at := j2000.Add(time.Duration(math.Round(d*86400e3)) * time.Millisecond)
		if !at.Before(from) && at.Before(to) {
			out = append(out, Event{kind, at})
		}
	}
	for a := start; a < end; a += scanStep {
		b := min(a+scanStep, end)
		ha, hb := t.hourAngle(a), t.hourAngle(b)
		transit := math.NaN()
		if ha < 0 && hb >= 0 {
			transit = cross(t.hourAngle, a, b)
		}
		for _, c := range crossings(above, a, b) {
			if transit < c {
				add(Transit, transit)
				transit = math.NaN()
			}
			if above(c+scanStep/1000) > above(c-scanStep/1000) {
				add(Rise, c)
			} else {
				add(Set, c)
			}
		}
		if !math.IsNaN(transit) {
			add(Transit, transit)
		}
	}
	return out
}

// hourAngle of the geocentric sun, radians in [−π, π].
func (t *Track) hourAngle(d float64) float64 {
	s := t.apparent(d)
	return halfTurn(meanSidereal(d)*math.Pi/180 + s.equinoxes + t.longitude - s.α)
}

// sinElevation of the geocentric sun.
func (t *Track) sinElevation(d float64) float64 {
	s := t.apparent(d)
	sinδ, cosδ := math.Sincos(s.δ)
	H := meanSidereal(d)*math.Pi/180 + s.equinoxes + t.longitude - s.α
	return t.sinφ*sinδ + t.cosφ*cosδ*math.Cos(H)
}

// crossings are the instants in [a, b] at which f changes sign. When it does not
// from end to end, it may still touch in between, at its top or bottom, so that
// one is looked for.
func crossings(f func(float64) float64, a, b float64) []float64 {
	fa, fb := f(a), f(b)
	if (fa < 0) != (fb < 0) {
		return []float64{cross(f, a, b)}
	}
	sign := 1.0
	if fa > 0 {
		sign = -1
	}
	away := func(d float64) float64 { return sign * f(d) }
	if m := away((a + b) / 2); m < sign*fa || m < sign*fb {
		return nil // no top inside: the arc over ten minutes is a parabola
	}
	top := peak(away, a, b)
	if away(top) <= 0 {
		return nil
	}
	return []float64{cross(f, a, top), cross(f, top, b)}
}

// cross narrows a change of sign of f in [a, b] down to a tenth of a
// millisecond by halving.
func cross(f func(float64) float64, a, b float64) float64 {
	before := f(a) < 0
	for b-a > 0.0001/86400 {
		m := (a + b) / 2
		if m == a || m == b {
			break
		}
		if (f(m) < 0) == before {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}

// peak is where a hump of f in [a, b] is highest, by thirds.
func peak(f func(float64) float64, a, b float64) float64 {
	for b-a > 0.001/86400 {
		m, n := a+(b-a)/3, b-(b-a)/3
		if f(m) < f(n) {
			a = m
		} else {
			b = n
		}
	}
	return (a + b) / 2
}

package sun

import (
	"math"
	"time"
)

// Interval is where the sun stood during the sun-up part of a span of time.
// Hourly values of light need it: the middle of the hour is wrong in the hours of
// rise and set.
type Interval struct {
	Up   float64    // share of the span with the sun above the level horizon
	Seen []Position // at the middle of equal steps, with the sun up
}

// Over looks at the sun in the middle of steps equal parts of [from, to).
// Six steps an hour will do; thirty leave nothing to be said.
func (t *Track) Over(from, to time.Time, steps int) Interval {
	var i Interval
	step := to.Sub(from) / time.Duration(steps)
	for n := range steps {
		p := t.At(from.Add(step/2 + time.Duration(n)*step))
		if p.Elevation > 0 {
			i.Seen = append(i.Seen, p)
		}
	}
	i.Up = float64(len(i.Seen)) / float64(steps)
	return i
}

// Facing is the mean over the sun-up part; light from behind the plane counts
// as none. A span without sun has both at zero.
func (i Interval) Facing(p Plane) Facing {
	var f Facing
	for _, s := range i.Seen {
		at := p.Facing(s)
		f.CosZenith += at.CosZenith
		f.CosIncidence += math.Max(0, at.CosIncidence)
	}
	if n := float64(len(i.Seen)); n > 0 {
		f.CosZenith /= n
		f.CosIncidence /= n
	}
	return f
}

// Hidden is the share of the sun-up part that a skyline hides, 0 to 1.
func (i Interval) Hidden(h Horizon) float64 {
	n := 0
	for _, s := range i.Seen {
		if h.Hides(s) {
			n++
		}
	}
	if len(i.Seen) == 0 {
		return 0
	}
	return float64(n) / float64(len(i.Seen))
}

package sun

import (
	"math"
	"time"

	"legwork/quantity"
)

// Track is the sun over one place through a span of time: the slow part, the
// sun against the stars, is worked out once a day by the full series and read
// between days by a polynomial; the quick part, the turning earth, at each
// instant. It agrees with At within TrackBound.
type Track struct {
	observer
	deltaT quantity.Seconds
	first  float64    // universal days from J2000.0 of node 0
	nodes  []apparent // one a day, α and mean running on past a full turn
}

// TrackBound is how far a Track may lie from At, in any angle. It is found by
// trial over many years; see the tests.
const TrackBound quantity.Degrees = 1e-7

// nodesEachSide of an instant enter the polynomial, which has degree 5.
const nodesEachSide = 3

// NewTrack prepares the days from from to to. Instants outside are answered
// too, by the full series.
func NewTrack(loc Location, from, to time.Time, deltaT quantity.Seconds) *Track {
	first := math.Floor(daysSinceJ2000(from)) - nodesEachSide
	days := int(math.Ceil(daysSinceJ2000(to)-first)) + nodesEachSide + 1
	t := &Track{observer: newObserver(loc), deltaT: deltaT, first: first}
	if days < 2*nodesEachSide {
		return t
	}
	t.nodes = make([]apparent, days)
	for i := range t.nodes {
		s := geocentricAt(first + float64(i) + float64(deltaT)/86400).apparent()
		if i > 0 {
			s.α = unwrap(s.α, t.nodes[i-1].α)
			s.mean = unwrap(s.mean, t.nodes[i-1].mean)
		}
		t.nodes[i] = s
	}
	return t
}

// unwrap adds full turns until next is not before last.
func unwrap(next, last float64) float64 {
	for next < last {
		next += 2 * math.Pi
	}
	return next
}

// At is the position at t, as the function At gives it.
func (t *Track) At(when time.Time) Position {
	d := daysSinceJ2000(when)
	return t.see(d, t.apparent(d))
}

// apparent reads the nodes at d by Lagrange's polynomial through six of them.
func (t *Track) apparent(d float64) apparent {
	at := d - t.first
	k := math.Floor(at)
	low := int(k) - nodesEachSide + 1
	if low < 0 || low+2*nodesEachSide > len(t.nodes) {
		return geocentricAt(d + float64(t.deltaT)/86400).apparent()
	}
	w := lagrange(at - k)
	var s apparent
	for i, n := range t.nodes[low : low+2*nodesEachSide] {
		s.α += w[i] * n.α
		s.δ += w[i] * n.δ
		s.R += w[i] * n.R
		s.equinoxes += w[i] * n.equinoxes
		s.mean += w[i] * n.mean
	}
	return s
}

// lagrange is the weight of the nodes −2 … 3 at p in [0, 1).
//
// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 25.2.17.
func lagrange(p float64) [2 * nodesEachSide]float64 {
	return [...]float64{
		-p * (p*p - 1) * (p - 2) * (p - 3) / 120,
		p * (p - 1) * (p*p - 4) * (p - 3) / 24,
		-(p*p - 1) * (p*p - 4) * (p - 3) / 12,
		p * (p + 1) * (p*p - 4) * (p - 3) / 12,
		-p * (p*p - 1) * (p + 2) * (p - 3) / 24,
		p * (p*p - 1) * (p*p - 4) / 120,
	}
}

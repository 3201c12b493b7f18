package sun

import (
	"fmt"
	"math"
	"slices"

	"legwork/quantity"
	"legwork/where"
)

// HorizonPoint is how high the skyline stands in one direction.
type HorizonPoint struct {
	Azimuth   quantity.Degrees // from true north clockwise
	Elevation quantity.Degrees // above level, seen from the plane
}

// Horizon is the skyline of hills, houses and trees as seen from a plane,
// straight between its points and closed across north. The zero Horizon is level.
type Horizon struct{ points []HorizonPoint }

// NewHorizon makes a skyline of points in any order.
func NewHorizon(points []HorizonPoint) (Horizon, error) {
	h := Horizon{slices.Clone(points)}
	for i, p := range h.points {
		at := fmt.Sprintf("horizon[%d]", i)
		if !(p.Azimuth >= 0 && p.Azimuth <= 360) {
			return Horizon{}, where.Error{Path: at + ".azimuth", Came: fmt.Sprint(float64(p.Azimuth)), Expected: "0 to 360 degrees from north"}
		}
		if !(p.Elevation >= 0 && p.Elevation < 90) {
			return Horizon{}, where.Error{Path: at + ".elevation", Came: fmt.Sprint(float64(p.Elevation)), Expected: "0 up to 90 degrees"}
		}
		h.points[i].Azimuth = wrap(p.Azimuth)
	}
	slices.SortStableFunc(h.points, func(a, b HorizonPoint) int {
		if a.Azimuth < b.Azimuth {
			return -1
		}
		if a.Azimuth > b.Azimuth {
			return 1
		}
		return 0
	})
	for i := 1; i < len(h.points); i++ {
		if h.points[i].Azimuth == h.points[i-1].Azimuth {
			return Horizon{}, where.Error{Path: "horizon", Came: fmt.Sprintf("two points at %g degrees", float64(h.points[i].Azimuth)), Expected: "one point a direction"}
		}
	}
	return h, nil
}

// Elevation of the skyline in a direction.
func (h Horizon) Elevation(azimuth quantity.Degrees) quantity.Degrees {
	n := len(h.points)
	if n == 0 {
		return 0
	}
	a := wrap(azimuth)
	next, _ := slices.BinarySearchFunc(h.points, a, func(p HorizonPoint, a quantity.Degrees) int {
		if p.Azimuth < a {
			return -1
		}
		if p.Azimuth > a {
			return 1
		}
		return 0
	})
	right := h.points[next%n]
	left := h.points[(next+n-1)%n]
	span := wrap(right.Azimuth - left.Azimuth)
	if span == 0 { // a single point stands all round
		return right.Elevation
	}
	share := wrap(a-left.Azimuth) / span
	return left.Elevation + share*(right.Elevation-left.Elevation)
}

// Hides says whether the skyline covers the center of the sun.
func (h Horizon) Hides(s Position) bool { return s.Elevation < h.Elevation(s.Azimuth) }

// DomeShare is how much of the even sky light that a plane would see over a
// level horizon it still sees over this one, 0 to 1.
//
// Source: the integral of cos θ over the part of the sky above the skyline, by
// steps of 2°.
func (h Horizon) DomeShare(p Plane) float64 {
	if len(h.points) == 0 {
		return 1
	}
	const step = 2
	var open, left float64
	for a := quantity.Degrees(step / 2); a < 360; a += step {
		skyline := h.Elevation(a)
		for e := quantity.Degrees(step / 2); e < 90; e += step {
			c := p.CosIncidence(Position{Azimuth: a, Zenith: 90 - e})
			if c <= 0 {
				continue
			}
			light := c * math.Cos(radians(e))
			open += light
			if e >= skyline {
				left += light
			}
		}
	}
	if open == 0 {
		return 1
	}
	return left / open
}

// Behind is the light that a skyline leaves: where it hides the sun, no beam and
// no circumsolar light; of the even sky the share that DomeShare gives; of the
// band over the horizon the same share, which the skyline hides first, so that
// this errs to the bright side a little.
func (l Light) Behind(hidden bool, domeShare float64) Light {
	if hidden {
		l.Beam, l.Circumsolar = 0, 0
	}
	l.Dome *= Irradiance(domeShare)
	l.Band *= Irradiance(domeShare)
	return l
}

package sun

import (
	"math"

	"legwork/quantity"
)

// Plane is a flat surface such as a roof plane.
type Plane struct {
	Tilt    quantity.Degrees // from horizontal
	Azimuth quantity.Degrees // of the downhill direction, from true north clockwise
}

// CosIncidence is the cosine of the angle between the sun and the outward
// normal of the plane; below zero the sun is behind it.
//
//	cos θ = cos z·cos β + sin z·sin β·cos(γs − γ)
//
// Source: NREL/TP-560-34302, equation 47, with azimuths from north; Duffie and
// Beckman, equation 1.6.3.
func (p Plane) CosIncidence(s Position) float64 {
	sinz, cosz := math.Sincos(radians(s.Zenith))
	sinβ, cosβ := math.Sincos(radians(p.Tilt))
	return max(-1, min(1, cosz*cosβ+sinz*sinβ*math.Cos(radians(s.Azimuth-p.Azimuth))))
}

// Incidence is the angle whose cosine CosIncidence gives.
func (p Plane) Incidence(s Position) quantity.Degrees {
	return degrees(math.Acos(p.CosIncidence(s)))
}

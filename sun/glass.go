package sun

import (
	"math"

	"legwork/quantity"
)

// Three accounts of what the glass of a module lets through at an incidence θ,
// as a share of what it does straight on. They answer 1 at 0° and 0 at 90°.

// GlassPlain is the one-constant formula of the ASHRAE method.
//
//	K = 1 − b0·(1/cos θ − 1),  b0 = 0.05
//
// Source: Souka and Safwat, Solar Energy 10 (1966) 170.
// Valid: up to about 80°; cut at zero near 87°.
func GlassPlain(cosIncidence float64) float64 {
	if cosIncidence <= 0 {
		return 0
	}
	return max(0, 1-0.05*(1/cosIncidence-1))
}

// GlassPhysical follows the beam through a pane: refraction, reflection and
// absorption.
//
//	τ(θ) = exp(−K·L/cos θr)·[1 − ½·(sin²(θr − θ)/sin²(θr + θ) + tan²(θr − θ)/tan²(θr + θ))]
//	n = 1.526, K = 4 /m, L = 2 mm
//
// Source: De Soto, Klein and Beckman, Solar Energy 80 (2006) 78; Duffie and
// Beckman, equation 5.1.
// Valid: one pane without coating.
func GlassPhysical(cosIncidence float64) float64 {
	if cosIncidence <= 0 {
		return 0
	}
	const n, KL = 1.526, 4 * 0.002
	straight := math.Exp(-KL) * (1 - (n-1)*(n-1)/((n+1)*(n+1)))
	θ := math.Acos(min(1, cosIncidence))
	if θ < 1e-4 { // the formula's ratios are 0/0 here
		return 1
	}
	θr := math.Asin(math.Sin(θ) / n)
	square := func(x float64) float64 { return x * x }
	reflected := (square(math.Sin(θr-θ)/math.Sin(θr+θ)) + square(math.Tan(θr-θ)/math.Tan(θr+θ))) / 2
	return math.Exp(-KL/math.Cos(θr)) * (1 - reflected) / straight
}

// Glass is the loss of common module glass, used where nothing else is known.
//
//	K = (1 − exp(−cos θ/ar))/(1 − exp(−1/ar)),  ar = 0.16
//
// Source: Martin and Ruiz, Solar Energy Materials and Solar Cells 70 (2001) 25.
// Valid: clean glass; ar 0.16 to 0.17 fits most modules.
func Glass(cosIncidence float64) float64 {
	const ar = 0.16
	if cosIncidence <= 0 {
		return 0
	}
	return (1 - math.Exp(-cosIncidence/ar)) / (1 - math.Exp(-1/ar))
}

// SkyIncidence and GroundIncidence are the incidences at which diffuse light
// from the sky and from the ground acts as if it were a beam.
//
//	sky:    59.7 − 0.1388·β + 0.001497·β²
//	ground: 90 − 0.5788·β + 0.002693·β²
//
// Source: Brandemuehl and Beckman, Solar Energy 24 (1980) 511; Duffie and
// Beckman, equations 5.4.1 and 5.4.2.
// Valid: β from 0° to 90°.
func SkyIncidence(tilt quantity.Degrees) quantity.Degrees {
	return 59.7 - 0.1388*tilt + 0.001497*tilt*tilt
}

// GroundIncidence is described with SkyIncidence.
func GroundIncidence(tilt quantity.Degrees) quantity.Degrees {
	return 90 - 0.5788*tilt + 0.002693*tilt*tilt
}

// Through is the light that a plane's glass lets through, part by part.
// Circumsolar light goes with the beam; all other sky light enters at
// SkyIncidence.
func (l Light) Through(glass func(cosIncidence float64) float64, p Plane, f Facing) Light {
	beam := Irradiance(glass(f.CosIncidence))
	sky := Irradiance(glass(math.Cos(radians(SkyIncidence(p.Tilt)))))
	ground := Irradiance(glass(math.Cos(radians(GroundIncidence(p.Tilt)))))
	return Light{Beam: l.Beam * beam, Circumsolar: l.Circumsolar * beam, Dome: l.Dome * sky, Band: l.Band * sky, Ground: l.Ground * ground}
}

package sun

import "math"

// Sky is the light that reaches level ground.
type Sky struct {
	Global  Irradiance // on the horizontal (GHI)
	Beam    Irradiance // on a plane that faces the sun (DNI)
	Diffuse Irradiance // on the horizontal, from the sky (DHI)
}

// The two solar constants in use: that of the models and typical years here,
// and the one measured since.
//
// Source: TMY3 manual, NREL/TP-581-43156 (1367); Kopp and Lean, Geophysical
// Research Letters 38 (2011) L01706 (1361), from memory.
const (
	SolarConstant        Irradiance = 1367
	PresentSolarConstant Irradiance = 1361
)

// Extraterrestrial is the light outside the air on a plane that faces the sun.
//
//	I0n = Isc/R²
//
//	Isc  solar constant: the one that the model in use was fitted with
//	R    distance, AU
func Extraterrestrial(constant Irradiance, r AU) Irradiance {
	return constant / Irradiance(r*r)
}

// AirMass is how many times the air overhead a beam passes, at sea level.
//
//	m = 1/(cos z + 0.50572·(96.07995 − z)^−1.6364)
//
//	z  zenith angle with refraction, °
//
// Source: Kasten and Young, Applied Optics 28 (1989) 4735.
// Valid: down to the horizon, where it is 38; +Inf below.
func AirMass(cosZenith float64) float64 {
	z := math.Acos(max(-1, min(1, cosZenith))) * (180 / math.Pi)
	if z > 90.000001 {
		return math.Inf(1)
	}
	return 1 / (cosZenith + 0.50572*math.Pow(96.07995-z, -1.6364))
}

// AbsoluteAirMass is AirMass under the pressure of the place.
//
//	m′ = m·P/1013.25
func AbsoluteAirMass(m float64, p Hectopascals) float64 { return m * float64(p) / 1013.25 }

// closed fills in the diffuse part from the other two.
func closed(global, beam Irradiance, cosZenith float64) Sky {
	return Sky{Global: global, Beam: beam, Diffuse: max(0, global-beam*Irradiance(cosZenith))}
}

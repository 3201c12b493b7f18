package sun

import "math"

// Clearness is the share of light outside the air that reaches level ground.
//
//	kt = GHI/(I0n·cos z)
func Clearness(global, extraterrestrial Irradiance, cosZenith float64) float64 {
	if cosZenith <= 0 || extraterrestrial <= 0 {
		return 0
	}
	return float64(global) / (float64(extraterrestrial) * cosZenith)
}

// DiffuseErbs is the diffuse share of hourly global light; it needs no neighbor
// in time, hence suits the present hour.
//
//	kt ≤ 0.22: 1 − 0.09·kt
//	kt ≤ 0.80: 0.9511 − 0.1604·kt + 4.388·kt² − 16.638·kt³ + 12.336·kt⁴
//	else:      0.165
//
// Source: Erbs, Klein and Duffie, Solar Energy 28 (1982) 293.
// Valid: hourly means; on one-minute data every such split gives too much beam.
func DiffuseErbs(kt float64) float64 {
	switch {
	case kt <= 0.22:
		return 1 - 0.09*max(0, kt)
	case kt <= 0.80:
		return 0.9511 + kt*(-0.1604+kt*(4.388+kt*(-16.638+kt*12.336)))
	}
	return 0.165
}

// Hour is what DiffuseBRL asks of an hour beside its clearness.
type Hour struct {
	SolarTime float64 // apparent solar time of its middle, h
	Elevation float64 // of the sun, °
	Day       float64 // clearness of the whole day
	Neighbors float64 // mean clearness of the hours before and after; of the one there is at rise and set
}

// DiffuseBRL is the diffuse share of hourly global light from the hour and its
// neighbors; it suits archives.
//
//	d = 1/(1 + exp(−5.38 + 6.63·kt + 0.006·AST − 0.007·h + 1.75·KT + 1.31·ψ))
//
//	AST  apparent solar time, h
//	h    solar elevation, °
//	KT   clearness of the day
//	ψ    mean clearness of the neighbors
//
// Source: Ridley, Boland and Lauret, Renewable Energy 35 (2010) 478, from memory.
// Valid: hourly means.
func DiffuseBRL(kt float64, h Hour) float64 {
	return 1 / (1 + math.Exp(-5.38+6.63*kt+0.006*h.SolarTime-0.007*h.Elevation+1.75*h.Day+1.31*h.Neighbors))
}

// BeamDISC is the beam from hourly clearness and air mass.
//
//	DNI = I0n·(Knc − (a + b·exp(c·m′)))
//	Knc = 0.866 − 0.122·m′ + 0.0121·m′² − 0.000653·m′³ + 0.000014·m′⁴
//
// with a, b, c polynomials of kt, one set up to 0.6 and one above.
//
// Source: Maxwell, SERI/TR-215-3087, 1987, from memory.
// Valid: hourly means.
func BeamDISC(kt float64, extraterrestrial Irradiance, absoluteAirMass float64) Irradiance {
	a := -5.743 + kt*(21.77+kt*(-27.49+kt*11.56))
	b := 41.40 + kt*(-118.5+kt*(66.05+kt*31.90))
	c := -47.01 + kt*(184.2+kt*(-222.0+kt*73.81))
	if kt <= 0.6 {
		a = 0.512 + kt*(-1.56+kt*(2.286-kt*2.222))
		b = 0.370 + 0.962*kt
		c = -0.280 + kt*(0.932-kt*2.048)
	}
	m := absoluteAirMass
	knc := 0.866 + m*(-0.122+m*(0.0121+m*(-0.000653+m*0.000014)))
	return max(0, extraterrestrial*Irradiance(knc-(a+b*math.Exp(c*m))))
}

// lowSun is the cosine of the zenith angle at 5° of elevation, below which a
// split of global light says nothing and all counts as diffuse.
var lowSun = math.Cos(85 * math.Pi / 180)

// Split parts global light by its diffuse share.
//
//	DNI = GHI·(1 − d)/cos z
//
// Valid: below 5° of elevation all is taken as diffuse; the beam never exceeds
// that of the clear sky given, where that is above 0.
func Split(global Irradiance, diffuse, cosZenith float64, clear Irradiance) Sky {
	if cosZenith < lowSun {
		return Sky{Global: global, Diffuse: global}
	}
	beam := global * Irradiance((1-max(0, min(1, diffuse)))/cosZenith)
	if clear > 0 {
		beam = min(beam, clear)
	}
	return closed(global, beam, cosZenith)
}

package sun

import "math"

// Haurwitz is the global light of a clear sky from the sun's height alone: a
// ceiling to judge by, not a forecast.
//
//	GHI = 1098·cos z·exp(−0.059/cos z)
//
// Source: Haurwitz, Journal of Meteorology 2 (1945) 154; some reprints have
// 0.057, under 0.3 % apart above 30° of elevation.
// Valid: cloudless sky near sea level, within 5 % to 8 %.
func Haurwitz(cosZenith float64) Irradiance {
	if cosZenith <= 0 {
		return 0
	}
	return Irradiance(1098 * cosZenith * math.Exp(-0.059/cosZenith))
}

// ClearHandbook is the clear sky of the ASHRAE handbook.
//
//	Eb = E0·exp(−τb·m^ab),  Ed = E0·exp(−τd·m^ad)
//	2009: ab = 1.219 − 0.043·τb − 0.151·τd − 0.204·τb·τd
//	      ad = 0.202 + 0.852·τb − 0.007·τd − 0.357·τb·τd
//	2013: ab = 1.454 − 0.406·τb − 0.268·τd + 0.021·τb·τd
//	      ad = 0.507 + 0.205·τb − 0.080·τd − 0.190·τb·τd
//
//	E0      extraterrestrial light, W/m²   with the constant 1367
//	τb, τd  optical depths of the month, from the same edition as the exponents
//	m       AirMass, from the zenith angle without refraction
//
// Source: ASHRAE Handbook Fundamentals 2009, chapter 14, equations 17 to 20;
// 2013, chapter 14, from memory.
// Valid: the sun above the horizon; depths and exponents of two editions mixed
// are wrong by up to 45 W/m².
func ClearHandbook(e HandbookEdition, cosZenith float64, extraterrestrial Irradiance, τb, τd float64) Sky {
	if cosZenith <= 0 {
		return Sky{}
	}
	ab := 1.454 - 0.406*τb - 0.268*τd + 0.021*τb*τd
	ad := 0.507 + 0.205*τb - 0.080*τd - 0.190*τb*τd
	if e == Handbook2009 {
		ab = 1.219 - 0.043*τb - 0.151*τd - 0.204*τb*τd
		ad = 0.202 + 0.852*τb - 0.007*τd - 0.357*τb*τd
	}
	m := AirMass(cosZenith)
	beam := extraterrestrial * Irradiance(math.Exp(-τb*math.Pow(m, ab)))
	diffuse := extraterrestrial * Irradiance(math.Exp(-τd*math.Pow(m, ad)))
	return Sky{Global: beam*Irradiance(cosZenith) + diffuse, Beam: beam, Diffuse: diffuse}
}

// HandbookEdition is the edition that optical depths come from.
type HandbookEdition int

// The two sets of exponents.
const (
	Handbook2009 HandbookEdition = 2009
	Handbook2013 HandbookEdition = 2013 // and later
)

// ClearIneichenPerez is the clear sky from one figure for the murk of the air.
//
//	fh1 = exp(−Z/8000), fh2 = exp(−Z/1250)
//	cg1 = 5.09e−5·Z + 0.868, cg2 = 3.92e−5·Z + 0.0387
//	GHI = cg1·I0n·cos z·exp(−cg2·m′·(fh1 + fh2·(TL − 1)))
//	DNI = min(b·I0n·exp(−0.09·m′·(TL − 1)),
//	          GHI·(1 − (0.1 − 0.2·exp(−TL))/(0.1 + 0.882/fh1))/cos z)
//	b   = 0.664 + 0.163/fh1
//
//	I0n  extraterrestrial light, W/m²
//	m′   AbsoluteAirMass
//	Z    height, m
//	TL   Linke turbidity: 2 dry and high, 3 clean and temperate, 5 humid or polluted
//
// Source: Ineichen and Perez, Solar Energy 73 (2002) 151, from memory.
// Valid: global within 5 %, beam within 10 % with monthly turbidity.
func ClearIneichenPerez(cosZenith float64, extraterrestrial Irradiance, absoluteAirMass, meters, turbidity float64) Sky {
	if cosZenith <= 0 {
		return Sky{}
	}
	fh1, fh2 := math.Exp(-meters/8000), math.Exp(-meters/1250)
	cg1, cg2 := 5.09e-5*meters+0.868, 3.92e-5*meters+0.0387
	i0 := float64(extraterrestrial)
	global := cg1 * i0 * cosZenith * math.Exp(-cg2*absoluteAirMass*(fh1+fh2*(turbidity-1)))
	b := 0.664 + 0.163/fh1
	beam := min(
		b*i0*math.Exp(-0.09*absoluteAirMass*(turbidity-1)),
		global*(1-(0.1-0.2*math.Exp(-turbidity))/(0.1+0.882/fh1))/cosZenith)
	return closed(Irradiance(global), Irradiance(beam), cosZenith)
}

// LinkeTurbidity is the figure ClearIneichenPerez asks for, from what typical
// years report of aerosol and water.
//
//	TL = 3.91·exp(0.689·p0/p)·aod + 0.376·ln w + 2 + 0.54·p0/p − 0.5·(p0/p)² + 0.16·(p0/p)³
//
//	aod  aerosol optical depth at 550 nm
//	w    water above, cm
//	p    pressure of the place; p0 = 1013.25 hPa
//
// Source: Ineichen, Solar Energy 82 (2008) 1095, from memory.
// Valid: w above about 0.2 cm, which it is held to.
func LinkeTurbidity(aod, waterCentimeters float64, p Hectopascals) float64 {
	q := 1013.25 / float64(p)
	return 3.91*math.Exp(0.689*q)*aod + 0.376*math.Log(max(waterCentimeters, 0.2)) + 2 + q*(0.54+q*(-0.5+q*0.16))
}

// Air is what the beam meets on its way down, for ClearBird.
type Air struct {
	Pressure   Hectopascals
	Ozone      float64 // cm
	Water      float64 // cm
	Aerosol500 float64 // optical depth at 500 nm
	Aerosol380 float64 // and at 380 nm
	Forward    float64 // share of scattered light that goes on forward, Ba; 0.85 for usual aerosol
	Albedo     float64 // of the ground
}

// ClearBird is the clear sky from the make-up of the air.
//
// Symbols as in the source: M air mass of its own (Kasten 1966), T
// transmittances of Rayleigh scattering R, ozone o, mixed gases um, water w,
// aerosol A and its absorption AA.
//
// Source: Bird and Hulstrom, SERI/TR-642-761, 1981.
// Valid: within 10 % of rigorous codes by the authors' account.
func ClearBird(cosZenith float64, extraterrestrial Irradiance, air Air) Sky {
	if cosZenith <= 0 {
		return Sky{}
	}
	const k1 = 0.1
	z := math.Acos(min(1, cosZenith)) * (180 / math.Pi)
	M := 1 / (cosZenith + 0.15*math.Pow(93.885-z, -1.25))
	Mp := M * float64(air.Pressure) / 1013
	TR := math.Exp(-0.0903 * math.Pow(Mp, 0.84) * (1 + Mp - math.Pow(Mp, 1.01)))
	Xo := air.Ozone * M
	To := 1 - 0.1611*Xo*math.Pow(1+139.48*Xo, -0.3035) - 0.002715*Xo/(1+0.044*Xo+0.0003*Xo*Xo)
	Tum := math.Exp(-0.0127 * math.Pow(Mp, 0.26))
	Xw := air.Water * M
	Tw := 1 - 2.4959*Xw/(math.Pow(1+79.034*Xw, 0.6828)+6.385*Xw)
	τA := 0.2758*air.Aerosol380 + 0.35*air.Aerosol500
	TA := math.Exp(-math.Pow(τA, 0.873) * (1 + τA - math.Pow(τA, 0.7088)) * math.Pow(M, 0.9108))
	TAA := 1 - k1*(1-M+math.Pow(M, 1.06))*(1-TA)
	rs := 0.0685 + (1-air.Forward)*(1-TA/TAA)

	i0 := float64(extraterrestrial)
	beam := 0.9662 * i0 * TA * Tw * Tum * To * TR
	scattered := 0.79 * i0 * cosZenith * To * Tw * Tum * TAA * (0.5*(1-TR) + air.Forward*(1-TA/TAA)) / (1 - M + math.Pow(M, 1.02))
	return closed(Irradiance((beam*cosZenith+scattered)/(1-air.Albedo*rs)), Irradiance(beam), cosZenith)
}

// CloudFactor is the share of clear-sky global light that comes through a cloud
// cover of n, 0 to 1.
//
//	kc = 1 − 0.75·n^3.4
//
// Source: Kasten and Czeplak, Solar Energy 24 (1980) 177, from memory.
// Valid: hourly means; a single instant under broken cloud lies anywhere between.
func CloudFactor(n float64) float64 { return 1 - 0.75*math.Pow(max(0, min(1, n)), 3.4) }

package sun

import "math"

// Light is what falls on a plane, by where it comes from. A horizon takes the
// parts away one by one.
type Light struct {
	Beam        Irradiance // straight from the sun
	Circumsolar Irradiance // sky close around the sun: it goes where the beam goes
	Dome        Irradiance // the even part of the sky
	Band        Irradiance // sky low over the horizon; may be a little below zero
	Ground      Irradiance // thrown back by the ground in front
}

// Sky is the diffuse light of the sky.
func (l Light) Sky() Irradiance { return l.Circumsolar + l.Dome + l.Band }

// Total is all light on the plane.
func (l Light) Total() Irradiance { return l.Beam + l.Sky() + l.Ground }

// Facing is how the sun meets the ground and a plane, at an instant or as the
// mean over the sun-up part of an interval.
type Facing struct {
	CosZenith    float64
	CosIncidence float64 // below zero: the sun is behind the plane
}

// Facing is how the sun at s meets p.
func (p Plane) Facing(s Position) Facing {
	return Facing{CosZenith: math.Cos(radians(s.Zenith)), CosIncidence: p.CosIncidence(s)}
}

// SkyModel turns the light on level ground into that on a plane.
type SkyModel int

// The models, from the plainest.
const (
	Isotropic SkyModel = iota // 3 % to 6 % low over a year
	HayDavies
	HDKR // for average days
	Perez
)

// OnPlane is the light on a plane under a sky.
//
//	beam   = B·max(0, cos θ)
//	ground = G·ρ·(1 − cos β)/2
//	dome   = D·(1 + cos β)/2, less what a model moves to the sun or the horizon
//
//	G, B, D  global, beam, diffuse of the sky, W/m²
//	θ, β     incidence on the plane, its tilt
//	ρ        albedo of the ground: 0.2; fresh snow 0.7 to 0.9
//	I0n      extraterrestrial light, W/m²
//
// Source: Duffie and Beckman, Solar Engineering of Thermal Processes, 2.15 and
// 2.16; the models name theirs.
// Valid: Perez for hourly and shorter steps, within 2 % over a year; steep and
// north-facing planes are worst. Below 5° of elevation ratios to the level plane
// are held at their value for 5°.
func OnPlane(m SkyModel, sky Sky, p Plane, f Facing, extraterrestrial Irradiance, albedo float64) Light {
	sinβ, cosβ := math.Sincos(radians(p.Tilt))
	facing := max(0, f.CosIncidence)
	l := Light{
		Beam:   sky.Beam * Irradiance(facing),
		Ground: sky.Global * Irradiance(albedo*(1-cosβ)/2),
	}
	if sky.Diffuse <= 0 {
		return l
	}
	open := (1 + cosβ) / 2
	lift := facing / max(lowSun, f.CosZenith) // Rb
	var circumsolar, band float64             // shares of the diffuse light
	dome := open
	switch m {
	case HayDavies, HDKR:
		circumsolar, dome, band = hayDavies(sky, f.CosZenith, extraterrestrial, lift, open)
		if m == HayDavies {
			band = 0
		} else {
			band *= math.Pow(math.Sin(radians(p.Tilt)/2), 3)
		}
	case Perez:
		F1, F2 := perezFactors(sky, f.CosZenith, extraterrestrial)
		circumsolar, dome, band = F1*lift, (1-F1)*open, F2*sinβ
	}
	l.Circumsolar = sky.Diffuse * Irradiance(circumsolar)
	l.Dome = sky.Diffuse * Irradiance(dome)
	l.Band = max(sky.Diffuse*Irradiance(band), -l.Circumsolar-l.Dome)
	return l
}

// hayDavies is the share that comes from around the sun, the even rest, and the
// brightening of the horizon before the tilt enters it.
//
//	A = B/I0n, f = √(B·cos z/G)
//	sky = D·[A·Rb + (1 − A)·(1 + cos β)/2·(1 + f·sin³(β/2))]
//
// Source: Hay and Davies 1980; Reindl, Beckman and Duffie, Solar Energy 45 (1990) 9.
func hayDavies(sky Sky, cosZenith float64, extraterrestrial Irradiance, lift, open float64) (circumsolar, dome, brightening float64) {
	A := 0.0
	if extraterrestrial > 0 {
		A = min(1, float64(sky.Beam/extraterrestrial))
	}
	dome = (1 - A) * open
	if sky.Global > 0 {
		brightening = dome * math.Sqrt(max(0, float64(sky.Beam)*cosZenith/float64(sky.Global)))
	}
	return A * lift, dome, brightening
}

// perezRow is a row of the coefficients for a range of clearness ε.
type perezRow struct {
	up            float64 // ε below this
	F11, F12, F13 float64
	F21, F22, F23 float64
}

// perezRows is table 6 of the source, all sites.
var perezRows = [...]perezRow{
	{1.065, -0.008, 0.588, -0.062, -0.060, 0.072, -0.022},
	{1.230, 0.130, 0.683, -0.151, -0.019, 0.066, -0.029},
	{1.500, 0.330, 0.487, -0.221, 0.055, -0.064, -0.026},
	{1.950, 0.568, 0.187, -0.295, 0.109, -0.152, -0.014},
	{2.800, 0.873, -0.392, -0.362, 0.226, -0.462, 0.001},
	{4.500, 1.132, -1.237, -0.412, 0.288, -0.823, 0.056},
	{6.200, 1.060, -1.600, -0.359, 0.264, -1.127, 0.131},
	{math.Inf(1), 0.678, -0.327, -0.250, 0.156, -1.377, 0.251},
}

// perezFactors is how bright the sky is around the sun (F1) and over the
// horizon (F2).
//
//	ε = ((D + B)/D + 1.041·z³)/(1 + 1.041·z³),  z in rad
//	Δ = D·m/I0n
//	F1 = max(0, min(1, F11 + F12·Δ + F13·z)),  F2 = F21 + F22·Δ + F23·z
//	sky = D·[(1 − F1)·(1 + cos β)/2 + F1·a/c + F2·sin β]
//
// Source: Perez, Ineichen, Seals, Michalsky and Stewart, Solar Energy 44 (1990)
// 271, table 6.
// Valid: D above 0; the answer jumps a little from one range of ε to the next.
// F1 is held to 1, or a thin clear sky would have an even part below zero.
func perezFactors(sky Sky, cosZenith float64, extraterrestrial Irradiance) (F1, F2 float64) {
	if extraterrestrial <= 0 {
		return 0, 0
	}
	z := math.Acos(max(0, min(1, cosZenith)))
	κ := 1.041 * z * z * z
	D := float64(sky.Diffuse)
	ε := ((D+float64(sky.Beam))/D + κ) / (1 + κ)
	Δ := D * AirMass(max(0, cosZenith)) / float64(extraterrestrial)
	row := perezRows[0]
	for _, row = range perezRows {
		if ε < row.up {
			break
		}
	}
	return max(0, min(1, row.F11+row.F12*Δ+row.F13*z)), row.F21 + row.F22*Δ + row.F23*z
}

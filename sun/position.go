package sun

import (
	"math"
	"time"

	"legwork/quantity"
)

// Location is where the sun is seen from, and through what air.
type Location struct {
	Latitude    quantity.Degrees // positive north
	Longitude   quantity.Degrees // positive east
	Elevation   quantity.Feet    // above sea level
	Pressure    Hectopascals     // yearly mean at the place; 0 bends no light. See PressureAt
	Temperature quantity.Celsius // yearly mean, for refraction only
}

// Position is the sun as seen from a place on the ground.
type Position struct {
	Azimuth        quantity.Degrees // from true north clockwise, 0° up to 360°
	Airless        quantity.Degrees // elevation of the center, without the bending of light in air
	Elevation      quantity.Degrees // the same with it
	Zenith         quantity.Degrees // 90° − Elevation
	RightAscension quantity.Degrees // topocentric
	Declination    quantity.Degrees // topocentric
	HourAngle      quantity.Degrees // topocentric, positive after transit, −180° up to 180°
	Distance       AU               // from the observer, not from the earth's center
	EquationOfTime quantity.Seconds // apparent less mean solar time
}

// At is the position of the sun at t by the full series. For many instants see
// Track, which gives the same answers faster.
//
//	deltaT  terrestrial less universal time, s   see DeltaT
//
// Source: Reda and Andreas, NREL/TP-560-34302, revised January 2008, section 3.
// Valid: years −2000 to 6000, ±0.0003°; universal time is taken for UTC, which
// adds up to 0.004°.
func At(t time.Time, loc Location, deltaT quantity.Seconds) Position {
	d := daysSinceJ2000(t)
	g := geocentricAt(d + float64(deltaT)/86400)
	o := newObserver(loc)
	return o.see(d, g.apparent())
}

// apparent is what a place on the ground needs of the sun; angles in radians.
type apparent struct {
	α, δ, R   float64
	equinoxes float64 // Δψ·cos ε
	mean      float64 // mean longitude M
}

func (g geocentric) apparent() apparent {
	const rad = math.Pi / 180
	return apparent{g.α * rad, g.δ * rad, g.R, g.equinoxes * rad, g.meanLength * rad}
}

// observer is a location with its sines worked out.
type observer struct {
	loc        Location
	longitude  float64 // rad
	sinφ, cosφ float64
	x, y       float64 // distance from the earth's axis and equator, in earth radii
}

// newObserver works out the place on the flattened earth.
//
//	u = atan(0.99664719·tan φ)
//	x = cos u + E/6378140·cos φ
//	y = 0.99664719·sin u + E/6378140·sin φ
//
//	E  height in meters
//
// Source: NREL/TP-560-34302, equations 34 to 36.
func newObserver(loc Location) observer {
	o := observer{loc: loc, longitude: radians(loc.Longitude)}
	o.sinφ, o.cosφ = math.Sincos(radians(loc.Latitude))
	u := math.Atan2(0.99664719*o.sinφ, o.cosφ)
	height := Meters(loc.Elevation) / 6378140
	o.x = math.Cos(u) + height*o.cosφ
	o.y = 0.99664719*math.Sin(u) + height*o.sinφ
	return o
}

// see turns the geocentric sun into the topocentric one.
//
//	ξ  = 8.794″/R                       equatorial horizontal parallax
//	Δα = atan2(−x·sin ξ·sin H, cos δ − x·sin ξ·cos H)
//	δ′ = atan2((sin δ − y·sin ξ)·cos Δα, cos δ − x·sin ξ·cos H)
//	e0 = asin(sin φ·sin δ′ + cos φ·cos δ′·cos H′),  H′ = H − Δα
//	Γ  = atan2(sin H′, cos H′·sin φ − tan δ′·cos φ) + 180°
//
// Source: NREL/TP-560-34302, equations 32 to 47 and A1.
func (o *observer) see(d float64, s apparent) Position {
	const rad = math.Pi / 180
	H := meanSidereal(d)*rad + s.equinoxes + o.longitude - s.α
	sinH, cosH := math.Sincos(H)
	sinδ, cosδ := math.Sincos(s.δ)
	sinξ := math.Sin(8.794 / 3600 * rad / s.R)

	// The sun from here, in units of R: outward in its hour plane, across it, up.
	out, across, up := cosδ-o.x*sinξ*cosH, -o.x*sinξ*sinH, sinδ-o.y*sinξ
	Δα := math.Atan2(across, out)
	δ := math.Atan2(up*math.Cos(Δα), out)
	distance := AU(s.R * math.Sqrt(out*out+across*across+up*up))
	H -= Δα
	sinH, cosH = math.Sincos(H)
	sinδ, cosδ = math.Sincos(δ)
	e0 := degrees(math.Asin(max(-1, min(1, o.sinφ*sinδ+o.cosφ*cosδ*cosH))))
	// Multiplied by cos δ′, which is positive, the second argument needs no
	// tangent.
	azimuth := wrap(degrees(math.Atan2(sinH*cosδ, cosH*cosδ*o.sinφ-sinδ*o.cosφ)) + 180)
	e := e0 + Refraction(e0, o.loc.Pressure, o.loc.Temperature)

	return Position{
		Azimuth: azimuth, Airless: e0, Elevation: e, Zenith: 90 - e,
		RightAscension: wrap(degrees(s.α + Δα)), Declination: degrees(δ),
		HourAngle: degrees(halfTurn(H)), Distance: distance,
		EquationOfTime: equationOfTime(s),
	}
}

// equationOfTime is apparent solar time less mean solar time.
//
//	E = M − 0.0057183° − α + Δψ·cos ε,  15° an hour
//
// Source: NREL/TP-560-34302, equations A1 and A2.
func equationOfTime(s apparent) quantity.Seconds {
	return quantity.Seconds(degrees(halfTurn(s.mean-s.α+s.equinoxes-0.0057183*math.Pi/180)) * 240)
}

// halfTurn brings an angle in radians into [−π, π].
func halfTurn(rad float64) float64 { return math.Remainder(rad, 2*math.Pi) }

// sunRadius and horizonRefraction are the sun's radius and the bending of
// light at the horizon that rise and set are reckoned with.
//
// Source: NREL/TP-560-34302, section 3.11.2 and appendix A.2.
const (
	sunRadius         quantity.Degrees = 0.26667
	horizonRefraction quantity.Degrees = 0.5667
)

// Refraction is by how much air lifts the sun at an airless elevation e0.
//
//	Δe = (P/1010)·(283/(273 + T))·1.02/(60·tan(e0 + 10.3/(e0 + 5.11)))
//
//	P  yearly mean pressure, hPa
//	T  yearly mean temperature, °C
//
// Source: NREL/TP-560-34302, equation 42.
// Valid: while some of the disk can be seen; 0 below that. Near the horizon real
// air differs by a tenth of a degree and more from day to day.
func Refraction(e0 quantity.Degrees, p Hectopascals, t quantity.Celsius) quantity.Degrees {
	if e0 < -(sunRadius + horizonRefraction) {
		return 0
	}
	return quantity.Degrees(float64(p) / 1010 * 283 / (273 + float64(t)) * 1.02 / (60 * math.Tan(radians(e0+10.3/(e0+5.11)))))
}

// PressureAt is the pressure of the standard atmosphere at a height.
//
//	P = 1013.25·(1 − 2.25577e−5·Z)^5.25588 hPa
//
//	Z  height in meters
//
// Source: ASHRAE Handbook Fundamentals, chapter 1, equation 3; U.S. Standard Atmosphere 1976.
// Valid: −5000 m to 11000 m.
func PressureAt(h quantity.Feet) Hectopascals {
	return Hectopascals(1013.25 * math.Pow(1-2.25577e-5*Meters(h), 5.25588))
}

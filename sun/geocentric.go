package sun

import (
	"math"
	"time"
)

// j2000 is the epoch J2000.0, Julian day 2451545.0, as an instant.
var j2000 = time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC)

const julianDayOfJ2000 = 2451545.0

// daysSinceJ2000 counts days of universal time from J2000.0. Counting from
// there keeps 0.1 ms where a Julian day keeps 40 µs of a day.
func daysSinceJ2000(t time.Time) float64 {
	seconds := t.Unix() - j2000.Unix()
	return (float64(seconds) + float64(t.Nanosecond())*1e-9) / 86400
}

// JulianDay counts days from noon of January 1, −4712.
//
// Source: NREL/TP-560-34302, section 3.1.
// Valid: the Gregorian calendar, carried back before 1582 too.
func JulianDay(t time.Time) float64 { return julianDayOfJ2000 + daysSinceJ2000(t) }

// geocentric is the sun seen from the center of the earth, with the steps on
// the way in the symbols of the source. Angles are degrees, X0 … X4 and the
// series too where not said otherwise.
type geocentric struct {
	l, b [6]float64 // series L0 … L5, B0, B1, in 1e-8 rad
	r    [5]float64 // series R0 … R4, in 1e-8 AU

	L, B, R    float64 // heliocentric longitude, latitude; distance in AU
	Θ, β       float64 // geocentric longitude, latitude
	X          [5]float64
	Δψ, Δε     float64 // nutation in longitude and obliquity
	ε0         float64 // mean obliquity, arc seconds
	ε          float64 // true obliquity
	Δτ         float64 // aberration
	λ          float64 // apparent longitude
	α, δ       float64 // right ascension, declination
	equinoxes  float64 // Δψ·cos ε, which turns mean into apparent sidereal time
	meanLength float64 // mean longitude M of the sun, for the equation of time
}

// geocentricAt works out sections 3.2 to 3.9 of the source.
//
//	Lk = Σ Aᵢ·cos(Bᵢ + Cᵢ·JME)
//	L  = (L0 + L1·JME + … + L5·JME⁵)/10⁸
//	Θ  = L + 180°, β = −B
//	λ  = Θ + Δψ + Δτ
//	α  = atan2(sin λ·cos ε − tan β·sin ε, cos λ)
//	δ  = asin(sin β·cos ε + cos β·sin ε·sin λ)
//
//	d    days of terrestrial time from J2000.0
//	JCE  centuries, JME millennia of them
//
// Source: NREL/TP-560-34302, equations 9 to 31.
// Valid: years −2000 to 6000, to 0.0003°.
func geocentricAt(d float64) geocentric {
	var g geocentric
	jce := d / 36525
	jme := jce / 10

	longitude := 0.0
	for k := 5; k >= 0; k-- {
		g.l[k] = series(lSeries[k], jme)
		longitude = longitude*jme + g.l[k]
	}
	g.b[0], g.b[1] = series("B0", jme), series("B1", jme)
	distance := 0.0
	for k := 4; k >= 0; k-- {
		g.r[k] = series(rSeries[k], jme)
		distance = distance*jme + g.r[k]
	}
	g.L = fullTurn(longitude / 1e8 * (180 / math.Pi))
	g.B = (g.b[0] + g.b[1]*jme) / 1e8 * (180 / math.Pi)
	g.R = distance / 1e8
	g.Θ, g.β = fullTurn(g.L+180), -g.B

	g.nutation(jce)
	g.obliquity(jme)
	g.Δτ = -20.4898 / (3600 * g.R)
	g.λ = g.Θ + g.Δψ + g.Δτ

	sinλ, cosλ := math.Sincos(g.λ * (math.Pi / 180))
	sinε, cosε := math.Sincos(g.ε * (math.Pi / 180))
	sinβ, cosβ := math.Sincos(g.β * (math.Pi / 180))
	g.α = fullTurn(math.Atan2(sinλ*cosε-sinβ/cosβ*sinε, cosλ) * (180 / math.Pi))
	g.δ = math.Asin(sinβ*cosε+cosβ*sinε*sinλ) * (180 / math.Pi)
	g.equinoxes = g.Δψ * cosε
	g.meanLength = meanLongitude(jme)
	return g
}

var (
	lSeries = [6]string{"L0", "L1", "L2", "L3", "L4", "L5"}
	rSeries = [5]string{"R0", "R1", "R2", "R3", "R4"}
)

func series(name string, jme float64) float64 {
	sum := 0.0
	for _, t := range earthTerms()[name] {
		sum += t.a * math.Cos(t.b+t.c*jme)
	}
	return sum
}

// nutation sets X0 … X4, Δψ and Δε.
//
//	Δψ = Σ (a + b·JCE)·sin(Σ Xⱼ·Yⱼ) / 36 000 000
//	Δε = Σ (c + d·JCE)·cos(Σ Xⱼ·Yⱼ) / 36 000 000
//
// Source: NREL/TP-560-34302, equations 15 to 23.
func (g *geocentric) nutation(t float64) {
	g.X = [5]float64{
		297.85036 + t*(445267.111480+t*(-0.0019142+t/189474)), // moon's mean elongation from the sun
		357.52772 + t*(35999.050340+t*(-0.0001603-t/300000)),  // mean anomaly of the sun
		134.96298 + t*(477198.867398+t*(0.0086972+t/56250)),   // mean anomaly of the moon
		93.27191 + t*(483202.017538+t*(-0.0036825+t/327270)),  // moon's argument of latitude
		125.04452 + t*(-1934.136261+t*(0.0020708+t/450000)),   // moon's ascending node
	}
	for _, n := range nutationTerms() {
		angle := 0.0
		for j, x := range g.X {
			angle += x * n.y[j]
		}
		sin, cos := math.Sincos(angle * (math.Pi / 180))
		g.Δψ += (n.a + n.b*t) * sin
		g.Δε += (n.c + n.d*t) * cos
	}
	g.Δψ /= 36e6
	g.Δε /= 36e6
}

// obliquity sets ε0 in arc seconds and ε.
//
// Source: NREL/TP-560-34302, equations 24 and 25.
func (g *geocentric) obliquity(jme float64) {
	u := jme / 10
	g.ε0 = 0
	for _, c := range [...]float64{2.45, 5.79, 27.87, 7.12, -39.05, -249.67, -51.38, 1999.25, -1.55, -4680.93, 84381.448} {
		g.ε0 = g.ε0*u + c
	}
	g.ε = g.ε0/3600 + g.Δε
}

// meanLongitude is the sun's mean longitude M.
//
// Source: NREL/TP-560-34302, equation A2.
func meanLongitude(jme float64) float64 {
	return fullTurn(280.4664567 + jme*(360007.6982779+jme*(0.03032028+jme*(1.0/49931+jme*(-1.0/15300-jme/2000000)))))
}

// meanSidereal is the mean sidereal time at Greenwich, ν0, d days of universal
// time after J2000.0.
//
// Source: NREL/TP-560-34302, equation 28.
func meanSidereal(d float64) float64 {
	jc := d / 36525
	return fullTurn(280.46061837 + 360.98564736629*d + jc*jc*(0.000387933-jc/38710000))
}

// fullTurn brings an angle in degrees into [0, 360).
func fullTurn(d float64) float64 {
	d = math.Mod(d, 360)
	if d < 0 {
		d += 360
	}
	return d
}

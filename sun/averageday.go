package sun

import (
	"math"
	"time"

	"legwork/quantity"
)

// KilowattHoursPerM2 is light gathered over a day.
type KilowattHoursPerM2 float64

// averageDay is the day of the year whose declination is nearest to the mean of
// its month.
//
// Source: Klein 1977; Duffie and Beckman, table 1.6.1.
var averageDay = [12]int{17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344}

// DayStep is one step of an average day.
type DayStep struct {
	Sun              Position // only Zenith, Azimuth, HourAngle, Declination, Distance
	Sky              Sky
	Extraterrestrial Irradiance
}

// stepsADay of an average day, ten minutes each.
const stepsADay = 144

// AverageDay spreads the mean daily light of a month over a day at a latitude:
// where no weather file is at hand. It is alike before and after noon, as real
// days with morning fog or afternoon cloud are not.
//
//	rt = π/24·(a + b·cos ω)·(cos ω − cos ωs)/(sin ωs − ωs·cos ωs)
//	rd = π/24·(cos ω − cos ωs)/(sin ωs − ωs·cos ωs)
//	a  = 0.409 + 0.5016·sin(ωs − 60°),  b = 0.6609 − 0.4767·sin(ωs − 60°)
//
//	global   daily global light of the month
//	diffuse  its diffuse share
//	ω, ωs    hour angle of the step and of sunset
//
// Both curves are scaled so that the day sums to what was given.
//
// Source: Collares-Pereira and Rabl 1979, Liu and Jordan 1960; Duffie and
// Beckman, equations 2.13.1 to 2.13.4; declination after Cooper, equation 1.6.1a.
// Valid: with HDKR over a year within 1.3 % of hourly work on planes facing
// south up to the latitude in tilt, 7 % when vertical, 2.4 % to the north; 9 % to
// the east and west where mornings and afternoons differ (45 stations).
func AverageDay(m time.Month, latitude quantity.Degrees, global KilowattHoursPerM2, diffuse float64) []DayStep {
	n := float64(averageDay[m-1])
	δ := 23.45 * math.Sin(2*math.Pi*(284+n)/365) * math.Pi / 180
	sinδ, cosδ := math.Sincos(δ)
	sinφ, cosφ := math.Sincos(radians(latitude))
	ωs := math.Acos(max(-1, min(1, -sinφ*sinδ/(cosφ*cosδ))))
	a := 0.409 + 0.5016*math.Sin(ωs-math.Pi/3)
	b := 0.6609 - 0.4767*math.Sin(ωs-math.Pi/3)
	outside := spencer(n)

	var steps []DayStep
	var shapes []struct{ total, diffuse float64 }
	var sumT, sumD float64
	for i := range stepsADay {
		ω := (float64(i)+0.5)/stepsADay*2*math.Pi - math.Pi
		cosz := sinφ*sinδ + cosφ*cosδ*math.Cos(ω)
		if cosz <= 0 {
			continue
		}
		rd := math.Cos(ω) - math.Cos(ωs)
		rt := max(0, a+b*math.Cos(ω)) * rd
		shapes = append(shapes, struct{ total, diffuse float64 }{rt, rd})
		sumT, sumD = sumT+rt, sumD+rd
		azimuth := wrap(degrees(math.Atan2(math.Sin(ω), math.Cos(ω)*sinφ-sinδ/cosδ*cosφ)) + 180)
		z := degrees(math.Acos(min(1, cosz)))
		steps = append(steps, DayStep{
			Sun: Position{
				Azimuth: azimuth, Zenith: z, Elevation: 90 - z, Airless: 90 - z,
				HourAngle: degrees(ω), Declination: degrees(δ), Distance: AU(1 / math.Sqrt(outside)),
			},
			Extraterrestrial: SolarConstant * Irradiance(outside),
		})
	}
	const hours = 24. / stepsADay
	for i, s := range shapes {
		total := 1000 * float64(global) * s.total / sumT / hours
		part := min(total, 1000*float64(global)*diffuse*s.diffuse/sumD/hours)
		cosz := math.Cos(radians(steps[i].Sun.Zenith))
		steps[i].Sky = Sky{
			Global: Irradiance(total), Diffuse: Irradiance(part),
			// Held at its value for 5°, or the last minutes would burn.
			Beam: Irradiance((total - part) / max(lowSun, cosz)),
		}
	}
	return steps
}

// spencer is (1/R)² for a day of the year.
//
//	E0 = 1.000110 + 0.034221·cos Γ + 0.001280·sin Γ + 0.000719·cos 2Γ + 0.000077·sin 2Γ
//
// Source: Spencer, Search 2 (1971) 172.
func spencer(day float64) float64 {
	Γ := 2 * math.Pi * (day - 1) / 365
	return 1.000110 + 0.034221*math.Cos(Γ) + 0.001280*math.Sin(Γ) + 0.000719*math.Cos(2*Γ) + 0.000077*math.Sin(2*Γ)
}

// DayOnPlane sums the light on a plane over an average day, by HDKR.
func DayOnPlane(steps []DayStep, p Plane, albedo float64) KilowattHoursPerM2 {
	sum := 0.0
	for _, s := range steps {
		sum += float64(OnPlane(HDKR, s.Sky, p, p.Facing(s.Sun), s.Extraterrestrial, albedo).Total())
	}
	return KilowattHoursPerM2(sum * 24 / stepsADay / 1000)
}

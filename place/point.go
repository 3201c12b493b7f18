package place

import (
	"math"

	"legwork/quantity"
)

// Point is where the house stands.
type Point struct {
	Latitude       quantity.Degrees // positive north
	Longitude      quantity.Degrees // positive east
	Elevation      quantity.Feet
	ElevationKnown bool
}

// earthRadius is the mean radius.
//
// Source: IUGG mean radius R1, 6371008.8 m.
const earthRadius quantity.Feet = 6371008.8 / 0.3048

// Distance along the ground, on a sphere.
//
//	d = 2·R·asin √(sin²(Δφ/2) + cos φ1·cos φ2·sin²(Δλ/2))
//
// Source: the haversine formula.
// Valid: within 0.5 % of the flattened earth.
func Distance(lat1, lon1, lat2, lon2 quantity.Degrees) quantity.Feet {
	const rad = math.Pi / 180
	φ1, φ2 := float64(lat1)*rad, float64(lat2)*rad
	north := math.Sin((φ2 - φ1) / 2)
	east := math.Sin(float64(lon2-lon1) * rad / 2)
	h := north*north + math.Cos(φ1)*math.Cos(φ2)*east*east
	return quantity.Feet(2 * float64(earthRadius) * math.Asin(math.Sqrt(min(1, h))))
}

// Mile is a statute mile.
const Mile quantity.Feet = 5280

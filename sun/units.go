package sun

import (
	"math"

	"legwork/quantity"
)

// Irradiance is power of light on an area, W/m². As an hourly value it is the
// mean of the hour, which is the same number as the energy in Wh/m².
type Irradiance float64

// Hectopascals is air pressure; 1 hPa is 1 mbar.
type Hectopascals float64

// AU is a distance in astronomical units.
type AU float64

// MetersPerSecond is wind speed.
type MetersPerSecond float64

// Meters turns a height into meters; 1 ft is 0.3048 m exactly.
func Meters(h quantity.Feet) float64 { return float64(h) * 0.3048 }

// Feet turns a height in meters into feet.
func Feet(m float64) quantity.Feet { return quantity.Feet(m / 0.3048) }

func radians(d quantity.Degrees) float64 { return float64(d) * (math.Pi / 180) }

func degrees(rad float64) quantity.Degrees { return quantity.Degrees(rad * (180 / math.Pi)) }

// wrap brings an angle into [0°, 360°).
func wrap(d quantity.Degrees) quantity.Degrees {
	w := math.Mod(float64(d), 360)
	if w < 0 {
		w += 360
	}
	if w == 360 { // a tiny negative angle rounds up to a full turn
		return 0
	}
	return quantity.Degrees(w)
}

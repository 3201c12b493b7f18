package sun

import (
	"math"

	"legwork/quantity"
)

// CellByNOCT is the cell temperature from the nameplate's nominal operating
// cell temperature.
//
//	Tc = Ta + (NOCT − 20)·G/800
//
//	G  light on the plane, W/m²
//
// Source: IEC 61215.
// Valid: open rack in a light wind; too hot in wind, too cold close to a roof.
func CellByNOCT(g Irradiance, air, noct quantity.Celsius) quantity.Celsius {
	return air + (noct-20)*quantity.Celsius(g)/800
}

// Cooling is how a mounting sheds heat: U0 W/(m²·K) in still air and U1
// W·s/(m³·K) more for each m/s of wind.
type Cooling struct{ U0, U1 float64 }

// Mountings of pitched roofs.
//
// Source: Faiman, Progress in Photovoltaics 16 (2008) 307 for the rack, from
// memory; the others estimated from Fuentes, SAND85-0330: a gap of 2 to 4 in
// runs 2 to 6 K above the rack, none 18 K.
var (
	OnRack = Cooling{25.0, 6.84}
	OnRoof = Cooling{21.5, 6.84} // rails, 2 to 4 in of air behind
	Flush  = Cooling{15.5, 6.84} // no air behind
)

// Cell is the module temperature by wind and light.
//
//	Tm = Ta + G/(U0 + U1·v)
//
//	G  light on the plane, W/m²
//	v  wind at the module, m/s; of the 10 m wind of a weather station 0.5 to 0.6
//
// Source: Faiman, Progress in Photovoltaics 16 (2008) 307; IEC 61853-2.
// Valid: steady light; a passing cloud is followed in some minutes.
func (c Cooling) Cell(g Irradiance, air quantity.Celsius, wind MetersPerSecond) quantity.Celsius {
	return air + quantity.Celsius(float64(g)/(c.U0+c.U1*max(0, float64(wind))))
}

// Back is how a module's back runs under light and wind, and how much hotter its
// cells are.
type Back struct {
	A, B float64          // Tm − Ta = G·exp(A + B·v)
	Cell quantity.Celsius // hotter cells at 1000 W/m²
}

// The rows of the source.
//
// Source: King, Boyson and Kratochvil, SAND2004-3535, table 1, from memory.
var (
	GlassGlassRack      = Back{-3.47, -0.0594, 3}
	GlassGlassCloseRoof = Back{-2.98, -0.0471, 1}
	GlassSheetRack      = Back{-3.56, -0.0750, 3}
	GlassSheetInsulated = Back{-2.81, -0.0455, 0}
)

// CellAt is the cell temperature.
//
//	Tc = Ta + G·exp(a + b·v) + G/1000·ΔT
//
//	v  wind at 10 m, m/s
//
// Source: King, Boyson and Kratochvil, SAND2004-3535, equations 11 and 12.
func (b Back) CellAt(g Irradiance, air quantity.Celsius, wind MetersPerSecond) quantity.Celsius {
	G := quantity.Celsius(g)
	return air + G*quantity.Celsius(math.Exp(b.A+b.B*float64(wind))) + G/1000*b.Cell
}

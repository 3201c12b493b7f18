package quantity

// Unit is the printed name of a unit: "A", "in²", "°C".
type Unit string

// Quantity is any measurable value of this package.
type Quantity interface {
	Float() float64 // in the type's base unit
	Unit() Unit     // the base unit
}

// The base unit of each type is its name.
type (
	Amps         float64 // current; fault current too, printed as kA from 1000 A
	Volts        float64
	VoltAmperes  float64
	Watts        float64
	Ohms         float64
	OhmsPerKFt   float64 // resistance of a conductor, Ω per 1000 ft
	Feet         float64 // length, one way
	SquareInches float64 // conductor and raceway areas
	CubicInches  float64 // room in boxes
	SquareFeet   float64 // floor and roof areas
	CircularMils float64 // conductor areas, chapter 9 table 8
	Celsius      float64
	Degrees      float64 // angles
	InchPounds   float64 // tightening torque
	Seconds      float64
	Percent      float64 // 2 is two percent
	Count        float64 // whole things: units, spaces, conductors
	Ratio        float64 // plain factors: 0.80
)

func (v Amps) Float() float64         { return float64(v) }
func (v Volts) Float() float64        { return float64(v) }
func (v VoltAmperes) Float() float64  { return float64(v) }
func (v Watts) Float() float64        { return float64(v) }
func (v Ohms) Float() float64         { return float64(v) }
func (v OhmsPerKFt) Float() float64   { return float64(v) }
func (v Feet) Float() float64         { return float64(v) }
func (v SquareInches) Float() float64 { return float64(v) }
func (v CubicInches) Float() float64  { return float64(v) }
func (v SquareFeet) Float() float64   { return float64(v) }
func (v CircularMils) Float() float64 { return float64(v) }
func (v Celsius) Float() float64      { return float64(v) }
func (v Degrees) Float() float64      { return float64(v) }
func (v InchPounds) Float() float64   { return float64(v) }
func (v Seconds) Float() float64      { return float64(v) }
func (v Percent) Float() float64      { return float64(v) }
func (v Count) Float() float64        { return float64(v) }
func (v Ratio) Float() float64        { return float64(v) }

func (Amps) Unit() Unit         { return "A" }
func (Volts) Unit() Unit        { return "V" }
func (VoltAmperes) Unit() Unit  { return "VA" }
func (Watts) Unit() Unit        { return "W" }
func (Ohms) Unit() Unit         { return "Ω" }
func (OhmsPerKFt) Unit() Unit   { return "Ω/kft" }
func (Feet) Unit() Unit         { return "ft" }
func (SquareInches) Unit() Unit { return "in²" }
func (CubicInches) Unit() Unit  { return "in³" }
func (SquareFeet) Unit() Unit   { return "ft²" }
func (CircularMils) Unit() Unit { return "cmil" }
func (Celsius) Unit() Unit      { return "°C" }
func (Degrees) Unit() Unit      { return "°" }
func (InchPounds) Unit() Unit   { return "in-lb" }
func (Seconds) Unit() Unit      { return "s" }
func (Percent) Unit() Unit      { return "%" }
func (Count) Unit() Unit        { return "" }
func (Ratio) Unit() Unit        { return "" }

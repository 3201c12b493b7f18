package circuit

import (
	"legwork/quantity"
	"legwork/tables"
)

// ResistanceAt returns the DC resistance of a conductor at t.
//
//	R₂ = R₁ · [1 + α·(T₂ − 75 °C)]
//
//	R₁  resistance at 75 °C, Ω/kft   tables.Resistance
//	T₂  conductor temperature, °C    the conductor's, not the air's
//	α   0.00323 /K copper, 0.00330 /K aluminum
//
// Source: NFPA 70 (2017), chapter 9, table 8, note 2.
// Valid: DC, about −20 °C to 90 °C; for AC good to about 2 AWG, and a few percent
// low at the largest sizes of a dwelling.
func ResistanceAt(r75 quantity.OhmsPerKFt, m tables.Material, t quantity.Celsius) (quantity.OhmsPerKFt, error) {
	c, err := tables.MetalConstants(m)
	if err != nil {
		return 0, err
	}
	return r75 * quantity.OhmsPerKFt(1+c.Alpha*(t-75).Float()), nil
}

// Basis tells how a conductor's impedance is taken.
type Basis struct {
	Temperature quantity.Celsius // of the conductor
	Reactance   bool             // with the reactance of chapter 9, table 9
}

// Table8 is the basis of the one-line formula: 75 °C, no reactance.
var Table8 = Basis{Temperature: 75}

// Impedance is the series impedance of one stranded conductor of a length in a
// conduit. The conduit counts only with reactance; for a cable without one take
// PVC, and say so.
//
// Resistance is that of table 8, corrected to the temperature; of table 9, whose
// resistances are printed to two digits, only the reactance is taken.
func (b Basis) Impedance(size quantity.Size, m tables.Material, in tables.Conduit, length quantity.Feet) (complex128, error) {
	r75, err := tables.Resistance(size, m, tables.Stranded)
	if err != nil {
		return 0, err
	}
	r, err := ResistanceAt(r75, m, b.Temperature)
	if err != nil {
		return 0, err
	}
	var x quantity.OhmsPerKFt
	if b.Reactance {
		o, err := tables.Impedance(size, m, in)
		if err != nil {
			return 0, err
		}
		x = o.X
	}
	return complex(r.Float(), x.Float()) * complex(length.Float()/1000, 0), nil
}

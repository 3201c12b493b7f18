package tables

import (
	"fmt"

	"legwork/quantity"
	"legwork/working"
)

// Form tells whether a conductor is one wire or many.
type Form string

// The two forms of table 8.
const (
	Solid    Form = "solid"
	Stranded Form = "stranded"
)

// Conductor is a bare conductor of chapter 9, table 8. Copper is uncoated.
type Conductor struct {
	Size     quantity.Size         `col:"size"`
	Form     Form                  `col:"form"`
	Strands  int                   `col:"strands"`
	Area     quantity.CircularMils `col:"circular_mils"`
	Diameter float64               `col:"overall_dia_in"` // in
	Overall  quantity.SquareInches `col:"overall_area_in2"`
	Copper   quantity.OhmsPerKFt   `col:"dc_ohm_per_kft_75C_copper_uncoated"`
	Aluminum quantity.OhmsPerKFt   `col:"dc_ohm_per_kft_75C_aluminum"`
}

// Conductors lists chapter 9, table 8, from thin to thick.
var Conductors = rows[Conductor]("conductor")

// ConductorRow finds one size in one form.
//
// Source: NFPA 70 (2017), chapter 9, table 8.
func ConductorRow(size quantity.Size, f Form) (Conductor, error) {
	var there []quantity.Size
	for _, r := range Conductors() {
		if r.Size == size && r.Form == f {
			return r, nil
		}
		if r.Form == f {
			there = append(there, r.Size)
		}
	}
	t := table("conductor")
	if there == nil {
		return Conductor{}, t.none(fmt.Sprintf("form %q", string(f)), "there is solid and stranded")
	}
	return Conductor{}, t.none(fmt.Sprintf("%v, %s", size, f), span(there))
}

// Resistance is the DC resistance of a conductor at 75 C, per 1000 ft.
//
// Source: NFPA 70 (2017), chapter 9, table 8.
// Valid: DC; good for AC to about 2 AWG, above that see Impedance.
func Resistance(size quantity.Size, m Material, f Form) (quantity.OhmsPerKFt, error) {
	r, err := ConductorRow(size, f)
	switch {
	case err != nil:
		return 0, err
	case m == Copper:
		return r.Copper, nil
	case m == Aluminum:
		return r.Aluminum, nil
	}
	return 0, table("conductor").none(fmt.Sprintf("material %q", string(m)), "there is copper and aluminum")
}

// ResistanceOf is Resistance for a sheet.
func ResistanceOf(size quantity.Size, m Material, f Form) working.Lookup {
	return from("conductor").cell(Resistance(size, m, f))
}

// BareArea is the overall area of a bare conductor, for raceway fill.
//
// Source: NFPA 70 (2017), chapter 9, table 8 and note 8.
func BareArea(size quantity.Size, f Form) (quantity.SquareInches, error) {
	r, err := ConductorRow(size, f)
	return r.Overall, err
}

// BareAreaOf is BareArea for a sheet.
func BareAreaOf(size quantity.Size, f Form) working.Lookup {
	return from("conductor").cell(BareArea(size, f))
}

// CircularMils is the metal area of a size, the same in both forms.
//
// Source: NFPA 70 (2017), chapter 9, table 8.
func CircularMils(size quantity.Size) (quantity.CircularMils, error) {
	r, err := ConductorRow(size, Stranded)
	return r.Area, err
}

// CircularMilsOf is CircularMils for a sheet.
func CircularMilsOf(size quantity.Size) working.Lookup {
	return from("conductor").cell(CircularMils(size))
}

// SizeWithArea is the thinnest size whose metal area is not less than asked, as
// 250.122(B) wants it. The area is not rounded first: results can fall within
// a few circular mils of a size.
func SizeWithArea(least quantity.CircularMils) (quantity.Size, error) {
	if err := table("conductor").number(least); err != nil {
		return quantity.NoSize, err
	}
	all := Conductors()
	for _, r := range all {
		if quantity.Compare(least.Float(), r.Area.Float()) <= 0 {
			return r.Size, nil
		}
	}
	thickest := all[len(all)-1]
	return quantity.NoSize, table("conductor").none(working.Figure(least.Float(), least.Unit()),
		fmt.Sprintf("the most is %v", thickest.Size))
}

// Constants are what the one-line voltage drop formulas take for a metal.
type Constants struct {
	Material Material `col:"material"`
	K        float64  `col:"K_ohm_cmil_per_ft"` // Ω·cmil/ft at 75 C
	Alpha    float64  `col:"alpha_per_K"`       // /K, of R₂ = R₁·[1 + α·(T₂ − 75 °C)]
}

var constantRows = rows[Constants]("conductor-constants")

// MetalConstants finds the constants of a metal.
//
// Source: α NFPA 70 (2017), chapter 9, table 8, note 2; K textbooks.
func MetalConstants(m Material) (Constants, error) {
	for _, r := range constantRows() {
		if r.Material == m {
			return r, nil
		}
	}
	return Constants{}, table("conductor-constants").none(fmt.Sprintf("material %q", string(m)), "there is copper and aluminum")
}

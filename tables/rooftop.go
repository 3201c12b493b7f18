package tables

import (
	"slices"
	"strconv"
	"strings"

	"legwork/quantity"
	"legwork/working"
)

type rooftopRow struct {
	Edition   Editions         `col:"edition"`
	Clause    string           `col:"clause"`
	Applies   string           `col:"applies_when"`
	Adder     quantity.Celsius `col:"adder_C,blank"` // none known for 2026
	AdderF    float64          `col:"adder_F,blank"`
	Threshold float64          `col:"threshold_mm,blank"`
	Inches    string           `col:"threshold_in"`
	Exception string           `col:"exception"`
}

var rooftopRows = rows[rooftopRow]("rooftop-adder")

// Rooftop is what an edition adds to the ambient of a raceway or cable in
// direct sun close to a roof.
type Rooftop struct {
	Adder     quantity.Celsius // a difference: 33
	Threshold quantity.Feet    // added while the bottom is lower than this above the roof
	exception string
}

// Adds reports whether the adder is due at a height of the raceway's bottom
// above the roof, for this insulation. Shade, under the modules too, is not
// direct sun: that is for the caller to know. An unknown height, NaN, adds.
func (r Rooftop) Adds(height quantity.Feet, i Insulation) bool {
	return quantity.Compare(height.Float(), r.Threshold.Float()) < 0 && !r.Exempts(i)
}

// Exempts reports whether the exception frees an insulation from the adder.
func (r Rooftop) Exempts(i Insulation) bool {
	return slices.ContainsFunc(i.Types(), func(one string) bool {
		return slices.Contains(strings.Fields(r.exception), one)
	})
}

// RooftopAdder is the rule of an edition. 2017 also asks for the threshold as
// a minimum height. Editions before 2017 stand in the table but are not
// answered, as their adder goes by steps.
//
// Source: NFPA 70, 310.15(B)(3)(c) (2017), 310.15(B)(2) (2020, 2023).
func RooftopAdder(e working.Edition) (Rooftop, error) {
	if e != 2017 && e != 2020 && e != 2023 {
		return Rooftop{}, table("rooftop-adder").noEdition(e)
	}
	for _, r := range rooftopRows() {
		if !r.Edition.Covers(e) {
			continue
		}
		inches, err := fraction(r.Inches)
		if err != nil {
			panic("tables: rooftop-adder: " + err.Error())
		}
		return Rooftop{Adder: r.Adder, Threshold: quantity.Feet(inches / 12), exception: r.Exception}, nil
	}
	panic("tables: rooftop-adder has no row for " + strconv.Itoa(int(e)))
}

// fraction reads "7/8".
func fraction(s string) (float64, error) {
	top, bottom, _ := strings.Cut(s, "/")
	a, err := strconv.ParseFloat(top, 64)
	if err != nil {
		return 0, err
	}
	b, err := strconv.ParseFloat(bottom, 64)
	return a / b, err
}

// RooftopAdderOf is the temperature added, for a sheet.
func RooftopAdderOf(e working.Edition) working.Lookup {
	r, err := RooftopAdder(e)
	return from("rooftop-adder").cell(r.Adder, err)
}

// RooftopThresholdOf is the height below which it is added, for a sheet.
func RooftopThresholdOf(e working.Edition) working.Lookup {
	r, err := RooftopAdder(e)
	return from("rooftop-adder").cell(r.Threshold, err)
}

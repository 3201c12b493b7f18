package tables

import (
	"legwork/quantity"
	"legwork/working"
)

type ambientRow struct {
	Low  quantity.Celsius `col:"low_C,blank"` // the first band has no lower end
	High quantity.Celsius `col:"high_C"`
	Band string           `col:"band_F"`
	F60  quantity.Ratio   `col:"f60C,blank"`
	F75  quantity.Ratio   `col:"f75C,blank"`
	F90  quantity.Ratio   `col:"f90C,blank"`
}

var ambientRows = rows[ambientRow]("ambient-correction")

// AmbientFactor corrects an ampacity of the 60, 75 or 90 C column for the air
// around the conductor. Bands are 5 C wide and nothing is interpolated; a
// temperature between two bands, 35.5 C, belongs to the hotter one. A factor
// of 0 is a blank cell of the table: insulation of this column may not be used
// where it is so hot.
//
// Source: NFPA 70, Table 310.15(B)(2)(a) (2017), Table 310.15(B)(1) (2020),
// Table 310.15(B)(1)(1) (2023).
// Valid: ambient up to 85 C.
func AmbientFactor(ambient quantity.Celsius, column int) (quantity.Ratio, error) {
	t := table("ambient-correction")
	if err := checkColumn(t, column); err != nil {
		return 0, err
	}
	if err := t.number(ambient); err != nil {
		return 0, err
	}
	for _, r := range ambientRows() {
		if quantity.Compare(ambient.Float(), r.High.Float()) > 0 {
			continue
		}
		switch column {
		case 60:
			return r.F60, nil
		case 75:
			return r.F75, nil
		}
		return r.F90, nil
	}
	return 0, t.none(working.Figure(ambient.Float(), ambient.Unit()), "the most is 85 °C")
}

// AmbientFactorOf is AmbientFactor for a sheet.
func AmbientFactorOf(ambient quantity.Celsius, column int) working.Lookup {
	return from("ambient-correction").cell(AmbientFactor(ambient, column))
}

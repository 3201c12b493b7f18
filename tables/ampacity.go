package tables

import (
	"fmt"

	"legwork/quantity"
	"legwork/working"
)

type ampacityRow struct {
	Size     quantity.Size `col:"size"`
	Unit     string        `col:"unit"`
	Material Material      `col:"material"`
	A60      quantity.Amps `col:"a60C"`
	A75      quantity.Amps `col:"a75C"`
	A90      quantity.Amps `col:"a90C"`
}

var ampacityRows = rows[ampacityRow]("ampacity")

// Ampacity is the current that a conductor may carry by the table, before any
// correction, in the column of 60, 75 or 90 C.
//
// Source: NFPA 70, Table 310.15(B)(16) (2017), Table 310.16 (2020, 2023).
// Valid: up to 2000 V, at most three current-carrying conductors, 30 C.
func Ampacity(size quantity.Size, m Material, column int) (quantity.Amps, error) {
	t := table("ampacity")
	if err := checkColumn(t, column); err != nil {
		return 0, err
	}
	var there []quantity.Size
	for _, r := range ampacityRows() {
		switch {
		case r.Material != m:
		case r.Size == size && column == 60:
			return r.A60, nil
		case r.Size == size && column == 75:
			return r.A75, nil
		case r.Size == size:
			return r.A90, nil
		default:
			there = append(there, r.Size)
		}
	}
	if there == nil {
		return 0, t.none(fmt.Sprintf("material %q", string(m)), "there is copper and aluminum")
	}
	return 0, t.none(fmt.Sprintf("%v %v", size, m), span(there))
}

// AmpacityOf is Ampacity for a sheet.
func AmpacityOf(size quantity.Size, m Material, column int) working.Lookup {
	return from("ampacity").cell(Ampacity(size, m, column))
}

// span tells which sizes there are: "there is 14 AWG to 500 kcmil".
func span(sizes []quantity.Size) string {
	low, high := sizes[0], sizes[0]
	for _, s := range sizes {
		low, high = min(low, s), max(high, s)
	}
	return fmt.Sprintf("there is %v to %v", low, high)
}

package tables

import (
	"fmt"
	"strings"

	"legwork/quantity"
	"legwork/working"
)

type faultRow struct {
	Kind string         `col:"material_conduit"` // copper_steel
	Size quantity.Size  `col:"size"`
	C    quantity.Ratio `col:"C"`
	Seen string         `col:"seen_or_memory"`
}

var faultRows = rows[faultRow]("fault-current-constants")

// FaultConstant is the conductor constant C of the point-to-point method; a
// steel conduit lowers it a little.
//
// Source: handbook values; five seen in print, the others from memory.
// Valid: 600 V, three single conductors in one conduit.
func FaultConstant(size quantity.Size, m Material, c Conduit) (quantity.Ratio, error) {
	r, err := faultRowOf(size, m, c)
	return r.C, err
}

func faultRowOf(size quantity.Size, m Material, c Conduit) (faultRow, error) {
	t := table("fault-current-constants")
	kind := string(m) + "_nonmagnetic"
	if c == InSteel {
		kind = string(m) + "_steel"
	}
	var there []quantity.Size
	for _, r := range faultRows() {
		if r.Kind == kind && r.Size == size {
			return r, nil
		}
		if r.Kind == kind {
			there = append(there, r.Size)
		}
	}
	if there == nil {
		return faultRow{}, t.none(fmt.Sprintf("material %q", string(m)), "there is copper and aluminum")
	}
	return faultRow{}, t.none(fmt.Sprintf("%v %v", size, m), span(there))
}

// FaultConstantOf is FaultConstant for a sheet, with the mark of its row.
func FaultConstantOf(size quantity.Size, m Material, c Conduit) working.Lookup {
	r, err := faultRowOf(size, m, c)
	return from("fault-current-constants").seen(r.Seen).cell(r.C, err)
}

// FaultStep is a step of the point-to-point method, in words.
type FaultStep struct {
	Step string `col:"step"`
	LL   string `col:"single_phase_LL"`
	LN   string `col:"single_phase_LN"`
	Note string `col:"note"`
}

// FaultSteps lists the point-to-point method.
var FaultSteps = rows[FaultStep]("fault-current-method")

type dwellingRow struct {
	Rating   quantity.Amps `col:"rating_A"`
	Least    quantity.Amps `col:"min_83pct_A"`
	Copper   string        `col:"copper"`
	Aluminum string        `col:"aluminum"` // one size lies beyond quantity.Sizes
	Clauses  working.Clauses
}

var dwellingRows = rows[dwellingRow]("dwelling-83-percent")

// DwellingService is the service or main feeder conductor of a dwelling for a
// service rating, at 83 percent of it.
//
// Source: NFPA 70, 310.15(B)(7) (2017), Table 310.12 (2020), Table 310.12(A) (2023).
// Valid: one-family dwellings and each unit of others, the whole load on the
// conductor, no correction or adjustment needed.
func DwellingService(rating quantity.Amps, m Material) (quantity.Size, error) {
	t := table("dwelling-83-percent")
	for _, r := range dwellingRows() {
		key := map[Material]string{Copper: r.Copper, Aluminum: r.Aluminum}[m]
		switch {
		case key == "":
			return quantity.NoSize, t.none(fmt.Sprintf("material %q", string(m)), "there is copper and aluminum")
		case r.Rating != rating:
			continue
		}
		size, err := sizeOf(key)
		if err != nil {
			return quantity.NoSize, t.none(fmt.Sprintf("conductor for %s %v among the sizes known here", working.Figure(rating.Float(), rating.Unit()), m),
				"the table asks for "+key+" kcmil")
		}
		return size, nil
	}
	return quantity.NoSize, t.none(working.Figure(rating.Float(), rating.Unit()), "there is "+strings.Join(t.column(0), ", "))
}

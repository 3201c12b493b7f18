package tables

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"legwork/quantity"
	"legwork/working"
)

type fillRow struct {
	Conductors string           `col:"conductors"`
	Percent    quantity.Percent `col:"max_fill_pct"`
	Note       string           `col:"note"`
}

// Raceway is the inside of one trade size of one kind of raceway. The areas
// left for conductors are printed figures, not products.
type Raceway struct {
	Kind     RacewayKind           `col:"raceway"`
	Size     quantity.TradeSize    `col:"trade_size_in"`
	Diameter float64               `col:"internal_dia_in"` // in
	Total    quantity.SquareInches `col:"total_area_in2"`
	One      quantity.SquareInches `col:"one_wire_53pct_in2"`
	Two      quantity.SquareInches `col:"two_wires_31pct_in2"`
	More     quantity.SquareInches `col:"over_two_40pct_in2"`
	Nipple   quantity.SquareInches `col:"nipple_60pct_in2"`
}

type areaRow struct {
	Types    string                `col:"types"`
	Size     quantity.Size         `col:"size"`
	Area     quantity.SquareInches `col:"area_in2"`
	Diameter float64               `col:"diameter_in"`
}

var (
	fillRows = rows[fillRow]("raceway-fill")
	areaRows = rows[areaRow]("conductor-areas")

	// Raceways lists chapter 9, table 4, kind by kind from small to large.
	Raceways = rows[Raceway]("raceways")
)

// Nipple is the longest raceway between enclosures, in feet, that may be filled
// to 60 percent and is not adjusted for bundling: 24 in.
//
// Source: NFPA 70, chapter 9, note 4 to tables; 310.15(B)(3)(a)(2) (2017),
// 310.15(C)(1)(b) (2020, 2023).
const Nipple quantity.Feet = 2

// FillLimit is how much of a raceway n conductors may fill. Equipment grounds
// count, bare or insulated.
//
// Source: NFPA 70, chapter 9, table 1 and notes 3 and 4.
func FillLimit(n int, nipple bool) (quantity.Percent, error) {
	key, err := fillKey(n, nipple)
	if err != nil {
		return 0, err
	}
	for _, r := range fillRows() {
		if r.Conductors == key {
			return r.Percent, nil
		}
	}
	panic("tables: raceway-fill has no row " + key)
}

// FillLimitOf is FillLimit for a sheet.
func FillLimitOf(n int, nipple bool) working.Lookup {
	return from("raceway-fill").cell(FillLimit(n, nipple))
}

func fillKey(n int, nipple bool) (string, error) {
	switch {
	case n < 1:
		return "", table("raceway-fill").none(strconv.Itoa(n)+" conductors", "the least is 1")
	case nipple:
		return "nipple", nil
	case n > 2:
		return "over 2", nil
	}
	return strconv.Itoa(n), nil
}

// RacewayRow finds one trade size of one kind.
//
// Source: NFPA 70, chapter 9, table 4.
func RacewayRow(k RacewayKind, size quantity.TradeSize) (Raceway, error) {
	var there []string
	for _, r := range Raceways() {
		if r.Kind == k && r.Size == size {
			return r, nil
		}
		if r.Kind == k {
			there = append(there, r.Size.Key())
		}
	}
	if there == nil {
		return Raceway{}, table("raceways").none(fmt.Sprintf("%q", string(k)), near(table("raceways").column(0), string(k)))
	}
	return Raceway{}, table("raceways").none(fmt.Sprintf("%s of %v", k, size), "there is "+strings.Join(there, ", "))
}

// FillRoom is the area that n conductors may fill in a raceway, the printed
// figure of the table: 0.213 in² for three and more in 3/4 in EMT.
//
// Source: NFPA 70, chapter 9, tables 1 and 4, note 4.
func FillRoom(k RacewayKind, size quantity.TradeSize, n int, nipple bool) (quantity.SquareInches, error) {
	key, err := fillKey(n, nipple)
	if err != nil {
		return 0, err
	}
	r, err := RacewayRow(k, size)
	switch key {
	case "1":
		return r.One, err
	case "2":
		return r.Two, err
	case "nipple":
		return r.Nipple, err
	}
	return r.More, err
}

// FillRoomOf is FillRoom for a sheet.
func FillRoomOf(k RacewayKind, size quantity.TradeSize, n int, nipple bool) working.Lookup {
	return from("raceways").cell(FillRoom(k, size, n, nipple))
}

// ConductorArea is the area of an insulated conductor. Of several marked types
// the thickest counts, as the table does not say which one was drawn; RHH, RHW
// and RHW-2 are taken with their outer covering.
//
// Source: NFPA 70, chapter 9, table 5; bare conductors are in BareArea.
func ConductorArea(i Insulation, size quantity.Size) (quantity.SquareInches, error) {
	var area quantity.SquareInches
	var there []quantity.Size
	for _, r := range areaRows() {
		if !slices.ContainsFunc(i.Types(), func(one string) bool { return slices.Contains(strings.Fields(r.Types), one) }) {
			continue
		}
		there = append(there, r.Size)
		if r.Size == size {
			area = max(area, r.Area)
		}
	}
	t := table("conductor-areas")
	switch {
	case there == nil:
		return 0, t.none(fmt.Sprintf("%q", string(i)), "take the area from the maker's dimensions (chapter 9, note 5)")
	case area == 0:
		return 0, t.none(fmt.Sprintf("%v %s", size, i), span(there))
	}
	return area, nil
}

// ConductorAreaOf is ConductorArea for a sheet.
func ConductorAreaOf(i Insulation, size quantity.Size) working.Lookup {
	return from("conductor-areas").cell(ConductorArea(i, size))
}

// Note is one of the notes to the tables of chapter 9, in our words.
type Note struct {
	Number int    `col:"note_no"`
	Text   string `col:"rule"`
}

// ChapterNotes lists the notes to the tables of chapter 9.
var ChapterNotes = rows[Note]("chapter-9-notes")

// RacewayDiameterOf is the inside diameter of a raceway, for a sheet.
//
// Source: NFPA 70, chapter 9, table 4.
func RacewayDiameterOf(k RacewayKind, size quantity.TradeSize) working.Lookup {
	r, err := RacewayRow(k, size)
	return from("raceways").cell(quantity.Feet(r.Diameter/12), err)
}

// ConductorDiameterOf is the diameter of an insulated conductor, for a sheet. Of
// several marked types the thickest counts, as in ConductorArea.
//
// Source: NFPA 70, chapter 9, table 5.
func ConductorDiameterOf(i Insulation, size quantity.Size) working.Lookup {
	area, err := ConductorArea(i, size)
	var d float64
	for _, r := range areaRows() {
		if r.Size == size && r.Area == area && slices.ContainsFunc(i.Types(), func(one string) bool { return slices.Contains(strings.Fields(r.Types), one) }) {
			d = max(d, r.Diameter)
		}
	}
	return from("conductor-areas").cell(quantity.Feet(d/12), err)
}

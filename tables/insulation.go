package tables

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"legwork/quantity"
	"legwork/where"
	"legwork/working"
)

// Insulation is the type printed on a conductor, "THWN-2", or several where it
// is marked with several, "THHN/THWN-2". The zero Insulation is "none given".
type Insulation string

type insulationRow struct {
	Material Material `col:"material"`
	Column   int      `col:"column_C"`
	Types    string   `col:"types"`
	Editions string   `col:"editions"`
	Note     string   `col:"note"`
}

type wetRow struct {
	Type   string `col:"type"`
	Column int    `col:"wet_C"`
}

var (
	insulationRows = rows[insulationRow]("insulation")
	wetRows        = rows[wetRow]("wet-insulation")
)

// InsulationTypes lists the single types that the ampacity table knows.
var InsulationTypes = sync.OnceValue(func() []string {
	var out []string
	for _, r := range insulationRows() {
		out = append(out, strings.Fields(r.Types)...)
	}
	slices.Sort(out)
	return slices.Compact(out)
})

// Types are the single types of the marking: THHN and THWN-2.
func (i Insulation) Types() []string {
	if i == "" {
		return nil
	}
	return strings.Split(string(i), "/")
}

// UnmarshalText reads a marking and refuses a type that the ampacity table
// does not know.
func (i *Insulation) UnmarshalText(text []byte) error {
	read := Insulation(strings.ToUpper(strings.TrimSpace(string(text))))
	if read == "" {
		return where.Error{Came: `""`, Expected: "the type printed on the conductor, such as THWN-2 or THHN/THWN-2"}
	}
	for _, one := range read.Types() {
		if !slices.Contains(InsulationTypes(), one) {
			return unknown("", strconv.Quote(one), one, InsulationTypes())
		}
	}
	*i = read
	return nil
}

// Wet reports whether one of the types may lie in a wet location. The inside
// of a raceway outdoors is one (300.9): THHN alone may not go there.
func (i Insulation) Wet() bool { return i.wetColumn() > 0 }

func (i Insulation) wetColumn() int {
	column := 0
	for _, r := range wetRows() {
		if slices.Contains(i.Types(), r.Type) {
			column = max(column, r.Column)
		}
	}
	return column
}

// InsulationColumn is the ampacity column of the insulation: 60, 75 or 90. Of
// several marked types the highest that suits the place counts; in a wet place
// only those for wet locations do.
//
// Source: NFPA 70, Table 310.16 column heads; wet: 310.10(C), from memory.
func InsulationColumn(i Insulation, m Material, wet bool) (int, error) {
	column := 0
	for _, r := range insulationRows() {
		for _, one := range strings.Fields(r.Types) {
			if r.Material == m && slices.Contains(i.Types(), one) {
				column = max(column, r.Column)
			}
		}
	}
	switch {
	case column == 0:
		return 0, table("insulation").none(fmt.Sprintf("%q for %q", string(i), string(m)), "there is "+strings.Join(InsulationTypes(), ", "))
	case wet && !i.Wet():
		return 0, table("wet-insulation").none(string(i), "there is "+strings.Join(table("wet-insulation").column(0), ", "))
	case wet:
		column = min(column, i.wetColumn())
	}
	return column, nil
}

// InsulationColumnOf is InsulationColumn as a temperature for a sheet.
func InsulationColumnOf(i Insulation, m Material, wet bool) working.Lookup {
	column, err := InsulationColumn(i, m, wet)
	name := "insulation"
	if wet {
		name = "wet-insulation"
	}
	return from(name).cell(quantity.Celsius(column), err)
}

// checkColumn refuses what is no temperature column of the ampacity tables.
func checkColumn(t *Table, column int) error {
	if column == 60 || column == 75 || column == 90 {
		return nil
	}
	return t.none("column for "+strconv.Itoa(column)+" C", "there is 60, 75 and 90")
}

package fixes

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"

	"legwork/where"
)

// Piece is the work of one piece or foot.
type Piece struct {
	Hours, Material             float64 // h, dollars
	Outage, Permit, SecondVisit bool
}

// Work tells what each kind of edit takes, by its name in data/work.csv.
type Work struct {
	pieces map[string]Piece
}

//go:embed data/work.csv
var workTable string

// InventedWork is the table that comes with the program. Its figures are invented.
var InventedWork = sync.OnceValue(func() *Work {
	w, err := ReadWork("work.csv", strings.NewReader(workTable))
	if err != nil {
		panic(err)
	}
	return w
})

// kinds are the works of the table, in its order.
var kinds = []string{"breaker_move", "breaker_new", "unit_fewer", "main_smaller", "panel_new", "sum_of_breakers",
	"supply_side", "power_control", "wire", "raceway", "buried_wire", "insulation", "raise", "ground", "labor"}

// ReadWork reads a table in the form of data/work.csv: a row a work, lines with #
// are remarks. Each work stands once and none is left out.
func ReadWork(file string, in io.Reader) (*Work, error) {
	r := csv.NewReader(in)
	r.Comment, r.FieldsPerRecord, r.TrimLeadingSpace = '#', 7, true
	rows, err := r.ReadAll()
	if err != nil {
		return nil, where.Error{File: file, Came: err.Error(), Expected: "rows of work,per,hours,material_USD,outage,permit,second_visit"}
	}
	if len(rows) == 0 {
		return nil, where.Error{File: file, Came: "no row", Expected: "a header and a row for each work"}
	}
	w := &Work{pieces: map[string]Piece{}}
	for _, row := range rows[1:] {
		if _, twice := w.pieces[row[0]]; twice {
			return nil, where.Error{File: file, Came: row[0] + " stands twice", Expected: "each work once"}
		}
		p, err := piece(row)
		if err != nil {
			return nil, where.Error{File: file, Path: row[0], Came: err.Error(), Expected: "numbers from 0 to 1000000, then yes or no three times"}
		}
		w.pieces[row[0]] = p
	}
	for _, k := range kinds {
		if _, ok := w.pieces[k]; !ok {
			return nil, where.Error{File: file, Came: "no row for " + k, Expected: "a row for each work"}
		}
	}
	if len(w.pieces) > len(kinds) {
		return nil, where.Error{File: file, Came: "a work of another name", Expected: "one of " + strings.Join(kinds, ", ")}
	}
	return w, nil
}

func piece(row []string) (Piece, error) {
	var p Piece
	for i, out := range []*float64{&p.Hours, &p.Material} {
		v, err := strconv.ParseFloat(row[2+i], 64)
		if err != nil || !(v >= 0 && v <= 1e6) {
			return p, fmt.Errorf("%q", row[2+i])
		}
		*out = v
	}
	for i, out := range []*bool{&p.Outage, &p.Permit, &p.SecondVisit} {
		switch row[4+i] {
		case "yes":
			*out = true
		case "no":
		default:
			return p, fmt.Errorf("%q", row[4+i])
		}
	}
	return p, nil
}

// of sums the work of edits.
func (w *Work) of(edits []Edit) Piece {
	var sum Piece
	for _, e := range edits {
		for _, t := range e.Takes {
			p := w.pieces[t.Work]
			sum.Hours += p.Hours * t.Count
			sum.Material += p.Material * t.Count
			sum.Outage = sum.Outage || p.Outage
			sum.Permit = sum.Permit || p.Permit
			sum.SecondVisit = sum.SecondVisit || p.SecondVisit
		}
	}
	return sum
}

// price is what work is ranked by.
func (w *Work) price(p Piece) float64 {
	labor := w.pieces["labor"]
	return p.Material + p.Hours*labor.Hours*labor.Material
}

package tables

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"legwork/quantity"
	"legwork/where"
	"legwork/working"
)

// Table is an embedded table as rows of text. It is shared: read, don't change.
type Table struct {
	Name    string          // "ampacity"
	Title   string          // what the figures are, with their unit
	Source  string          // document, edition, table
	Status  string          // what it was compared with
	Mark    string          // "from memory", "seen in part"; empty when seen in print
	Clauses working.Clauses // clause by edition
	Always  string          // clause of every edition, where it never moved
	Notes   []string
	Header  []string
	Rows    [][]string
}

// Names lists all tables by name.
func Names() []string {
	names := make([]string, 0, len(all()))
	for name := range all() {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// Get finds a table by name.
func Get(name string) (*Table, error) {
	if t, ok := all()[name]; ok {
		return t, nil
	}
	return nil, unknown("table", strconv.Quote(name), name, Names())
}

// Filter keeps the rows whose cell in a column is value, capitals aside. Where
// no cell is value as a whole, it keeps those that have it as one word of a
// list ("THHN THWN THWN-2").
func (t *Table) Filter(column, value string) (*Table, error) {
	i := slices.Index(t.Header, column)
	if i < 0 {
		return nil, unknown(t.label(), "no column "+strconv.Quote(column), column, t.Header)
	}
	kept := *t
	kept.Rows = t.rowsWhere(i, func(cell string) bool { return strings.EqualFold(cell, value) })
	if len(kept.Rows) == 0 {
		kept.Rows = t.rowsWhere(i, func(cell string) bool {
			return slices.ContainsFunc(strings.Fields(cell), func(w string) bool { return strings.EqualFold(w, value) })
		})
	}
	if len(kept.Rows) == 0 {
		return nil, t.none(column+" "+value, near(t.column(i), value))
	}
	return &kept, nil
}

func (t *Table) rowsWhere(column int, ok func(cell string) bool) [][]string {
	var rows [][]string
	for _, r := range t.Rows {
		if ok(r[column]) {
			rows = append(rows, r)
		}
	}
	return rows
}

// column lists the distinct cells of a column in the order of the table.
func (t *Table) column(i int) []string {
	var cells []string
	for _, r := range t.Rows {
		if !slices.Contains(cells, r[i]) {
			cells = append(cells, r[i])
		}
	}
	return cells
}

// Cite is the table as the source of a looked-up value.
func (t *Table) Cite() working.Source {
	return working.Source{Name: t.Name, Title: t.Title, Clauses: t.Clauses, Always: t.Always, Mark: t.Mark}
}

func (t *Table) label() string { return strings.ReplaceAll(t.Name, "-", " ") + " table" }

// none is the error for a row that the table does not have.
func (t *Table) none(asked, there string) error {
	return where.Error{Path: t.label(), Came: "no " + asked, Try: there}
}

// unknown is the error for a word that is none of a list, with the nearest one.
func unknown(path, came, word string, list []string) where.Error {
	e := where.Error{Path: path, Came: came, Expected: "one of " + strings.Join(list, ", ")}
	if n := where.Nearest(word, list); n != "" {
		e.Try = "did you mean " + strconv.Quote(n) + "?"
	}
	return e
}

// number refuses an unknown value that reached a question as NaN: it must not
// pick a row.
func (t *Table) number(v quantity.Quantity) error {
	if math.IsNaN(v.Float()) {
		return t.none("row for an unknown value in "+string(v.Unit()), "")
	}
	return nil
}

// most is how many words a hint lists.
const most = 12

// near says which of the values there are lie around the one asked for: the
// two neighbors of a number, else the values themselves.
func near(there []string, asked string) string {
	want, err := strconv.ParseFloat(asked, 64)
	if err != nil {
		if len(there) > most {
			there = append(slices.Clone(there[:most]), "…")
		}
		return "there is " + strings.Join(there, ", ")
	}
	var below, above string
	var low, high float64
	for _, s := range there {
		v, err := strconv.ParseFloat(s, 64)
		switch {
		case err != nil:
		case v < want && (below == "" || v > low):
			below, low = s, v
		case v > want && (above == "" || v < high):
			above, high = s, v
		}
	}
	switch {
	case below == "" && above == "":
		return near(there, "")
	case below == "":
		return "the least is " + above
	case above == "":
		return "the most is " + below
	}
	return "there is " + below + " and " + above
}

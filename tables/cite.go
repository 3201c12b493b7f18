package tables

import (
	"strings"

	"legwork/quantity"
	"legwork/working"
)

// origin is the source of a looked-up cell.
type origin working.Source

// from is the origin of a cell of the named table.
func from(name string) origin { return origin(table(name).Cite()) }

// clauses narrows the origin to the clauses of one row.
func (o origin) clauses(c working.Clauses) origin {
	o.Clauses = c
	return o
}

// seen takes the mark from a row's own word of confidence.
func (o origin) seen(confidence string) origin {
	o.Mark = markOf(confidence)
	return o
}

// cell turns the answer of a plain function into a look-up for a sheet.
func (o origin) cell(q quantity.Quantity, err error) working.Lookup {
	return func() (quantity.Quantity, working.Source, error) { return q, working.Source(o), err }
}

// Marks of a figure that was not read in print as a whole.
const (
	fromMemory = "from memory"
	seenInPart = "seen in part"
)

// markOf shortens a row's word of confidence to a mark.
func markOf(confidence string) string {
	switch {
	case strings.HasPrefix(confidence, "memory"), confidence == "M":
		return fromMemory
	case strings.Contains(confidence, "in part"):
		return seenInPart
	}
	return ""
}

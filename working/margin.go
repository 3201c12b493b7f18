package working

import (
	"math"
	"strings"

	"legwork/quantity"
)

// Holds reports whether the comparison is met; false while a side is unknown.
func (t Test) Holds() bool {
	if t.Op == "is" {
		return t.Left.known && t.Left.text == t.Right.text
	}
	return t.Margin >= 0
}

// opposite is what holds when the comparison does not.
var opposite = map[string]string{"≤": ">", "≥": "<", "is": "is not"}

// Relation is the operator that is true of the two sides, so that nobody reads
// "256 A ≤ 240 A": ≤ when the test holds or is open, > when it fails.
func (t Test) Relation() string {
	if t.Holds() || !t.Left.known || !t.Right.known {
		return t.Op
	}
	return opposite[t.Op]
}

// Spare words the margin, for every face alike: "4.32 A to spare", "16.4 A too
// much", "2 V too little", "0.05 A to spare, a hair". It is empty for a
// comparison of words.
func (t Test) Spare() string {
	unit := t.Right.unit
	least := math.Pow10(-unit.Places())
	size := math.Abs(t.Margin)
	figure := unit.Figure(size)
	if size != 0 && quantity.Compare(size, least) < 0 {
		figure = "less than " + unit.Figure(least)
	}
	switch {
	case t.Op == "is":
		return ""
	case math.IsNaN(t.Margin):
		return "not known yet"
	case t.Margin == 0:
		return "nothing to spare, exactly at the limit"
	case t.Margin < 0 && t.Op == "≥":
		return figure + " too little"
	case t.Margin < 0:
		return figure + " too much"
	case t.Hair:
		return figure + " to spare, a hair"
	}
	return figure + " to spare"
}

// String prints the comparison on one line: "224.85 A ≤ 240 A  15.15 A to spare".
func (t Test) String() string {
	if t.Op == "is" {
		if t.Holds() || !t.Left.known {
			return t.Left.String()
		}
		return t.Left.String() + "; must be " + t.Right.String()
	}
	return strings.TrimSpace(t.Left.String() + " " + t.Relation() + " " + t.Right.String() + "  " + t.Spare())
}

// Margin words the margin of the finding's test; empty without one.
func (f Finding) Margin() string {
	if f.Test == nil {
		return ""
	}
	return f.Test.Spare()
}

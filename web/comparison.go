package web

import "legwork/working"

// Comparison is a finding's test in the order of value, limit, what is to
// spare.
type Comparison struct{ Value, Limit, Spare string }

func compare(f working.Finding) Comparison {
	t := f.Test
	switch {
	case t == nil:
		return Comparison{}
	case t.Op == "is" && t.Holds():
		return Comparison{Value: t.Left.String()}
	case t.Op == "is":
		return Comparison{Value: t.Left.String(), Limit: "must be " + t.Right.String()}
	}
	return Comparison{t.Left.String(), t.Relation() + " " + t.Right.String(), Spare(f)}
}

// Spare words a finding's margin for a row of a table, where "nothing to spare,
// exactly at the limit" is too long.
func Spare(f working.Finding) string {
	if f.Test != nil && f.Test.Margin == 0 {
		return "at the limit"
	}
	return f.Margin()
}

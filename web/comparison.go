package web

import "legwork/working"

// Comparison is a finding's test in the order of value, limit, what is to
// spare.
type Comparison struct {
	Value, Limit, Spare string
	Hair                bool
}

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
	return Comparison{t.Left.String(), t.Relation() + " " + t.Right.String(), t.Spare(), t.Hair && t.Holds()}
}

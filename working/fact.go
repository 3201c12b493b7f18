package working

import (
	"fmt"

	"legwork/quantity"
)

// Fact is one stated value of the plant with its origin. When Known is false,
// Ask says what to fetch.
type Fact[T any] struct {
	Value T
	Known bool
	Means string // "rating on the label inside the panel door"
	From  Origin
	Ask   Missing
}

// Or returns the value, or other when it is unknown. For drawings and lists
// only: a rule takes the fact itself.
func (f Fact[T]) Or(other T) T {
	if f.Known {
		return f.Value
	}
	return other
}

// String prints the value as people read it, "?" when unknown.
func (f Fact[T]) String() string {
	return f.Term().String()
}

// Stater is anything that can enter a sheet: a Fact of any type, or a Term.
type Stater interface{ Term() Term }

// Term turns the fact into a term. A value that is no quantity becomes a term
// of text: it can be shown, looked up by and compared for equality.
func (f Fact[T]) Term() Term {
	t := Term{means: f.Means, known: f.Known, from: f.From, prec: atom}
	if !f.Known {
		t.missing = []Missing{f.Ask}
		if q, ok := any(f.Value).(quantity.Quantity); ok {
			t.unit = q.Unit()
		}
		return t
	}
	switch v := any(f.Value).(type) {
	case quantity.Quantity:
		t.value, t.unit = v.Float(), v.Unit()
	case bool:
		t.text = "no"
		if v {
			t.text, t.value = "yes", 1
		}
	default:
		t.text = fmt.Sprint(v)
	}
	return t
}

// State is a known fact made in passing: a count of the plan, say.
func State[T any](v T, means string, from Origin) Fact[T] {
	return Fact[T]{Value: v, Known: true, Means: means, From: from}
}

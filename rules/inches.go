package rules

import (
	"legwork/quantity"
	"legwork/working"
)

// inches is a short length as the trade reads it off a tape: heights above a roof,
// diameters, growth.
type inches float64

// Float is the length in inches.
func (i inches) Float() float64 { return float64(i) }

// Unit is the inch.
func (inches) Unit() quantity.Unit { return "in" }

func inInches(f working.Fact[quantity.Feet]) working.Fact[inches] {
	return working.Fact[inches]{Value: inches(f.Value * 12), Known: f.Known, Means: f.Means, From: f.From, Ask: f.Ask}
}

// cellInInches is a look-up of a length, in inches.
func cellInInches(look working.Lookup) working.Lookup {
	return func() (quantity.Quantity, working.Source, error) {
		q, source, err := look()
		if err != nil {
			return inches(0), source, err
		}
		return inches(q.Float() * 12), source, nil
	}
}

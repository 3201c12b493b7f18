package meter

import (
	"math"
	"strconv"
	"strings"

	"legwork/quantity"
	"legwork/where"
)

// Vars is reactive power; positive for an inductive load while importing.
type Vars float64

// Float is the value in var.
func (v Vars) Float() float64 { return float64(v) }

// Unit is "var".
func (Vars) Unit() quantity.Unit { return "var" }

// Measured is a figure of a kind that a channel reads.
type Measured interface {
	quantity.Quantity
	~float64
}

// Value is one figure of a channel as the meter gave it. The zero Value is
// unknown: not shown, not implemented, not typed.
type Value[T Measured] struct {
	Value T
	Known bool
	// Resolution is the step of the last digit, zero when the meter gives more
	// digits than matter. The truth lies within half a step.
	Resolution T
	// Raw is what stood on the display, in the file or in the registers, to the
	// letter: "0.997", "40088: 0x0172, W_SF -1". Interpreting never alters it.
	Raw string
}

// ParseValue reads a figure as typed or from a file, in the unit of its column.
// The last digit given is its resolution: "436" is good to 1, "0.81" to 0.01.
// Empty text is an unknown value. An error is a where.Error without a place.
func ParseValue[T Measured](text string) (Value[T], error) {
	raw := text
	text = strings.TrimSpace(text)
	if text == "" {
		return Value[T]{Raw: raw}, nil
	}
	f, err := strconv.ParseFloat(text, 64)
	if err != nil || strings.Trim(text, "+-.0123456789") != "" {
		var zero T
		unit := string(zero.Unit())
		if unit == "" {
			unit = "no unit"
		}
		return Value[T]{}, where.Error{Came: strconv.Quote(raw),
			Expected: "a plain number in the column's unit (" + unit + "), with a point for decimals"}
	}
	_, decimals, _ := strings.Cut(text, ".")
	return Value[T]{Value: T(f), Known: true, Raw: raw,
		Resolution: T(math.Pow10(-len(decimals)))}, nil
}

// around gives the least and greatest size that the value may have.
func (v Value[T]) around() (low, high float64) {
	size, half := math.Abs(float64(v.Value)), math.Abs(float64(v.Resolution))/2
	return math.Max(0, size-half), size + half
}

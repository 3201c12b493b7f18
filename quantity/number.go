package quantity

import (
	"cmp"
	"math"
	"strconv"
	"strings"
)

// snapDigits is how many significant digits two values must share to be equal.
const snapDigits = 12

// Snap rounds v to 12 significant digits, half away from zero. It removes the
// dust of binary fractions before anything is compared or printed.
func Snap(v float64) float64 {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return v
	}
	// The shortest decimal of v, not its binary fraction, is what is rounded:
	// that is the number a person sees, and a 5 there is a half.
	mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(math.Abs(v), 'e', -1, 64), "e")
	digits := strings.Replace(mantissa, ".", "", 1)
	if len(digits) <= snapDigits {
		return v
	}
	exp, err := strconv.Atoi(exponent)
	if err != nil {
		panic("quantity: exponent " + exponent)
	}
	kept := roundDigits([]byte(digits), snapDigits)
	// The digits now read as a whole number, so the point moved right by 11.
	s, err := strconv.ParseFloat(string(kept)+"e"+strconv.Itoa(exp-snapDigits+1), 64)
	if err != nil { // cannot be: the largest float64 rounds down
		panic("quantity: " + err.Error())
	}
	return math.Copysign(s, v)
}

// roundDigits keeps the first n of more than n decimal digits, half up. The
// answer has n digits, or n+1 when the first one carried.
func roundDigits(digits []byte, n int) []byte {
	up := digits[n] >= '5'
	digits = digits[:n]
	for i := n - 1; up && i >= 0; i-- {
		if digits[i] != '9' {
			digits[i]++
			return digits
		}
		digits[i] = '0'
	}
	if up {
		return append([]byte{'1'}, digits...)
	}
	return digits
}

// sameWithin is the relative difference below which two values are the same:
// half a digit in the twelfth place.
const sameWithin = 5e-13

// Compare orders a and b: -1, 0 or 1. Values that agree in 12 significant
// digits are equal, also where their last digits fall to either side of a
// rounding. NaN comes before every number.
func Compare(a, b float64) int {
	scale := math.Max(math.Abs(a), math.Abs(b))
	if math.Abs(a-b) <= scale*sameWithin && !math.IsInf(scale, 0) || Snap(a) == Snap(b) {
		return 0
	}
	return cmp.Compare(a, b)
}

// Round rounds to n decimal places, half away from zero, after snapping. It
// works on the decimal digits, so that 37.575 becomes 37.58.
func Round(v float64, n int) float64 {
	f, err := strconv.ParseFloat(Fixed(v, n), 64)
	if err != nil {
		return v
	}
	return f
}

// Fixed prints v with exactly n ≥ 0 decimal places, half away from zero, after
// snapping. A value that rounds to zero prints without a sign.
func Fixed(v float64, n int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	dec := strconv.FormatFloat(math.Abs(Snap(v)), 'f', -1, 64)
	whole, frac, _ := strings.Cut(dec, ".")
	digits := []byte(whole + frac)
	point := len(whole)
	keep := point + n
	if keep < len(digits) {
		digits = roundDigits(digits, keep)
		point += len(digits) - keep
	}
	for len(digits) < point+n {
		digits = append(digits, '0')
	}
	s := string(digits[:point])
	if n > 0 {
		s += "." + string(digits[point:])
	}
	if v < 0 && strings.Trim(s, "0.") != "" {
		s = "-" + s
	}
	return s
}

// Trim prints v with at most n decimal places and no trailing zeros.
func Trim(v float64, n int) string {
	s := Fixed(v, n)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

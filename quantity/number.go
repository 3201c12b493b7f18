package quantity

import (
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
	s, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', snapDigits-1, 64), 64)
	if err != nil {
		return v
	}
	return s
}

// Compare orders a and b after snapping: -1, 0 or 1.
func Compare(a, b float64) int {
	sa, sb := Snap(a), Snap(b)
	// The difference of two nearly equal values keeps no 12 digits of its own,
	// so equality is judged at the scale of the larger one.
	scale := math.Max(math.Abs(sa), math.Abs(sb))
	if math.Abs(sa-sb) <= scale*5e-13 {
		return 0
	}
	if sa < sb {
		return -1
	}
	return 1
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

// Fixed prints v with exactly n decimal places, half away from zero, after
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
		up := digits[keep] >= '5'
		digits = digits[:keep]
		for i := keep - 1; up && i >= 0; i-- {
			if digits[i] == '9' {
				digits[i] = '0'
				continue
			}
			digits[i]++
			up = false
		}
		if up {
			digits = append([]byte{'1'}, digits...)
			point++
		}
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

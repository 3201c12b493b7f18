package quantity

import (
	"math"
	"math/big"
	"strconv"
)

// Print writes v so that reading it back gives v again, bit for bit, in the
// shortest decimal that does: "180 ft", "54.864 m", "94 F". It uses spellings
// that a keyboard has. For figures on a sheet see Show.
func Print(v Quantity, s System) string {
	return dimensions[v.Unit()].print(v.Float(), s)
}

// maxDecimals bounds the search for digits; an accepted value needs fewer: a
// Celsius value of 1e-9 has its last bit 26 places after the point.
const maxDecimals = 40

func (d dimension) print(v float64, s System) string {
	u := d.in(v, s)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return d.plain(v)
	}
	n := u.of(new(big.Rat).SetFloat64(v))
	for places := range maxDecimals {
		digits := n.FloatString(places)
		back, _ := u.base(rat(digits)).Float64()
		if back == v {
			return join(digits, u.name())
		}
	}
	// Outside the accepted range: a result, which nobody reads back.
	return d.plain(v)
}

// plain prints v in the base unit with all its digits.
func (d dimension) plain(v float64) string {
	return join(strconv.FormatFloat(v, 'f', -1, 64), string(d.base().shown))
}

// base is the unit that values are kept in.
func (d dimension) base() unit {
	for _, u := range d.units {
		if u.scale == one && u.shift == 0 {
			return u
		}
	}
	panic("quantity: no base unit for " + d.noun)
}

// text prints v in its home system for MarshalText, and refuses what parse
// would refuse.
func text(v Quantity) ([]byte, error) {
	d := dimensions[v.Unit()]
	s := d.print(v.Float(), d.home)
	if _, err := parse(s, v.Unit()); err != nil {
		return nil, err
	}
	return []byte(s), nil
}

// Show prints v as people read it on a sheet: in the unit usual for its size,
// with the decimals usual for that unit, 7/8 in for inches that are whole
// sixteenths.
func Show(v Quantity, s System) string {
	return dimensions[v.Unit()].show(v.Float(), s)
}

func (d dimension) show(v float64, s System) string {
	u := d.in(v, s)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return d.plain(v)
	}
	n, _ := u.of(new(big.Rat).SetFloat64(v)).Float64()
	if u.fractions {
		if f, ok := sixteenths(n); ok {
			return join(f, string(u.shown))
		}
	}
	return u.shown.Figure(n)
}

// Figure prints n of u with the decimals usual for it: "24.32 A", "22°". Amps
// from a thousand on are fault currents and are said in kA, as on labels.
func (u Unit) Figure(n float64) string {
	if u == "A" && Compare(abs(n), 1000) >= 0 {
		return Unit("kA").Figure(n / 1000)
	}
	return join(Trim(n, u.Places()), string(u))
}

// join sets the unit after its number; the degree sign of an angle touches it.
func join(number, unit string) string {
	switch unit {
	case "":
		return number
	case "°":
		return number + unit
	}
	return number + " " + unit
}

// sixteenths prints a positive number of whole sixteenths: "7/8", "1 1/2".
func sixteenths(n float64) (string, bool) {
	k := math.Round(n * 16)
	if k < 1 || k > 16*12 || Compare(k/16, n) != 0 {
		return "", false
	}
	whole, part := int64(k)/16, big.NewRat(int64(k)%16, 16)
	switch {
	case part.Sign() == 0:
		return strconv.FormatInt(whole, 10), true
	case whole == 0:
		return part.RatString(), true
	}
	return strconv.FormatInt(whole, 10) + " " + part.RatString(), true
}

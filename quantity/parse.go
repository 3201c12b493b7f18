package quantity

import (
	"fmt"
	"math"
	"math/big"
	"regexp"
	"strconv"
	"strings"

	"legwork/where"
)

// The range of accepted values in base units, zero apart. It keeps slips of
// the keyboard out and bounds the digits that Print may need.
const (
	largest  = 1e9
	smallest = 1e-9
	longest  = 100 // bytes of text
)

// read parses text into v, which stays as it was when there is a fault.
func read[T interface {
	~float64
	Quantity
}](v *T, text []byte) error {
	f, err := parse(string(text), (*v).Unit())
	if err != nil {
		return err
	}
	*v = T(f)
	return nil
}

// parse reads text as a value of the dimension with the given base unit: the
// float64 nearest to what was written, with no rounding on the way.
func parse(text string, base Unit) (float64, error) {
	d := dimensions[base]
	came := strings.TrimSpace(text)
	fault := where.Error{Came: strconv.Quote(came), Expected: d.wanted()}
	switch {
	case came == "":
		fault.Came = "nothing stands here"
		return 0, fault
	case len(came) > longest:
		fault.Came = fmt.Sprintf("%d characters of text", len(came))
		return 0, fault
	case thousands.MatchString(came):
		return 0, where.Error{Came: fault.Came + " has a comma", Try: "write " + strings.ReplaceAll(came, ",", "")}
	}
	exact, err := d.exact(strings.Replace(came, "−", "-", 1), fault)
	if err != nil {
		return 0, err
	}
	v, _ := exact.Float64()
	return v, d.within(v, fault)
}

var thousands = regexp.MustCompile(`\d,\d{3}\b`)

// exact reads signed text as base units.
func (d dimension) exact(text string, fault where.Error) (*big.Rat, error) {
	size, negative := strings.CutPrefix(text, "-")
	if rise, ok := strings.CutSuffix(size, "/12"); ok && d.pitch {
		if n, rest := number(rise); n != nil && rest == "" {
			return slope(n, negative), nil
		}
	}
	n, rest := number(size)
	if n == nil {
		return nil, fault
	}
	fraction := strings.Contains(size[:len(size)-len(rest)], "/")
	name := strings.TrimSpace(rest)
	if d.feetInch && !fraction {
		if inches, ok := d.inchesAfterFeet(name); ok {
			return d.feetAndInches(n, inches, negative, fault)
		}
	}
	if negative {
		n.Neg(n)
	}
	u, ok := d.named(name)
	switch {
	case !ok && name == "":
		return nil, where.Error{Came: fault.Came + " has no unit", Try: d.suggest(text, n, fraction)}
	case !ok || fraction && !u.fractions:
		return nil, fault
	}
	return u.base(n), nil
}

// base is n of u in base units.
func (u unit) base(n *big.Rat) *big.Rat {
	v := new(big.Rat).Add(n, new(big.Rat).SetInt64(u.shift))
	return v.Mul(v, u.scale)
}

// of is a base value in u, the inverse of base.
func (u unit) of(base *big.Rat) *big.Rat {
	n := new(big.Rat).Quo(base, u.scale)
	return n.Sub(n, new(big.Rat).SetInt64(u.shift))
}

var (
	decimal = regexp.MustCompile(`^(?:\d+(?:\.\d+)?|\.\d+)`)
	mixed   = regexp.MustCompile(`^(?:(\d+)[ -])?(\d+)/(\d+)`)
)

// number cuts a number off the front of s: 12, 0.5, .5, 7/8, 1 1/2 or 1-1/2.
// It is nil when there is none.
func number(s string) (n *big.Rat, rest string) {
	if m := mixed.FindStringSubmatch(s); m != nil {
		n, ok := new(big.Rat).SetString(m[2] + "/" + m[3])
		if !ok { // divided by zero
			return nil, s
		}
		if m[1] != "" {
			n.Add(n, rat(m[1]))
		}
		return n, s[len(m[0]):]
	}
	m := decimal.FindString(s)
	if m == "" {
		return nil, s
	}
	return rat(m), s[len(m):]
}

// inchesAfterFeet cuts the feet's unit off "ft 6 in", "'-6\"" and the like.
func (d dimension) inchesAfterFeet(s string) (inches string, ok bool) {
	end := strings.IndexAny(s, " -.0123456789")
	if end < 0 {
		return "", false
	}
	if u, ok := d.named(s[:end]); !ok || u.shown != "ft" {
		return "", false
	}
	return strings.TrimSpace(strings.TrimPrefix(s[end:], "-")), true
}

// feetAndInches reads whole feet followed by inches, whose unit may be left out.
func (d dimension) feetAndInches(feet *big.Rat, inches string, negative bool, fault where.Error) (*big.Rat, error) {
	fault.Expected = "whole feet and less than 12 inches, such as 12 ft 6 in"
	n, rest := number(inches)
	if n == nil || !feet.IsInt() || n.Cmp(rat("12")) >= 0 {
		return nil, fault
	}
	if name := strings.TrimSpace(rest); name != "" {
		if u, ok := d.named(name); !ok || u.shown != "in" {
			return nil, fault
		}
	}
	v := n.Mul(n, perInch)
	v.Add(v, feet)
	if negative {
		v.Neg(v)
	}
	return v, nil
}

// slope is the angle of a roof that rises so many inches in 12.
func slope(rise *big.Rat, negative bool) *big.Rat {
	r, _ := rise.Float64()
	angle := new(big.Rat)
	angle.SetFloat64(math.Atan(r/12) * 180 / math.Pi)
	if negative {
		angle.Neg(angle)
	}
	return angle
}

// suggest words a bare number with the units it may have meant: "write 180 ft
// or 55 m", the metric figure to two digits.
func (d dimension) suggest(text string, n *big.Rat, fraction bool) string {
	var us, si unit
	for _, u := range d.units {
		if fraction && u.fractions {
			return "write " + text + " " + u.name()
		}
		if u.us && (us.scale == nil || u.scale == one) {
			us = u
		}
		if u.si {
			si = u
		}
	}
	try := "write " + text + " " + us.name()
	if us.si {
		return try
	}
	m, _ := si.of(us.base(n)).Float64()
	two, _ := strconv.ParseFloat(strconv.FormatFloat(m, 'e', 1, 64), 64)
	return try + " or " + Trim(two, 6) + " " + si.name()
}

// within refuses what no thing of the trade can measure.
func (d dimension) within(v float64, fault where.Error) error {
	most := d.most
	if most == 0 {
		most = largest
	}
	switch {
	case v < d.least:
		fault.Expected = d.noun + " of " + d.plain(d.least) + " or more"
		if d.least == 0 {
			fault.Came += " is negative"
		}
	case v > most:
		fault.Expected = d.noun + " of " + d.plain(most) + " or less"
	case v != 0 && math.Abs(v) < smallest:
		fault.Came += " is too small to be meant"
	default:
		return nil
	}
	return fault
}

package field

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
)

// Canonical rewrites a JSON text in canonical form: no space, names sorted by
// their UTF-16 units, numbers as ECMAScript prints a double, the shortest
// escapes. Two texts of one meaning become the same bytes, fit for hashing.
// file names the source in errors. An error is a where.Error.
//
// Source: RFC 8785, sections 3.2.2 to 3.2.4.
func Canonical(src []byte, file string) ([]byte, error) {
	v, err := parseJSON(src, file)
	if err != nil {
		return nil, err
	}
	return v.canonical(nil), nil
}

func (v value) canonical(b []byte) []byte {
	switch v.kind {
	case '{':
		members := slices.Clone(v.members)
		slices.SortFunc(members, func(a, b member) int {
			return slices.Compare(utf16.Encode([]rune(a.name)), utf16.Encode([]rune(b.name)))
		})
		b = append(b, '{')
		for i, m := range members {
			if i > 0 {
				b = append(b, ',')
			}
			b = append(canonicalString(b, m.name), ':')
			b = m.canonical(b)
		}
		return append(b, '}')
	case '[':
		b = append(b, '[')
		for i, item := range v.items {
			if i > 0 {
				b = append(b, ',')
			}
			b = item.canonical(b)
		}
		return append(b, ']')
	case '"':
		return canonicalString(b, v.text)
	case '0':
		return canonicalNumber(b, v.num)
	}
	return append(b, v.text...)
}

// canonicalString escapes the quote, the backslash and control characters, the
// five with a short form by it. Source: RFC 8785, section 3.2.2.2.
func canonicalString(b []byte, s string) []byte {
	b = append(b, '"')
	for i := range len(s) {
		c := s[i]
		if k := strings.IndexByte("\"\\\b\f\n\r\t", c); k >= 0 {
			b = append(b, '\\', `"\bfnrt`[k])
		} else if c < 0x20 {
			b = fmt.Appendf(b, `\u%04x`, c)
		} else {
			b = append(b, c)
		}
	}
	return append(b, '"')
}

// canonicalNumber prints the shortest digits that read back as f, with an
// exponent from 1e21 upward and below 1e-6.
//
// Source: RFC 8785, section 3.2.2.3, and ECMA-262, Number::toString.
func canonicalNumber(b []byte, f float64) []byte {
	if f == 0 {
		return append(b, '0') // minus zero too
	}
	if abs := math.Abs(f); abs >= 1e-6 && abs < 1e21 {
		return strconv.AppendFloat(b, f, 'f', -1, 64)
	}
	mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(f, 'e', -1, 64), "e")
	// Go writes at least two digits of exponent, ECMAScript as few as there are.
	return append(append(append(b, mantissa...), 'e', exponent[0]), strings.TrimLeft(exponent[1:], "0")...)
}

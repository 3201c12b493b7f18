package quantity

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"legwork/where"
)

// sizeAreas are the areas of the standard sizes in mm², as the trade prints
// them beside AWG and kcmil.
//
// Source: NFPA 70 chapter 9 table 8, column mm² (from memory); AWG as the
// formula of ASTM B258 gives it, kcmil × 0.5067, both within half a percent.
var sizeAreas = [...]string{"", "0.823", "1.31", "2.08", "3.31", "5.261", "8.367", "13.3", "21.15", "26.67",
	"33.62", "42.41", "53.49", "67.43", "85.01", "107.2", "127", "152", "177", "203", "253"}

// Print writes a size so that reading gives it back: "10 AWG", "250 kcmil", in
// SI "5.261 mm2".
func (s Size) Print(sys System) string {
	if sys == SI && s.Key() != "" {
		return sizeAreas[s] + " mm2"
	}
	return s.String()
}

// MarshalText prints "10 AWG"; no size is the empty text.
func (s Size) MarshalText() ([]byte, error) {
	if s.Key() == "" {
		return nil, nil
	}
	return []byte(s.String()), nil
}

var (
	sizeAWG   = regexp.MustCompile(`^(?:#\s?(\S+)|(\S+)\s?AWG|AWG\s?(\S+))$`)
	sizeKCMil = regexp.MustCompile(`^(\S+?)\s?(?:kcmil|MCM)$`)
	sizeArea  = regexp.MustCompile(`^(\S+?)\s?(?:mm2|mm²)$`)
)

// UnmarshalText reads a standard conductor size: 10 AWG, #10, 1/0 AWG, #1/0,
// 250 kcmil, or in mm² where that is a standard size's own area. There is no
// nearest size: what is not standard is refused.
func (s *Size) UnmarshalText(b []byte) error {
	came := strings.TrimSpace(string(b))
	fault := where.Error{Came: strconv.Quote(came), Expected: "a conductor size such as 10 AWG, 1/0 AWG or 250 kcmil"}
	if m := sizeAWG.FindStringSubmatch(came); m != nil {
		fault.Expected = "a size from 18 AWG to 4/0 AWG: " + either(sizeNames[AWG18:KCMil250])
		return s.pick(m[1]+m[2]+m[3], AWG18, sizeNames[AWG18:KCMil250], fault)
	}
	if m := sizeKCMil.FindStringSubmatch(came); m != nil {
		fault.Expected = "a size of " + either(sizeNames[KCMil250:]) + " kcmil"
		return s.pick(m[1], KCMil250, sizeNames[KCMil250:], fault)
	}
	if m := sizeArea.FindStringSubmatch(came); m != nil {
		fault.Expected = "the area of a standard size: " + either(sizeAreas[AWG18:]) + " mm²"
		area := m[1]
		if strings.Contains(area, ".") {
			area = strings.TrimRight(strings.TrimRight(area, "0"), ".")
		}
		return s.pick(area, AWG18, sizeAreas[AWG18:], fault)
	}
	var bare Size
	if bare.pick(came, AWG18, sizeNames[AWG18:], fault) == nil {
		return where.Error{Came: fault.Came + " has no unit", Try: "write " + bare.String()}
	}
	return fault
}

// pick sets s to the size called name, where names are those of the sizes from
// first on.
func (s *Size) pick(name string, first Size, names []string, fault where.Error) error {
	i := slices.Index(names, name)
	if i < 0 {
		return fault
	}
	*s = first + Size(i)
	return nil
}

// metricPrefix stands before a metric designator, which is a name and no
// measure: nothing about designator 21 is 21 mm.
const metricPrefix = "metric designator "

// Print writes a trade size so that reading gives it back: "3/4 in", in SI
// "metric designator 21".
func (t TradeSize) Print(sys System) string {
	if sys == SI && t.Key() != "" {
		return metricPrefix + strconv.Itoa(t.MetricDesignator())
	}
	return t.String()
}

// MarshalText prints "3/4 in"; no trade size is the empty text.
func (t TradeSize) MarshalText() ([]byte, error) {
	if t.Key() == "" {
		return nil, nil
	}
	return []byte(t.String()), nil
}

var tradeSize = regexp.MustCompile(`^(\d(?:[ -]\d/\d)?|\d/\d)\s?(in|inch|"|″|”)?$`)

// UnmarshalText reads a raceway trade size: 3/4 in, 1-1/4 in, 1 1/4 in, or
// metric designator 21.
func (t *TradeSize) UnmarshalText(b []byte) error {
	came := strings.TrimSpace(string(b))
	fault := where.Error{Came: strconv.Quote(came), Expected: "a trade size of " + either(tradeNames[Trade1_2:]) + " in"}
	designator, metric := strings.CutPrefix(came, metricPrefix)
	m := tradeSize.FindStringSubmatch(came)
	for size := Trade1_2; size <= Trade2; size++ {
		switch {
		case metric && designator == strconv.Itoa(size.MetricDesignator()):
		case m == nil || strings.Replace(m[1], " ", "-", 1) != size.Key():
			continue
		case m[2] == "":
			return where.Error{Came: fault.Came + " has no unit", Try: "write " + size.String()}
		}
		*t = size
		return nil
	}
	return fault
}

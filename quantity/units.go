package quantity

import (
	"math/big"
	"strings"
)

// System is the system of units that a page speaks.
type System int

// The two systems.
const (
	US System = iota
	SI
)

// String prints "US" or "SI".
func (s System) String() string {
	if s == SI {
		return "SI"
	}
	return "US"
}

// unit is one way to write a dimension. A value of n units is (n + shift) ×
// scale in the base unit, exactly.
type unit struct {
	names     string // accepted spellings, parted by "|"; the first is the one Print writes
	shown     Unit   // as people read it on a sheet
	scale     *big.Rat
	shift     int64
	places    int     // decimals when shown
	us, si    bool    // used for printing in this system
	from      float64 // printing in this unit starts at this many base units
	fractions bool    // 7/8 and 1 1/2 are said in this unit
}

// dimension is the set of units of one type.
type dimension struct {
	noun     string  // "a length": what an error says was expected
	home     System  // the system that the base unit belongs to
	least    float64 // of an accepted value; zero where below zero is senseless
	most     float64 // zero stands for largest
	feetInch bool    // 12 ft 6 in
	pitch    bool    // 6/12
	units    []unit
}

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("quantity: no number: " + s)
	}
	return r
}

func product(factors ...string) *big.Rat {
	r := big.NewRat(1, 1)
	for _, f := range factors {
		r.Mul(r, rat(f))
	}
	return r
}

var (
	one     = rat("1")
	milli   = rat("1/1000")
	kilo    = rat("1000")
	meter   = rat("1250/381") // feet in a meter: 1 ft is 0.3048 m exactly
	perInch = rat("1/12")
	square  = new(big.Rat).Mul(meter, meter)

	// newtonMeter is a newton meter in inch-pounds: a pound-force is
	// 0.45359237 kg at 9.80665 m/s², an inch 0.0254 m, all exact by definition.
	newtonMeter = new(big.Rat).Inv(product("0.45359237", "9.80665", "0.0254"))
)

// dimensions holds every unit, by the base unit of the type.
//
// Source: international foot, inch and pound exact by definition (1959);
// standard gravity 9.80665 m/s² (3rd CGPM, 1901), as in NIST SP 811 appendix B.
var dimensions = map[Unit]dimension{
	"A": {noun: "a current", units: []unit{
		{names: "A|amp|amps", shown: "A", scale: one, places: 2, us: true, si: true},
		{names: "kA", shown: "kA", scale: kilo, places: 2, us: true, si: true, from: 1000},
	}},
	"V": {noun: "a voltage", units: []unit{
		{names: "V|volt|volts", shown: "V", scale: one, places: 2, us: true, si: true},
		{names: "kV", shown: "kV", scale: kilo, places: 2},
	}},
	"VA": {noun: "an apparent power", units: []unit{
		{names: "VA", shown: "VA", scale: one, us: true, si: true},
		{names: "kVA", shown: "kVA", scale: kilo, places: 2},
	}},
	"W": {noun: "a power", units: []unit{
		{names: "W|watt|watts", shown: "W", scale: one, us: true, si: true},
		{names: "kW", shown: "kW", scale: kilo, places: 2},
	}},
	"Ω": {noun: "a resistance", units: []unit{
		{names: "ohm|ohms|Ω|\u2126", shown: "Ω", scale: one, places: 4, us: true, si: true},
	}},
	"Ω/kft": {noun: "a resistance per length", units: []unit{
		{names: "ohm/kft|Ω/kft|\u2126/kft", shown: "Ω/kft", scale: one, places: 4, us: true},
		{names: "ohm/km|Ω/km|\u2126/km", shown: "Ω/km", scale: rat("0.3048"), places: 4, si: true},
	}},
	"ft": {noun: "a length", feetInch: true, units: []unit{
		{names: "in|inch|inches|\"|″|”", shown: "in", scale: perInch, places: 2, us: true, fractions: true},
		{names: "ft|foot|feet|'|′|’", shown: "ft", scale: one, places: 2, us: true, from: 1},
		{names: "mm", shown: "mm", scale: new(big.Rat).Mul(meter, milli), places: 1, si: true},
		{names: "cm", shown: "cm", scale: new(big.Rat).Mul(meter, rat("1/100")), places: 1},
		{names: "m", shown: "m", scale: meter, places: 2, si: true, from: 1250.0 / 381},
	}},
	"in²": {noun: "an area", units: []unit{
		{names: "in2|in²|sq in", shown: "in²", scale: one, places: 4, us: true},
		{names: "mm2|mm²", shown: "mm²", scale: rat("100/64516"), places: 2, si: true},
	}},
	"in³": {noun: "a volume", units: []unit{
		{names: "in3|in³|cu in", shown: "in³", scale: one, places: 2, us: true},
		{names: "cm3|cm³", shown: "cm³", scale: rat("1000000/16387064"), places: 1, si: true},
	}},
	"ft²": {noun: "an area", units: []unit{
		{names: "ft2|ft²|sq ft", shown: "ft²", scale: one, places: 2, us: true},
		{names: "m2|m²", shown: "m²", scale: square, places: 2, si: true},
	}},
	// A circular mil is π/4 of a square mil: it has no exact metric value.
	"cmil": {noun: "a conductor area", units: []unit{
		{names: "cmil", shown: "cmil", scale: one, us: true, si: true},
		{names: "kcmil|MCM", shown: "kcmil", scale: kilo, places: 1},
	}},
	"°C": {noun: "a temperature", home: SI, least: -273.15, units: []unit{
		{names: "F|°F", shown: "°F", scale: rat("5/9"), shift: -32, places: 1, us: true},
		{names: "C|°C", shown: "°C", scale: one, places: 1, si: true},
	}},
	"°": {noun: "an angle", least: -360, most: 360, pitch: true, units: []unit{
		{names: "deg|°|degree|degrees", shown: "°", scale: one, places: 1, us: true, si: true},
	}},
	"in-lb": {noun: "a torque", units: []unit{
		{names: "in-lb|in lb|lb-in|in-lbs|in·lb", shown: "in-lb", scale: one, places: 1, us: true},
		{names: "ft-lb|ft lb|lb-ft|ft-lbs|ft·lb", shown: "ft-lb", scale: rat("12"), places: 1},
		{names: "N·m|Nm|N m|N-m|N⋅m", shown: "N·m", scale: newtonMeter, places: 2, si: true},
	}},
	"s": {noun: "a time", units: []unit{
		{names: "s|sec", shown: "s", scale: one, places: 1, us: true, si: true},
		{names: "min", shown: "min", scale: rat("60"), places: 1},
		{names: "h", shown: "h", scale: rat("3600"), places: 2},
	}},
	// Temperature coefficients are percentages below zero.
	"%": {noun: "a percentage", least: -largest, units: []unit{
		{names: "%|percent", shown: "%", scale: one, places: 2, us: true, si: true},
	}},
	"": {noun: "a plain number", units: []unit{
		{names: "", shown: "", scale: one, places: 4, us: true, si: true},
	}},
}

// Places is how many decimals a figure in u is shown with.
func (u Unit) Places() int { return places[u] }

var places = func() map[Unit]int {
	m := map[Unit]int{}
	for _, d := range dimensions {
		for _, u := range d.units {
			m[u.shown] = u.places
		}
	}
	return m
}()

// accepts reports whether name is a spelling of u.
func (u unit) accepts(name string) bool {
	for n := range strings.SplitSeq(u.names, "|") {
		if n == name {
			return true
		}
	}
	return false
}

// name is the spelling that Print writes.
func (u unit) name() string {
	n, _, _ := strings.Cut(u.names, "|")
	return n
}

// named finds the unit that a person wrote.
func (d dimension) named(name string) (unit, bool) {
	for _, u := range d.units {
		if u.accepts(name) {
			return u, true
		}
	}
	return unit{}, false
}

// wanted says what should have stood there: "a length in ft, in, mm, cm or m".
func (d dimension) wanted() string {
	var names []string
	for _, u := range d.units {
		if u.name() != "" {
			names = append(names, u.name())
		}
	}
	if len(names) == 0 {
		return d.noun
	}
	return d.noun + " in " + either(names)
}

// either lists choices: "ft, in or m".
func either(choices []string) string {
	last := len(choices) - 1
	if last == 0 {
		return choices[0]
	}
	return strings.Join(choices[:last], ", ") + " or " + choices[last]
}

// in picks the unit to print v in: the last one of the system that has begun.
func (d dimension) in(v float64, s System) unit {
	var pick unit
	for _, u := range d.units {
		if (s == US && u.us || s == SI && u.si) && (pick.scale == nil || abs(v) >= u.from) {
			pick = u
		}
	}
	return pick
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}

package quantity_test

import (
	"encoding"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"legwork/quantity"
	"legwork/where"

	"pgregory.net/rapid"
)

// readAs reads text as the type of like.
func readAs(like quantity.Quantity, text string) (quantity.Quantity, error) {
	p := reflect.New(reflect.TypeOf(like))
	err := p.Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(text))
	return p.Elem().Interface().(quantity.Quantity), err
}

// Values by hand; conversions from the exact definitions (1 ft = 0.3048 m,
// 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s²).
func TestRead(t *testing.T) {
	tests := []struct {
		text string
		want quantity.Quantity
	}{
		{"20 A", quantity.Amps(20)},
		{"20A", quantity.Amps(20)},
		{" 1.33 A ", quantity.Amps(1.33)},
		{"1.8 kA", quantity.Amps(1800)},
		{"8.1 kA", quantity.Amps(8100)},
		{"240 V", quantity.Volts(240)},
		{"0.24 kV", quantity.Volts(240)},
		{"319 VA", quantity.VoltAmperes(319)},
		{"4.8 kVA", quantity.VoltAmperes(4800)},
		{"405 W", quantity.Watts(405)},
		{"5.67 kW", quantity.Watts(5670)},
		{"25 ohm", quantity.Ohms(25)},
		{"25 Ω", quantity.Ohms(25)},
		{"25 \u2126", quantity.Ohms(25)}, // the old ohm sign
		{"1.24 ohm/kft", quantity.OhmsPerKFt(1.24)},
		{"1.24 Ω/kft", quantity.OhmsPerKFt(1.24)},
		{"1 ohm/km", quantity.OhmsPerKFt(0.3048)},
		{"180 ft", quantity.Feet(180)},
		{"12 ft 6 in", quantity.Feet(12.5)},
		{"12 ft 6", quantity.Feet(12.5)},
		{"12'6\"", quantity.Feet(12.5)},
		{"12'-6\"", quantity.Feet(12.5)},
		{"12′ 6″", quantity.Feet(12.5)},
		{"12'", quantity.Feet(12)},
		{"5 ft 1 1/2 in", quantity.Feet(5.125)},
		{"6 in", quantity.Feet(0.5)},
		{"7/8 in", quantity.Feet(0.875 / 12)},
		{"1 1/2 in", quantity.Feet(0.125)},
		{"1-1/2 in", quantity.Feet(0.125)},
		{"0 ft", quantity.Feet(0)},
		{"-0 ft", quantity.Feet(0)},
		{".5 ft", quantity.Feet(0.5)},
		{"304.8 mm", quantity.Feet(1)},
		{"30.48 cm", quantity.Feet(1)},
		{"3.048 m", quantity.Feet(10)},
		{"0.0211 in2", quantity.SquareInches(0.0211)},
		{"0.0211 in²", quantity.SquareInches(0.0211)},
		{"645.16 mm²", quantity.SquareInches(1)},
		{"645.16 mm2", quantity.SquareInches(1)},
		{"1500 ft2", quantity.SquareFeet(1500)},
		{"1500 sq ft", quantity.SquareFeet(1500)},
		{"0.09290304 m²", quantity.SquareFeet(1)},
		{"10380 cmil", quantity.CircularMils(10380)},
		{"250 kcmil", quantity.CircularMils(250000)},
		{"94 F", quantity.Celsius(310.0 / 9)}, // (94 − 32) × 5/9
		{"94F", quantity.Celsius(310.0 / 9)},
		{"212 °F", quantity.Celsius(100)},
		{"32 F", quantity.Celsius(0)},
		{"-40 F", quantity.Celsius(-40)},
		{"34 C", quantity.Celsius(34)},
		{"-12 C", quantity.Celsius(-12)},
		{"−12 °C", quantity.Celsius(-12)}, // a real minus sign
		{"22 deg", quantity.Degrees(22)},
		{"22°", quantity.Degrees(22)},
		{"-78.64 deg", quantity.Degrees(-78.64)},
		{"12/12", quantity.Degrees(45)},
		{"0/12", quantity.Degrees(0)},
		{"35 in-lb", quantity.InchPounds(35)},
		{"3 ft-lb", quantity.InchPounds(36)},
		{"300 s", quantity.Seconds(300)},
		{"5 min", quantity.Seconds(300)},
		{"2 %", quantity.Percent(2)},
		{"2%", quantity.Percent(2)},
		{"-0.34 %", quantity.Percent(-0.34)},
		{"14", quantity.Count(14)},
		{"0.8", quantity.Ratio(0.8)},
	}
	for _, tt := range tests {
		got, err := readAs(tt.want, tt.text)
		if err != nil || got != tt.want {
			t.Errorf("%q = %v %s, %v; want %v %s", tt.text, got, got.Unit(), err, tt.want, tt.want.Unit())
		}
	}
}

// TestReadInexact checks what no float64 holds exactly against published
// factors: NIST SP 811 appendix B.8 gives 1 in·lbf = 1.129 848 E−01 N·m; a
// 6/12 roof is 26.57° (arctangent of a half).
func TestReadInexact(t *testing.T) {
	tests := []struct {
		text      string
		like      quantity.Quantity
		want, tol float64
	}{
		{"0.1129848 N·m", quantity.InchPounds(0), 1, 5e-7},
		{"0.1129848 Nm", quantity.InchPounds(0), 1, 5e-7},
		{"6/12", quantity.Degrees(0), 26.57, 0.005},
		{"4/12", quantity.Degrees(0), 18.43, 0.005},
		{"1 m", quantity.Feet(0), 3.280840, 5e-7}, // NIST SP 811 appendix B.8
	}
	for _, tt := range tests {
		got, err := readAs(tt.like, tt.text)
		if err != nil || math.Abs(got.Float()-tt.want) > tt.tol {
			t.Errorf("%q = %v, %v; want %v within %v", tt.text, got, err, tt.want, tt.tol)
		}
	}
}

func TestReadFaults(t *testing.T) {
	const lengths = "expected a length in in, ft, mm, cm or m"
	tests := []struct {
		text string
		like quantity.Quantity
		want string
	}{
		{"180", quantity.Feet(0), `"180" has no unit; write 180 ft or 55 m`},
		{"7/8", quantity.Feet(0), `"7/8" has no unit; write 7/8 in`},
		{"94", quantity.Celsius(0), `"94" has no unit; write 94 F or 34 C`},
		{"-12", quantity.Celsius(0), `"-12" has no unit; write -12 F or -24 C`},
		{"20", quantity.Amps(0), `"20" has no unit; write 20 A`},
		{"35", quantity.InchPounds(0), `"35" has no unit; write 35 in-lb or 4 N·m`},
		{"2", quantity.Percent(0), `"2" has no unit; write 2 %`},
		{"22", quantity.Degrees(0), `"22" has no unit; write 22 deg`},
		{"180 A", quantity.Feet(0), `"180 A"; ` + lengths},
		{"180 FT", quantity.Feet(0), `"180 FT"; ` + lengths},
		{"12 ft 14 in", quantity.Feet(0), `"12 ft 14 in"; expected whole feet and less than 12 inches, such as 12 ft 6 in`},
		{"12.5 ft 6 in", quantity.Feet(0), `"12.5 ft 6 in"; expected whole feet and less than 12 inches, such as 12 ft 6 in`},
		{"12 ft -6 m", quantity.Feet(0), `"12 ft -6 m"; expected whole feet and less than 12 inches, such as 12 ft 6 in`},
		{"1/0 in", quantity.Feet(0), `"1/0 in"; ` + lengths},
		{"1e3 ft", quantity.Feet(0), `"1e3 ft"; ` + lengths},
		{"0x10 ft", quantity.Feet(0), `"0x10 ft"; ` + lengths},
		{"NaN ft", quantity.Feet(0), `"NaN ft"; ` + lengths},
		{"ft", quantity.Feet(0), `"ft"; ` + lengths},
		{"1/2 A", quantity.Amps(0), `"1/2 A"; expected a current in A or kA`},
		{"--5 ft", quantity.Feet(0), `"--5 ft"; ` + lengths},
		{"", quantity.Feet(0), `nothing stands here; ` + lengths},
		{"-5 ft", quantity.Feet(0), `"-5 ft" is negative; expected a length of 0 ft or more`},
		{"-20 A", quantity.Amps(0), `"-20 A" is negative; expected a current of 0 A or more`},
		{"-35 in-lb", quantity.InchPounds(0), `"-35 in-lb" is negative; expected a torque of 0 in-lb or more`},
		{"-405 W", quantity.Watts(0), `"-405 W" is negative; expected a power of 0 W or more`},
		{"-300 C", quantity.Celsius(0), `"-300 C"; expected a temperature of -273.15 °C or more`},
		{"361 deg", quantity.Degrees(0), `"361 deg"; expected an angle of 360° or less`},
		{"1,000 A", quantity.Amps(0), `"1,000 A" has a comma; write 1000 A`},
		{"9999999999 A", quantity.Amps(0), `"9999999999 A"; expected a current of 1000000000 A or less`},
		{"0.00000000001 ft", quantity.Feet(0), `"0.00000000001 ft" is too small to be meant; ` + lengths},
		{strings.Repeat("9", 10<<20), quantity.Feet(0), `10485760 characters of text; ` + lengths},
		{"14 ft", quantity.Count(0), `"14 ft"; expected a plain number`},
		{"14.5", quantity.Count(0), `"14.5"; expected a whole number`},
		{"-3", quantity.Count(0), `"-3" is negative; expected a plain number of 0 or more`},
	}
	for _, tt := range tests {
		_, err := readAs(tt.like, tt.text)
		var fault where.Error
		if !errors.As(err, &fault) || fault.Error() != tt.want {
			t.Errorf("%.40q: %v\nwant: %s", tt.text, err, tt.want)
		}
	}
}

func TestFaultLeavesTheValue(t *testing.T) {
	v := quantity.Feet(7)
	if err := v.UnmarshalText([]byte("180")); err == nil || v != 7 {
		t.Errorf("value %v, %v; want 7 and an error", v, err)
	}
	s := quantity.AWG10
	if err := s.UnmarshalText([]byte("11 AWG")); err == nil || s != quantity.AWG10 {
		t.Errorf("size %v, %v; want 10 AWG and an error", s, err)
	}
}

func TestPrintAndShow(t *testing.T) {
	tests := []struct {
		v              quantity.Quantity
		us, si         string // exact
		showUS, showSI string
	}{
		{quantity.Feet(180), "180 ft", "54.864 m", "180 ft", "54.86 m"},
		{quantity.Feet(0.875 / 12), "0.875 in", "22.225 mm", "7/8 in", "22.2 mm"},
		{quantity.Feet(0.125), "1.5 in", "38.1 mm", "1 1/2 in", "38.1 mm"},
		{quantity.Celsius(34), "93.2 F", "34 C", "93.2 °F", "34 °C"},
		{quantity.Celsius(-40), "-40 F", "-40 C", "-40 °F", "-40 °C"},
		{quantity.Amps(8100), "8.1 kA", "8.1 kA", "8.1 kA", "8.1 kA"},
		{quantity.Amps(24.32), "24.32 A", "24.32 A", "24.32 A", "24.32 A"},
		{quantity.OhmsPerKFt(0.3048), "0.3048 ohm/kft", "1 ohm/km", "0.3048 Ω/kft", "1 Ω/km"},
		{quantity.SquareInches(1), "1 in2", "645.16 mm2", "1 in²", "645.16 mm²"},
		{quantity.Degrees(22.5), "22.5 deg", "22.5 deg", "22.5°", "22.5°"},
		{quantity.Percent(2), "2 %", "2 %", "2 %", "2 %"},
		{quantity.Ratio(0.8), "0.8", "0.8", "0.8", "0.8"},
	}
	for _, tt := range tests {
		got := [4]string{quantity.Print(tt.v, quantity.US), quantity.Print(tt.v, quantity.SI),
			quantity.Show(tt.v, quantity.US), quantity.Show(tt.v, quantity.SI)}
		if want := [4]string{tt.us, tt.si, tt.showUS, tt.showSI}; got != want {
			t.Errorf("%v %s:\n got %q\nwant %q", tt.v, tt.v.Unit(), got, want)
		}
	}
	if got := quantity.Show(quantity.InchPounds(35), quantity.SI); got != "3.95 N·m" { // 35 × 0.1129848
		t.Errorf("35 in-lb = %s, want 3.95 N·m", got)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), 1e300, 1e-300} { // results, never read back
		if quantity.Print(quantity.Feet(v), quantity.SI) == "" || quantity.Show(quantity.Feet(v), quantity.SI) == "" {
			t.Errorf("%v prints as nothing", v)
		}
	}
}

// TestFigureOfCurrents holds that fault currents are said in kA.
func TestFigureOfCurrents(t *testing.T) {
	for n, want := range map[float64]string{0: "0 A", 999.994: "999.99 A", 1000: "1 kA", 8100: "8.1 kA", 10000: "10 kA", -1250: "-1.25 kA"} {
		if got := quantity.Unit("A").Figure(n); got != want {
			t.Errorf("%v A is said %q, want %q", n, got, want)
		}
	}
}

// everyType is one value of each type with a unit.
var everyType = []quantity.Quantity{
	quantity.Amps(0), quantity.Volts(0), quantity.VoltAmperes(0), quantity.Watts(0), quantity.Ohms(0),
	quantity.OhmsPerKFt(0), quantity.Feet(0), quantity.SquareInches(0), quantity.SquareFeet(0),
	quantity.CircularMils(0), quantity.Celsius(0), quantity.Degrees(0), quantity.InchPounds(0),
	quantity.Seconds(0), quantity.Percent(0), quantity.Count(0), quantity.Ratio(0),
}

// roundTrip fails when v, once accepted, does not come back bit for bit.
func roundTrip(t interface{ Fatalf(string, ...any) }, v quantity.Quantity) {
	texts := []string{quantity.Print(v, quantity.US), quantity.Print(v, quantity.SI)}
	marshaled, err := v.(encoding.TextMarshaler).MarshalText()
	if err != nil {
		t.Fatalf("%v %s: %v", v, v.Unit(), err)
	}
	for _, text := range append(texts, string(marshaled)) {
		back, err := readAs(v, text)
		if err != nil || math.Float64bits(back.Float()) != math.Float64bits(v.Float()) {
			t.Fatalf("%b %s printed %q read back as %b, %v", v.Float(), v.Unit(), text, back.Float(), err)
		}
	}
}

func TestRoundTrip(t *testing.T) {
	for _, like := range everyType {
		t.Run(fmt.Sprintf("%T", like), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				f := rapid.OneOf(rapid.Float64Range(1e-9, 1e9), rapid.Float64Range(1e-9, 1e-3),
					rapid.Float64Range(0.1, 1000), rapid.Just(0.0), rapid.Just(1e9)).Draw(t, "value")
				switch like.(type) {
				case quantity.Count:
					f = math.Floor(f)
				case quantity.Degrees:
					f = min(f, 360)
				case quantity.Celsius:
					f = max(f*rapid.SampledFrom([]float64{1, -1}).Draw(t, "sign"), -273.15) + 0 // no minus zero
				}
				v := reflect.ValueOf(f).Convert(reflect.TypeOf(like)).Interface().(quantity.Quantity)
				roundTrip(t, v)
			})
		})
	}
}

func FuzzRead(f *testing.F) {
	for i, text := range []string{"20 A", "1.8 kA", "240 V", "12 ft 6 in", "12'6\"", "7/8 in", "1 1/2 in", "55 m",
		"94 F", "-12 °C", "22°", "6/12", "35 in-lb", "4 N·m", "2 %", "300 s", "5 min", "1.24 Ω/kft", "0.5 mm²",
		"180", "-5 ft", "1e3 ft", "1,000 A", "1/0 in", "?", ""} {
		f.Add(text, uint8(i))
	}
	f.Fuzz(func(t *testing.T, text string, kind uint8) {
		v, err := readAs(everyType[int(kind)%len(everyType)], text)
		if err != nil {
			var fault where.Error
			if !errors.As(err, &fault) || fault.Came == "" {
				t.Fatalf("%q: %v says not what came", text, err)
			}
			return
		}
		roundTrip(t, v)
	})
}

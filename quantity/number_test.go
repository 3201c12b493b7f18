package quantity_test

import (
	"math"
	"math/big"
	"strings"
	"testing"

	"legwork/quantity"

	"pgregory.net/rapid"
)

// Expected values by hand: half away from zero on the decimal digits.
func TestFixed(t *testing.T) {
	tests := []struct {
		v      float64
		places int
		want   string
	}{
		{37.575, 2, "37.58"}, // binary 37.57499…
		{1.005, 2, "1.01"},   // binary 1.00499…
		{-1.005, 2, "-1.01"},
		{9.995, 2, "10.00"},
		{99.95, 1, "100.0"},
		{0.5, 0, "1"},
		{1.5, 0, "2"},
		{2.5, 0, "3"},
		{-2.5, 0, "-3"},
		{0.004, 2, "0.00"},
		{-0.004, 2, "0.00"}, // no "-0.00"
		{0, 0, "0"},
		{math.Copysign(0, -1), 1, "0.0"},
		{24.32, 2, "24.32"},
		{24.32, 4, "24.3200"},
		{40 * 0.76 * 0.8, 2, "24.32"},
		{0.1 + 0.2, 4, "0.3000"},
		{1e21, 0, "1000000000000000000000"},
		{1e-300, 3, "0.000"},
		{123456789012.5, 0, "123456789013"},
		{999999999999.5, 0, "1000000000000"},
		{math.NaN(), 2, "NaN"},
		{math.Inf(1), 2, "+Inf"},
		{math.Inf(-1), 2, "-Inf"},
	}
	for _, tt := range tests {
		if got := quantity.Fixed(tt.v, tt.places); got != tt.want {
			t.Errorf("Fixed(%v, %d) = %s, want %s", tt.v, tt.places, got, tt.want)
		}
	}
}

func TestTrim(t *testing.T) {
	tests := []struct {
		v      float64
		places int
		want   string
	}{
		{24.30, 2, "24.3"},
		{24.00, 2, "24"},
		{100, 0, "100"},
		{0.8, 4, "0.8"},
		{-0.001, 2, "0"},
		{10.004, 2, "10"},
		{math.NaN(), 2, "NaN"},
	}
	for _, tt := range tests {
		if got := quantity.Trim(tt.v, tt.places); got != tt.want {
			t.Errorf("Trim(%v, %d) = %s, want %s", tt.v, tt.places, got, tt.want)
		}
	}
}

func TestRound(t *testing.T) {
	for _, tt := range []struct {
		v      float64
		places int
		want   float64
	}{{37.575, 2, 37.58}, {-37.575, 2, -37.58}, {9.995, 2, 10}, {0.4999999999999, 0, 1}, {0.49999999999, 0, 0}} {
		if got := quantity.Round(tt.v, tt.places); got != tt.want {
			t.Errorf("Round(%v, %d) = %v, want %v", tt.v, tt.places, got, tt.want)
		}
	}
	if got := quantity.Round(math.NaN(), 2); !math.IsNaN(got) {
		t.Errorf("Round(NaN) = %v", got)
	}
}

func TestSnap(t *testing.T) {
	for _, tt := range []struct{ v, want float64 }{
		{0.1 + 0.2, 0.3},
		{1.1 * 1.1, 1.21},
		{1234567890.125, 1234567890.13}, // an exact binary half, away from zero
		{-1234567890.125, -1234567890.13},
		{9.9999999999995, 10},
		{1.25, 1.25},
		{5e-324, 5e-324},
		{math.MaxFloat64, 1.79769313486e308}, // 1.797693134862…
		{math.Inf(1), math.Inf(1)},
	} {
		if got := quantity.Snap(tt.v); got != tt.want {
			t.Errorf("Snap(%v) = %v, want %v", tt.v, got, tt.want)
		}
	}
	if got := quantity.Snap(math.NaN()); !math.IsNaN(got) {
		t.Errorf("Snap(NaN) = %v", got)
	}
}

func TestCompare(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, tt := range []struct {
		name string
		a, b float64
		want int
	}{
		{"limit met exactly", 0.1 + 0.2, 0.3, 0},
		{"125 % of 16 A is 20 A", 1.25 * 16, 20, 0},
		{"just over", 20.0001, 20, 1},
		{"just under", 19.9999, 20, -1},
		{"over in the eleventh digit", 20.000000001, 20, 1},
		{"either side of a rounding", 1.0000000000049998, 1.0000000000050002, 0},
		{"below zero", -2, -1, -1},
		{"zero and dust", 0, 1e-20, -1},
		{"infinite and finite", inf, 5, 1},
		{"finite and infinite", 5, inf, -1},
		{"both infinite", inf, inf, 0},
		{"no number comes first", nan, 5, -1},
	} {
		if got := quantity.Compare(tt.a, tt.b); got != tt.want {
			t.Errorf("%s: Compare(%v, %v) = %d, want %d", tt.name, tt.a, tt.b, got, tt.want)
		}
	}
}

// roundedHalfAway rounds an exact decimal in big arithmetic; it shares no code
// with Fixed.
func roundedHalfAway(decimal string, places int) string {
	r, _ := new(big.Rat).SetString(decimal)
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	r.Mul(r, new(big.Rat).SetInt(scale))
	half := big.NewRat(1, 2)
	if r.Sign() < 0 {
		half.Neg(half)
	}
	r.Add(r, half)
	whole := new(big.Int).Quo(r.Num(), r.Denom()) // towards zero
	return new(big.Rat).SetFrac(whole, scale).FloatString(places)
}

func TestFixedAgreesWithDecimalArithmetic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Up to 12 digits, so that snapping changes nothing.
		n := rapid.Int64Range(-999999999999, 999999999999).Draw(t, "digits")
		point := rapid.IntRange(0, 14).Draw(t, "point")
		places := rapid.IntRange(0, 8).Draw(t, "places")
		decimal := new(big.Rat).SetFrac(big.NewInt(n),
			new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(point)), nil)).FloatString(point)
		v, _ := new(big.Rat).SetString(decimal)
		f, _ := v.Float64()
		if got, want := quantity.Fixed(f, places), roundedHalfAway(decimal, places); got != want {
			t.Fatalf("Fixed(%s, %d) = %s, want %s", decimal, places, got, want)
		}
	})
}

func TestSnapProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64().Draw(t, "v")
		s := quantity.Snap(v)
		if quantity.Snap(s) != s {
			t.Fatalf("Snap(Snap(%v)) = %v, Snap = %v", v, quantity.Snap(s), s)
		}
		if quantity.Compare(v, s) != 0 && math.Abs(v-s) > math.Abs(v)*5e-12 {
			t.Fatalf("Snap(%v) = %v is another value", v, s)
		}
		if quantity.Snap(-v) != -s {
			t.Fatalf("Snap(%v) is not minus Snap(%v)", -v, v)
		}
		if near := math.Nextafter(v, 0); math.Abs(v) > 1e-300 && quantity.Compare(v, near) != 0 {
			t.Fatalf("Compare(%v, %v) tells dust apart", v, near)
		}
		w := rapid.Float64().Draw(t, "w")
		if quantity.Compare(v, w) != -quantity.Compare(w, v) {
			t.Fatalf("Compare(%v, %v) depends on the order", v, w)
		}
	})
}

func TestTrimIsFixedWithoutZeros(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e6, 1e6).Draw(t, "v")
		n := rapid.IntRange(0, 6).Draw(t, "places")
		trimmed, fixed := quantity.Trim(v, n), quantity.Fixed(v, n)
		if !strings.HasPrefix(fixed, trimmed) {
			t.Fatalf("Trim %s is no start of Fixed %s", trimmed, fixed)
		}
		a, _ := new(big.Rat).SetString(trimmed)
		b, _ := new(big.Rat).SetString(fixed)
		if a.Cmp(b) != 0 || strings.Contains(trimmed, ".") && strings.HasSuffix(trimmed, "0") {
			t.Fatalf("Trim %s, Fixed %s", trimmed, fixed)
		}
	})
}

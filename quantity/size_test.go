package quantity_test

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"legwork/quantity"
	"legwork/where"
)

func TestReadSize(t *testing.T) {
	for text, want := range map[string]quantity.Size{
		"10 AWG": quantity.AWG10, "10AWG": quantity.AWG10, "#10": quantity.AWG10, "# 10": quantity.AWG10,
		"#1/0": quantity.AWG1_0, "1/0 AWG": quantity.AWG1_0, "#1": quantity.AWG1, "4/0 AWG": quantity.AWG4_0,
		"250 kcmil": quantity.KCMil250, "500 MCM": quantity.KCMil500,
		"5.261 mm²": quantity.AWG10, "5.261 mm2": quantity.AWG10, "13.30 mm²": quantity.AWG6, "127 mm2": quantity.KCMil250,
	} {
		var got quantity.Size
		if err := got.UnmarshalText([]byte(text)); err != nil || got != want {
			t.Errorf("%q = %v, %v; want %v", text, got, err, want)
		}
	}
}

func TestReadSizeFaults(t *testing.T) {
	for text, want := range map[string]string{
		"10":        `"10" has no unit; write 10 AWG`,
		"1/0":       `"1/0" has no unit; write 1/0 AWG`,
		"250":       `"250" has no unit; write 250 kcmil`,
		"11 AWG":    `"11 AWG"; expected a size from 18 AWG to 4/0 AWG: 18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 1/0, 2/0, 3/0 or 4/0`,
		"250 AWG":   `"250 AWG"; expected a size from 18 AWG to 4/0 AWG: 18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 1/0, 2/0, 3/0 or 4/0`,
		"10 kcmil":  `"10 kcmil"; expected a size of 250, 300, 350, 400 or 500 kcmil`,
		"ten gauge": `"ten gauge"; expected a conductor size such as 10 AWG, 1/0 AWG or 250 kcmil`,
		"":          `""; expected a conductor size such as 10 AWG, 1/0 AWG or 250 kcmil`,
		"# AWG":     `"# AWG"; expected a size from 18 AWG to 4/0 AWG: 18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 1/0, 2/0, 3/0 or 4/0`,
	} {
		var s quantity.Size
		if err := s.UnmarshalText([]byte(text)); err == nil || err.Error() != want {
			t.Errorf("%q: %v\nwant: %s", text, err, want)
		}
	}
	var s quantity.Size
	if err := s.UnmarshalText([]byte("6 mm²")); err == nil || !strings.Contains(err.Error(), "5.261, 8.367") {
		t.Errorf("6 mm² is no standard American size: %v", err)
	}
}

// TestSizeAreas compares the mm² names with the definition of the gauge.
//
// Source: ASTM B258: diameter 0.127 mm × 92^((36−n)/39), 1/0 being n = 0;
// 1 kcmil = π/4 × 1000 mil² = 0.506707 mm².
func TestSizeAreas(t *testing.T) {
	gauge := map[string]float64{"1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}
	for _, s := range quantity.Sizes() {
		area, err := strconv.ParseFloat(strings.TrimSuffix(s.Print(quantity.SI), " mm2"), 64)
		if err != nil {
			t.Fatal(err)
		}
		n, ok := gauge[s.Key()]
		if !ok {
			n, _ = strconv.ParseFloat(s.Key(), 64)
		}
		d := 0.127 * math.Pow(92, (36-n)/39)
		want := math.Pi / 4 * d * d
		if s >= quantity.KCMil250 {
			want = n * 0.506707
		}
		if math.Abs(area-want) > 0.005*want {
			t.Errorf("%v: %v mm², want %.4g", s, area, want)
		}
	}
}

func TestSizesRiseAndComeBack(t *testing.T) {
	last := 0.0
	for _, s := range quantity.Sizes() {
		for _, sys := range []quantity.System{quantity.US, quantity.SI} {
			var back quantity.Size
			if err := back.UnmarshalText([]byte(s.Print(sys))); err != nil || back != s {
				t.Errorf("%v in %v came back as %v, %v", s, sys, back, err)
			}
		}
		area, _ := strconv.ParseFloat(strings.TrimSuffix(s.Print(quantity.SI), " mm2"), 64)
		if area <= last {
			t.Errorf("%v: %v mm² after %v", s, area, last)
		}
		last = area
	}
	if n := len(quantity.Sizes()); n != 20 {
		t.Errorf("%d sizes, want 20", n)
	}
}

func TestTradeSize(t *testing.T) {
	for text, want := range map[string]quantity.TradeSize{
		"3/4 in": quantity.Trade3_4, `3/4"`: quantity.Trade3_4, "1-1/4 in": quantity.Trade1_1_4,
		"1 1/4 in": quantity.Trade1_1_4, "1 in": quantity.Trade1, "metric designator 21": quantity.Trade3_4,
	} {
		var got quantity.TradeSize
		if err := got.UnmarshalText([]byte(text)); err != nil || got != want {
			t.Errorf("%q = %v, %v; want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]string{
		"3/4":    `"3/4" has no unit; write 3/4 in`,
		"5/8 in": `"5/8 in"; expected a trade size of 1/2, 3/4, 1, 1-1/4, 1-1/2 or 2 in`,
		"21 mm":  `"21 mm"; expected a trade size of 1/2, 3/4, 1, 1-1/4, 1-1/2 or 2 in`,
	} {
		var got quantity.TradeSize
		if err := got.UnmarshalText([]byte(text)); err == nil || err.Error() != want {
			t.Errorf("%q: %v\nwant: %s", text, err, want)
		}
	}
	for _, size := range quantity.TradeSizes() {
		for _, sys := range []quantity.System{quantity.US, quantity.SI} {
			var back quantity.TradeSize
			if err := back.UnmarshalText([]byte(size.Print(sys))); err != nil || back != size {
				t.Errorf("%v in %v came back as %v, %v", size, sys, back, err)
			}
		}
	}
}

func FuzzReadSize(f *testing.F) {
	for _, text := range []string{"10 AWG", "#1/0", "250 kcmil", "5.261 mm²", "3/4 in", "1-1/4 in", "metric designator 21", "#", "AWG", "1/0"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var s, s2 quantity.Size
		var fault where.Error
		if err := s.UnmarshalText([]byte(text)); err != nil {
			if !errors.As(err, &fault) {
				t.Fatalf("%q: %v has no place", text, err)
			}
		} else if b, _ := s.MarshalText(); s2.UnmarshalText(b) != nil || s2 != s {
			t.Fatalf("%q read as %v came back as %v", text, s, s2)
		}
		var ts, ts2 quantity.TradeSize
		if err := ts.UnmarshalText([]byte(text)); err != nil {
			if !errors.As(err, &fault) {
				t.Fatalf("%q: %v has no place", text, err)
			}
		} else if b, _ := ts.MarshalText(); ts2.UnmarshalText(b) != nil || ts2 != ts {
			t.Fatalf("%q read as %v came back as %v", text, ts, ts2)
		}
	})
}

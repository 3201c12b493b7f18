package tables

import (
	"fmt"
	"testing"

	"legwork/quantity"
	"legwork/working"
)

type edition = working.Edition

// A second source for cells: the figures that scenarios state in their
// conventions, typed in apart from the tables, after NFPA 70.
func TestCellsOfASecondSource(t *testing.T) {
	sizes := []quantity.Size{quantity.AWG14, quantity.AWG12, quantity.AWG10, quantity.AWG8, quantity.AWG6, quantity.AWG4, quantity.AWG3, quantity.AWG2, quantity.AWG1}
	for i, want := range []quantity.OhmsPerKFt{3.14, 1.98, 1.24, 0.778, 0.491, 0.308, 0.245, 0.194, 0.154} {
		same(t, fmt.Sprintf("resistance of %v copper", sizes[i]), want)(Resistance(sizes[i], Copper, Stranded))
	}
	for size, want := range map[quantity.Size]quantity.OhmsPerKFt{
		quantity.AWG4: 0.508, quantity.AWG2: 0.319, quantity.AWG1: 0.253, quantity.AWG1_0: 0.201, quantity.AWG2_0: 0.159,
	} {
		same(t, fmt.Sprintf("resistance of %v aluminum", size), want)(Resistance(size, Aluminum, Stranded))
	}
	for size, want := range map[quantity.Size]quantity.CircularMils{
		quantity.AWG12: 6530, quantity.AWG10: 10380, quantity.AWG8: 16510, quantity.AWG6: 26240, quantity.AWG4: 41740,
		quantity.AWG3: 52620, quantity.AWG2: 66360, quantity.AWG1: 83690, quantity.AWG1_0: 105600,
	} {
		same(t, fmt.Sprintf("circular mils of %v", size), want)(CircularMils(size))
	}
	for size, want := range map[quantity.Size][3]quantity.Amps{
		quantity.AWG12: {20, 25, 30}, quantity.AWG10: {30, 35, 40}, quantity.AWG8: {40, 50, 55}, quantity.AWG6: {55, 65, 75}, quantity.AWG4: {70, 85, 95},
	} {
		for i, column := range []int{60, 75, 90} {
			same(t, fmt.Sprintf("ampacity of %v copper at %d C", size, column), want[i])(Ampacity(size, Copper, column))
		}
	}
	for size, want := range map[quantity.Size]quantity.Amps{
		quantity.AWG4: 65, quantity.AWG2: 90, quantity.AWG1: 100, quantity.AWG1_0: 120, quantity.AWG2_0: 135,
	} {
		same(t, fmt.Sprintf("ampacity of %v aluminum at 75 C", size), want)(Ampacity(size, Aluminum, 75))
	}
	for high, want := range map[quantity.Celsius]quantity.Ratio{
		30: 1.00, 35: 0.96, 40: 0.91, 45: 0.87, 50: 0.82, 55: 0.76, 60: 0.71, 65: 0.65, 70: 0.58, 75: 0.50, 80: 0.41,
	} {
		for _, ambient := range []quantity.Celsius{high - 4, high - 4.5, high} {
			same(t, fmt.Sprintf("ambient factor at %v", ambient), want)(AmbientFactor(ambient, 90))
		}
	}
	for n, want := range map[int]quantity.Ratio{1: 1, 3: 1, 4: 0.80, 6: 0.80, 7: 0.70, 9: 0.70, 10: 0.50, 20: 0.50} {
		same(t, fmt.Sprintf("bundling of %d", n), want)(BundlingFactor(n))
	}
	for size, want := range map[quantity.Size]quantity.SquareInches{
		quantity.AWG12: 0.0133, quantity.AWG10: 0.0211, quantity.AWG8: 0.0366, quantity.AWG6: 0.0507,
	} {
		same(t, fmt.Sprintf("area of %v THWN-2", size), want)(ConductorArea("THWN-2", size))
	}
	for size, want := range map[quantity.TradeSize]quantity.SquareInches{
		quantity.Trade1_2: 0.122, quantity.Trade3_4: 0.213, quantity.Trade1: 0.346, quantity.Trade1_1_4: 0.598,
	} {
		same(t, fmt.Sprintf("40 %% of %v EMT", size), want)(FillRoom(EMT, size, 3, false))
	}
	for device, want := range map[quantity.Amps]quantity.Size{ // 250.122 as the rules quote it
		15: quantity.AWG14, 20: quantity.AWG12, 60: quantity.AWG10, 100: quantity.AWG8, 200: quantity.AWG6,
	} {
		same(t, fmt.Sprintf("equipment ground behind %v A", device), want)(EquipmentGround(device, Copper))
	}
}

// Published worked examples, by their printed answers.
func TestWorkedExamples(t *testing.T) {
	factor := func(a quantity.Amps, err error) func(f quantity.Ratio, ferr error) float64 {
		return func(f quantity.Ratio, ferr error) float64 {
			if err != nil || ferr != nil {
				t.Fatal(err, ferr)
			}
			return quantity.Snap(a.Float() * f.Float())
		}
	}
	for _, example := range []struct {
		name, source string
		got, want    float64
	}{
		{"four 12 AWG in EMT", "forum question on adjustment factors", factor(Ampacity(quantity.AWG12, Copper, 90))(BundlingFactor(4)), 24},
		{"12 AWG at 55 C", "engineer board on correction tables", factor(Ampacity(quantity.AWG12, Copper, 90))(AmbientFactor(55, 90)), 22.8},
		{"12 AWG 75 C at 40 C", "reference page on table 310.16", factor(Ampacity(quantity.AWG12, Copper, 75))(AmbientFactor(40, 75)), 22},
		{"six 3/0 at 90 C", "master specification page", factor(Ampacity(quantity.AWG3_0, Copper, 90))(BundlingFactor(6)), 180},
		{"four 3/0 at 75 C", "master specification page", factor(Ampacity(quantity.AWG3_0, Copper, 75))(BundlingFactor(4)), 160},
		{"S1 home run, attic at 55 C, four conductors", "scenario S1: 24.3 A", 0.76 * factor(Ampacity(quantity.AWG10, Copper, 90))(BundlingFactor(4)), 24.32},
	} {
		if quantity.Compare(example.got, example.want) != 0 {
			t.Errorf("%s: %v A, want %v (%s)", example.name, example.got, example.want, example.source)
		}
	}

	// NEC handbook: 300 A, 250 kcmil grown to 350: 58436 cmil, 2 AWG.
	// Article on proportional grounds: 3/0 grown to 500 kcmil from 6 AWG: 1 AWG.
	// Trade magazine: 20 A, 12 AWG grown to 6: 6 AWG.
	for _, example := range []struct {
		device             quantity.Amps
		minimum, installed quantity.Size
		want               quantity.Size
	}{
		{300, quantity.KCMil250, quantity.KCMil350, quantity.AWG2},
		{200, quantity.AWG3_0, quantity.KCMil500, quantity.AWG1},
		{20, quantity.AWG12, quantity.AWG6, quantity.AWG6},
	} {
		base, err := EquipmentGround(example.device, Copper)
		if err != nil {
			t.Fatal(err)
		}
		mils := func(s quantity.Size) quantity.CircularMils {
			v, err := CircularMils(s)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		same(t, fmt.Sprintf("ground grown with %v to %v", example.minimum, example.installed), example.want)(
			SizeWithArea(mils(base) * mils(example.installed) / mils(example.minimum)))
	}

	// California standard plan: output current to smallest device.
	for output, want := range map[quantity.Amps]quantity.Amps{12: 15, 16: 20, 24: 30, 32: 40, 40: 50, 48: 60} {
		same(t, fmt.Sprintf("device for %v A of output", output), want)(NextStandard(2020, output*1.25))
	}
	// IAEI magazine, 2020: 7.6 kW at 240 V wants 40 A, 10 AWG ends at 30 A.
	same(t, "device for 39.58 A", quantity.Amps(40))(NextStandard(2017, 39.58))
	if most, ok := SmallConductor(quantity.AWG10, Copper); most != 30 || !ok {
		t.Errorf("10 AWG copper ends at %v A, %v, want 30", most, ok)
	}
	// Permit record, 2014: 6 AWG, 65 A at 75 C, may sit behind 70 A.
	same(t, "device for 65 A", quantity.Amps(70))(LargestDevice(2017, 65))
	// Annex D, example D7: 175 A of service.
	same(t, "copper for 175 A of service", quantity.AWG1_0)(DwellingService(175, Copper))
	same(t, "aluminum for 175 A of service", quantity.AWG3_0)(DwellingService(175, Aluminum))
	// Point-to-point fault sheet: C of its three runs.
	for size, want := range map[quantity.Size]quantity.Ratio{quantity.AWG3_0: 13923, quantity.AWG6: 2430, quantity.AWG12: 617} {
		same(t, fmt.Sprintf("C of %v", size), want)(FaultConstant(size, Copper, InPVC))
	}
	// Voltage drop by table 9: 250 kcmil in steel.
	same(t, "250 kcmil in steel", Ohms{R: 0.054, X: 0.052, Ze: 0.073})(Impedance(quantity.KCMil250, Copper, InSteel))
}

// Forum thread, 2014: ten 12 AWG, five 10 AWG and three 8 AWG THHN need 1-1/4 in
// Schedule 80; design notes: three 6 AWG need 3/4 in EMT.
func TestFillExamples(t *testing.T) {
	type wires map[quantity.Size]int
	for _, example := range []struct {
		kind  RacewayKind
		wires wires
		area  float64
		want  quantity.TradeSize
	}{
		{PVC80, wires{quantity.AWG12: 10, quantity.AWG10: 5, quantity.AWG8: 3}, 0.3483, quantity.Trade1_1_4},
		{EMT, wires{quantity.AWG6: 3}, 0.1521, quantity.Trade3_4},
	} {
		area, n := 0.0, 0
		for size, many := range example.wires {
			one, err := ConductorArea("THHN", size)
			if err != nil {
				t.Fatal(err)
			}
			area, n = area+float64(many)*one.Float(), n+many
		}
		if quantity.Compare(area, example.area) != 0 {
			t.Errorf("%s: %v in², want %v", example.kind, area, example.area)
		}
		for _, size := range quantity.TradeSizes() {
			room, err := FillRoom(example.kind, size, n, false)
			if err != nil {
				t.Fatal(err)
			}
			if area <= room.Float() {
				if size != example.want {
					t.Errorf("%s: %v fits first, want %v", example.kind, size, example.want)
				}
				break
			}
		}
	}
}

// same compares a value with a wanted one; it takes the results of a plain
// function as they come.
func same[T comparable](t *testing.T, what string, want T) func(got T, err error) {
	t.Helper()
	return func(got T, err error) {
		t.Helper()
		if err != nil || got != want {
			t.Errorf("%s: %v, %v, want %v", what, got, err, want)
		}
	}
}

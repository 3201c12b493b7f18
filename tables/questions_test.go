package tables

import (
	"math"
	"slices"
	"strings"
	"testing"

	"legwork/quantity"
	"legwork/working"

	"pgregory.net/rapid"
)

// 240.6(A): 10 A is a breaker rating from 2023 on, before only a fuse's.
func TestStandardRatings(t *testing.T) {
	for e, want := range map[edition]int{2017: 37, 2020: 37, 2023: 38} {
		got, err := StandardRatings(e)
		if err != nil || len(got) != want || slices.Contains(got, 10) != (e == 2023) {
			t.Errorf("%d: %v, %v, want %d ratings", e, got, err, want)
		}
	}
	for e, want := range map[edition]quantity.Amps{2017: 15, 2020: 15, 2023: 10} {
		same(t, "device for 8 A", want)(NextStandard(e, 8))
	}
	same(t, "24.85 A of S1", quantity.Amps(25))(NextStandard(2020, 24.85))
	same(t, "a rating met exactly", quantity.Amps(20))(NextStandard(2020, 1.25*16))
	same(t, "just over a rating", quantity.Amps(25))(NextStandard(2020, 20.01))
	for _, fault := range []func() (quantity.Amps, error){
		func() (quantity.Amps, error) { return NextStandard(2011, 20) },
		func() (quantity.Amps, error) { return NextStandard(2020, 6001) },
		func() (quantity.Amps, error) { return NextStandard(2020, quantity.Amps(math.NaN())) },
		func() (quantity.Amps, error) { return LargestDevice(2011, 20) },
		func() (quantity.Amps, error) { return LargestDevice(2020, quantity.Amps(math.NaN())) },
	} {
		if got, err := fault(); err == nil {
			t.Errorf("%v A, want an error", got)
		}
	}
}

// 240.4(B) and (C): up to 800 A the next size up, above it never.
func TestLargestDevice(t *testing.T) {
	for ampacity, want := range map[quantity.Amps]quantity.Amps{
		18.24: 20, 20: 20, 24.32: 25, 65: 70, 760: 800, 800: 800, 801: 800, 999: 800, 1000: 1000, 0: 0,
	} {
		same(t, working.Figure(ampacity.Float(), "A"), want)(LargestDevice(2020, ampacity))
	}
}

// 240.4(D), with the items of 2017 and 2023.
func TestSmallConductor(t *testing.T) {
	for _, c := range []struct {
		size         quantity.Size
		m            Material
		most         quantity.Amps
		y2017, y2023 string
	}{
		{quantity.AWG14, Copper, 15, "240.4(D)(3)", "240.4(D)(4)"},
		{quantity.AWG12, Copper, 20, "240.4(D)(5)", "240.4(D)(6)"},
		{quantity.AWG10, Copper, 30, "240.4(D)(7)", "240.4(D)(8)"},
		{quantity.AWG12, Aluminum, 15, "240.4(D)(4)", "240.4(D)(5)"},
		{quantity.AWG10, Aluminum, 25, "240.4(D)(6)", "240.4(D)(7)"},
	} {
		most, ok := SmallConductor(c.size, c.m)
		q, src, err := SmallConductorOf(c.size, c.m)()
		if most != c.most || !ok || err != nil || q != quantity.Quantity(c.most) {
			t.Errorf("%v %v: %v, %v, %v, want %v", c.size, c.m, most, q, err, c.most)
		}
		if src.Clause(2017) != c.y2017 || src.Clause(2023) != c.y2023 {
			t.Errorf("%v %v: clauses %s and %s, want %s and %s", c.size, c.m, src.Clause(2017), src.Clause(2023), c.y2017, c.y2023)
		}
	}
	if most, ok := SmallConductor(quantity.AWG8, Copper); ok {
		t.Errorf("8 AWG is capped at %v A", most)
	}
	if _, _, err := SmallConductorOf(quantity.AWG8, Copper)(); err == nil {
		t.Error("8 AWG: no error")
	}
}

// 110.14(C)(1): unmarked 60 C up to 100 A, 75 C above.
func TestTerminalColumn(t *testing.T) {
	for _, c := range []struct {
		circuit      quantity.Amps
		marked, want int
	}{
		{30, 0, 60}, {100, 0, 60}, {101, 0, 75}, {30, 60, 60}, {30, 75, 75}, {200, 60, 60}, {200, 75, 75}, {30, 90, 75},
	} {
		same(t, working.Figure(c.circuit.Float(), "A"), c.want)(TerminalColumn(c.circuit, c.marked))
	}
	if got, err := TerminalColumn(30, 70); err == nil {
		t.Errorf("marked 70 C: %d, want an error", got)
	}
	if got, err := TerminalColumn(quantity.Amps(math.NaN()), 0); err == nil {
		t.Errorf("no mark, unknown circuit: %d, want an error", got)
	}
}

// 310.15(B)(3)(c) (2017), 310.15(B)(2) (2020, 2023): 33 C, below 7/8 in, from
// 2023 below 3/4 in; XHHW-2 exempt.
func TestRooftopAdder(t *testing.T) {
	const inch = quantity.Feet(1.0 / 12)
	for _, c := range []struct {
		e      edition
		height quantity.Feet
		i      Insulation
		want   bool
	}{
		{2017, 0, "THWN-2", true}, {2020, inch / 2, "THWN-2", true}, {2020, inch * 7 / 8, "THWN-2", false}, {2020, inch, "THWN-2", false},
		{2020, inch * 13 / 16, "THWN-2", true}, {2023, inch * 13 / 16, "THWN-2", false}, {2023, inch * 3 / 4, "THWN-2", false},
		{2023, inch / 2, "THWN-2", true}, {2023, inch / 2, "XHHW-2", false}, {2017, 0, "XHHW-2", false}, {2017, 0, "XHHW", true},
		{2020, quantity.Feet(math.NaN()), "THWN-2", true},
	} {
		r, err := RooftopAdder(c.e)
		if err != nil || r.Adder != 33 || r.Adds(c.height, c.i) != c.want {
			t.Errorf("%d, %v ft, %s: %+v, %v, want %v", c.e, c.height, c.i, r, err, c.want)
		}
	}
	for _, e := range []edition{2014, 2026} {
		if r, err := RooftopAdder(e); err == nil {
			t.Errorf("%d: %+v, want an error", e, r)
		}
	}
}

func TestAmbientFactor(t *testing.T) {
	for _, c := range []struct {
		ambient quantity.Celsius
		column  int
		want    quantity.Ratio
	}{
		{-20, 90, 1.15}, {10, 60, 1.29}, {30, 75, 1}, {34, 90, 0.96}, {35, 90, 0.96}, {35.5, 90, 0.91}, {36, 90, 0.91}, {55, 90, 0.76},
		{67, 90, 0.58}, {58, 60, 0}, {71, 75, 0}, {85, 90, 0.29}, {85, 75, 0},
		{30 + 5e-14, 90, 1}, // the dust of binary fractions moves no band
	} {
		same(t, working.Figure(c.ambient.Float(), "°C"), c.want)(AmbientFactor(c.ambient, c.column))
	}
	for _, ambient := range []quantity.Celsius{85.1, 120, quantity.Celsius(math.NaN())} {
		if f, err := AmbientFactor(ambient, 90); err == nil {
			t.Errorf("%v C: %v, want an error", ambient, f)
		}
	}
}

// ANSI C84.1, table 1.
func TestServiceVoltage(t *testing.T) {
	for _, c := range []struct {
		r         Range
		nominal   quantity.Volts
		low, high quantity.Volts
	}{
		{RangeA, 120, 114, 126}, {RangeA, 240, 228, 252}, {RangeB, 120, 110, 127}, {RangeB, 240, 220, 254}, {RangeA, 208, 197, 218}, {RangeB, 208, 191, 220},
	} {
		low, high, err := ServiceVoltage(c.r, c.nominal)
		if low != c.low || high != c.high || err != nil {
			t.Errorf("range %s at %v V: %v to %v, %v, want %v to %v", c.r, c.nominal, low, high, err, c.low, c.high)
		}
		_, src, err := ServiceHighOf(c.r, c.nominal)()
		if src.Mark != fromMemory || src.Clause(2020) != "ANSI C84.1, table 1" || err != nil {
			t.Errorf("range %s at %v V: %+v, %v, want it marked from memory", c.r, c.nominal, src, err)
		}
	}
	if low, high, err := ServiceVoltage(RangeA, 277); err == nil {
		t.Errorf("277 V: %v to %v, want an error", low, high)
	}
}

func TestOtherQuestions(t *testing.T) {
	same(t, "1 conductor", quantity.Percent(53))(FillLimit(1, false))
	same(t, "2 conductors", quantity.Percent(31))(FillLimit(2, false))
	same(t, "3 conductors", quantity.Percent(40))(FillLimit(3, false))
	same(t, "9 conductors in a nipple", quantity.Percent(60))(FillLimit(9, true))
	same(t, "nipple of 3/4 in EMT", quantity.SquareInches(0.320))(FillRoom(EMT, quantity.Trade3_4, 2, true))
	same(t, "bare 10 AWG, stranded", quantity.SquareInches(0.011))(BareArea(quantity.AWG10, Stranded))
	same(t, "10 AWG solid", quantity.OhmsPerKFt(1.21))(Resistance(quantity.AWG10, Copper, Solid))
	same(t, "THHN/THWN-2 is as thick as either", quantity.SquareInches(0.0211))(ConductorArea("THHN/THWN-2", quantity.AWG10))
	same(t, "XHHW-2/RHW-2 is as thick as the thicker", quantity.SquareInches(0.0437))(ConductorArea("XHHW-2/RHW-2", quantity.AWG10))
	same(t, "ground behind 30 A", quantity.AWG10)(EquipmentGround(30, Copper))
	same(t, "ground behind 201 A", quantity.AWG4)(EquipmentGround(201, Copper))
	same(t, "aluminum ground behind 100 A", quantity.AWG6)(EquipmentGround(100, Aluminum))
	same(t, "electrode conductor of a 2/0 Cu service", quantity.AWG4)(ElectrodeConductor(quantity.AWG2_0, Copper, Copper))
	same(t, "electrode conductor of a 4/0 Al service", quantity.AWG4)(ElectrodeConductor(quantity.AWG4_0, Aluminum, Copper))
	same(t, "electrode conductor of a 4 AWG service", quantity.AWG8)(ElectrodeConductor(quantity.AWG4, Copper, Copper))
	same(t, "electrode conductor of a 400 kcmil service", quantity.AWG1_0)(ElectrodeConductor(quantity.KCMil400, Copper, Copper))
	same(t, "depth with grounded parts opposite", quantity.Feet(3))(WorkingDepth(2))
	same(t, "busbar rule in 2023", "705.12(B)(2)")(Clause("busbar 120", 2023))
	same(t, "power control in 2017", "")(Clause("power control", 2017))
	same(t, "label deleted in 2023", "")(Clause("interconnection label", 2023))
	trip, err := Trip("III", "OV1")
	if err != nil || trip.Default != 1.1 || trip.Clearing != 13 {
		t.Errorf("OV1 in category III: %+v, %v, want 1.10 after 13 s", trip, err)
	}
	if !Editions("2020-2023").Covers(2020) || Editions("2020-2023").Covers(2017) || !Editions("all").Covers(2017) || !Editions("2023").Covers(2023) {
		t.Error("editions of a row are misread")
	}
}

func TestMissingRows(t *testing.T) {
	for want, err := range map[string]error{
		"conductor table: no 6 AWG, solid; there is 14 AWG to 8 AWG":                     second(Resistance(quantity.AWG6, Copper, Solid)),
		"ampacity table: no 14 AWG aluminum; there is 12 AWG to 500 kcmil":               second(Ampacity(quantity.AWG14, Aluminum, 75)),
		"ampacity table: no column for 80 C; there is 60, 75 and 90":                     second(Ampacity(quantity.AWG10, Copper, 80)),
		`ampacity table: no material ""; there is copper and aluminum`:                   second(Ampacity(quantity.AWG10, "", 75)),
		"ambient correction table: no 90 °C; the most is 85 °C":                          second(AmbientFactor(90, 90)),
		"bundling table: no 0 conductors; the least is 1":                                second(BundlingFactor(0)),
		"equipment ground table: no 900 A; the most is 800 A":                            second(EquipmentGround(900, Copper)),
		"standard ratings table: no 2011 edition; there is 2017, 2020 and 2023":          second(NextStandard(2011, 20)),
		"conductor areas table: no 300 kcmil THWN-2; there is 14 AWG to 250 kcmil":       second(ConductorArea("THWN-2", quantity.KCMil300)),
		"raceways table: no EMT of no trade size; there is 1/2, 3/4, 1, 1-1/4, 1-1/2, 2": second(RacewayRow(EMT, quantity.NoTradeSize)),
		"impedance table: no 14 AWG aluminum; there is 12 AWG to 500 kcmil":              second(Impedance(quantity.AWG14, Aluminum, InPVC)),
	} {
		if err == nil || err.Error() != want {
			t.Errorf("got  %v\nwant %s", err, want)
		}
	}
	if size, err := DwellingService(400, Aluminum); size != quantity.NoSize || err == nil || !strings.Contains(err.Error(), "600 kcmil") {
		t.Errorf("400 A of aluminum: %v, %v, want the 600 kcmil named", size, err)
	}
}

func second[T any](_ T, err error) error { return err }

func TestCellsOnASheet(t *testing.T) {
	for e, clause := range map[edition]string{2017: "310.15(B)(16)", 2020: "310.16", 2023: "310.16"} {
		w := working.NewSheet(e)
		a := w.Cell("A_90", "table ampacity", AmpacityOf(quantity.AWG10, Copper, 90))
		if from := a.From(); a.String() != "40 A" || from.Clause != clause || from.Path != "ampacity" || from.Mark != "" || from.Kind != working.Table {
			t.Errorf("%d: %s from %+v, want 40 A from %s", e, a, a.From(), clause)
		}
	}
	w := working.NewSheet(2020)
	if a := w.Cell("A_90", "table ampacity", AmpacityOf(quantity.AWG14, Aluminum, 90)); a.Known() || len(a.Missing()) != 1 {
		t.Errorf("14 AWG aluminum: %s, missing %v, want it unknown", a, a.Missing())
	}
	// The sum of ambient and adder must be of one unit.
	air := w.Cell("T_roof", "rooftop adder", RooftopAdderOf(2020)).Plus(working.Of(quantity.Celsius(34), "ambient", working.Origin{}))
	if air.String() != "67 °C" {
		t.Errorf("34 C on a roof with the adder: %s, want 67 °C", air)
	}
	for what, c := range map[string]struct {
		look working.Lookup
		want string
		mark string
	}{
		"C seen in print":        {FaultConstantOf(quantity.AWG6, Copper, InPVC), "2430", ""},
		"C from memory":          {FaultConstantOf(quantity.AWG6, Copper, InSteel), "2425", fromMemory},
		"terminal":               {TerminalColumnOf(30, 75), "75 °C", ""},
		"insulation, wet":        {InsulationColumnOf("THHN/THWN", Copper, true), "75 °C", fromMemory},
		"insulation, dry":        {InsulationColumnOf("THHN/THWN", Copper, false), "90 °C", ""},
		"ambient":                {AmbientFactorOf(55, 90), "0.76", ""},
		"bundling":               {BundlingFactorOf(4), "0.8", ""},
		"fill":                   {FillLimitOf(5, false), "40 %", ""},
		"room":                   {FillRoomOf(EMT, quantity.Trade3_4, 5, false), "0.213 in²", ""},
		"area":                   {ConductorAreaOf("THWN-2", quantity.AWG10), "0.0211 in²", ""},
		"bare area":              {BareAreaOf(quantity.AWG8, Solid), "0.013 in²", ""},
		"resistance":             {ResistanceOf(quantity.AWG10, Copper, Stranded), "1.24 Ω/kft", ""},
		"impedance":              {ImpedanceOf(quantity.AWG10, Copper, InPVC), "1.1 Ω/kft", ""},
		"circular mils":          {CircularMilsOf(quantity.AWG10), "10380 cmil", ""},
		"ground":                 {EquipmentGroundOf(30, Copper), "10380 cmil", ""},
		"next standard":          {NextStandardOf(2020, 24.85), "25 A", ""},
		"largest device":         {LargestDeviceOf(2020, 24.32), "25 A", ""},
		"rooftop threshold, 3/4": {RooftopThresholdOf(2023), "0.06 ft", ""},
		"low end of range A":     {ServiceLowOf(RangeA, 240), "228 V", fromMemory},
		"over-voltage":           {VoltageTripOf("III", "OV1"), "1.1", seenInPart},
		"working depth":          {WorkingDepthOf(2), "3 ft", ""},
	} {
		got := w.Cell("x", what, c.look)
		if got.String() != c.want || got.From().Mark != c.mark {
			t.Errorf("%s: %s marked %q, want %s marked %q", what, got, got.From().Mark, c.want, c.mark)
		}
	}
}

func TestHotterNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(-40, 85).Draw(t, "ambient")
		b := rapid.Float64Range(a, 85).Draw(t, "hotter")
		column := rapid.SampledFrom([]int{60, 75, 90}).Draw(t, "column")
		cool, err := AmbientFactor(quantity.Celsius(a), column)
		hot, errHot := AmbientFactor(quantity.Celsius(b), column)
		if err != nil || errHot != nil || hot > cool {
			t.Fatalf("%v C gives %v, %v C gives %v; %v %v", a, cool, b, hot, err, errHot)
		}
	})
}

func TestNextStandardIsTheTightest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := rapid.SampledFrom([]edition{2017, 2020, 2023}).Draw(t, "edition")
		least := quantity.Amps(rapid.Float64Range(0, 6000).Draw(t, "current"))
		got, err := NextStandard(e, least)
		if err != nil || quantity.Compare(got.Float(), least.Float()) < 0 {
			t.Fatalf("%v A: %v, %v", least, got, err)
		}
		ratings, err := StandardRatings(e)
		if err != nil || !slices.Contains(ratings, got) {
			t.Fatalf("%v A is no standard rating of %d", got, e)
		}
		for _, r := range ratings {
			if r < got && quantity.Compare(r.Float(), least.Float()) >= 0 {
				t.Fatalf("%v A: %v, but %v suffices", least, got, r)
			}
		}
	})
}

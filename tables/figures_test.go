package tables

import (
	"fmt"
	"math"
	"testing"

	"legwork/quantity"
)

// within reports whether got is printed as want with so many decimals: the
// tolerance is half the last printed digit, and the dust of binary fractions.
func within(got, want float64, decimals int) bool {
	return math.Abs(got-want) <= 0.5*math.Pow10(-decimals)+1e-9
}

func TestColumnsRiseAndFall(t *testing.T) {
	rising := func(what string, values ...float64) {
		t.Helper()
		for i := 1; i < len(values); i++ {
			if values[i] <= values[i-1] {
				t.Errorf("%s: %v does not rise after %v", what, values[i], values[i-1])
			}
		}
	}
	columns := map[string][]float64{}
	add := func(key string, v float64) { columns[key] = append(columns[key], v) }

	for _, r := range ampacityRows() {
		key := "ampacity of " + string(r.Material)
		add(key+", size", float64(r.Size))
		add(key+" at 60 C", r.A60.Float())
		add(key+" at 75 C", r.A75.Float())
		add(key+" at 90 C", r.A90.Float())
		rising(key+" "+r.Size.String(), r.A60.Float(), r.A75.Float(), r.A90.Float())
	}
	for _, r := range ambientRows() {
		add("ambient bands", r.High.Float())
		for key, f := range map[string]quantity.Ratio{"60": r.F60, "75": r.F75, "90": r.F90} {
			if f > 0 {
				add("ambient factor, negative, column "+key, -f.Float())
			}
		}
	}
	for i, r := range bundlingRows() {
		add("bundling, negative", -r.Percent.Float())
		if i > 0 && r.Low != bundlingRows()[i-1].High+1 {
			t.Errorf("bundling: a gap before %d conductors", r.Low)
		}
	}
	for _, r := range Raceways() {
		add(string(r.Kind)+" diameter", r.Diameter)
		add(string(r.Kind)+" area", r.Total.Float())
		rising(string(r.Kind)+" "+r.Size.String(), r.Two.Float(), r.More.Float(), r.One.Float(), r.Nipple.Float(), r.Total.Float())
	}
	for _, r := range areaRows() {
		add(r.Types, r.Area.Float())
	}
	for _, r := range Conductors() {
		add("circular mils, "+string(r.Form), r.Area.Float())
		add("conductance of copper, "+string(r.Form), 1/r.Copper.Float())
		add("conductance of aluminum, "+string(r.Form), 1/r.Aluminum.Float())
		rising("resistance of "+r.Size.String(), r.Copper.Float(), r.Aluminum.Float())
	}
	for _, r := range groundRows() {
		add("device of the equipment ground", r.Device.Float())
		add("copper equipment ground", float64(r.Copper))
		add("aluminum equipment ground", float64(r.Aluminum))
	}
	for _, r := range electrodeRows() {
		add("copper electrode conductor", float64(r.Copper))
		add("aluminum electrode conductor", float64(r.Aluminum))
	}
	for _, r := range faultRows() {
		add("C of "+r.Kind, r.C.Float())
	}
	for _, e := range []int{2017, 2020, 2023} {
		ratings, err := StandardRatings(edition(e))
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range ratings {
			add(fmt.Sprint("standard ratings ", e), r.Float())
		}
	}
	for what, values := range columns {
		if len(values) < 2 {
			t.Errorf("%s: only %d values", what, len(values))
		}
		rising(what, values...)
	}
}

// Chapter 9: an area is π/4 of the diameter squared, and each column of table 4
// is its percentage of the total. Tables print three or four decimals.
func TestAreasFitTheirDiameters(t *testing.T) {
	for _, r := range Raceways() {
		// The diameter is rounded to 0.0005 in: the area may be off by π/2·d·0.0005.
		got, slack := math.Pi/4*r.Diameter*r.Diameter, math.Pi/2*r.Diameter*0.0005+0.0005
		if math.Abs(got-r.Total.Float()) > slack+1e-9 {
			t.Errorf("%s %v: %.4f in² from its diameter, %v printed", r.Kind, r.Size, got, r.Total)
		}
		for percent, printed := range map[float64]quantity.SquareInches{53: r.One, 31: r.Two, 40: r.More, 60: r.Nipple} {
			// The total is itself rounded to 0.0005, which passes on in part.
			if got := percent / 100 * r.Total.Float(); math.Abs(got-printed.Float()) > 0.0005*(1+percent/100)+1e-9 {
				t.Errorf("%s %v: %v %% of %v is %.4f in², %v printed", r.Kind, r.Size, percent, r.Total, got, printed)
			}
		}
	}
	for _, r := range areaRows() {
		// The diameter is rounded to 0.0005 in: the area may be off by π/2·d·0.0005.
		got, slack := math.Pi/4*r.Diameter*r.Diameter, math.Pi/2*r.Diameter*0.0005+0.00005
		if math.Abs(got-r.Area.Float()) > slack+1e-9 {
			t.Errorf("%s %v: %.5f in² from its diameter, %v printed", r.Types, r.Size, got, r.Area)
		}
	}
}

// NFPA 70 (2023), equation 310.15(B): f = √((Tc − Ta) / (Tc − 30)), at the hot
// end of each band.
func TestAmbientFactorsFitTheFormula(t *testing.T) {
	for _, r := range ambientRows() {
		for column, printed := range map[float64]quantity.Ratio{60: r.F60, 75: r.F75, 90: r.F90} {
			rest := column - r.High.Float()
			if rest <= 0 {
				if printed != 0 {
					t.Errorf("%v C column at %v: %v where nothing is left", column, r.High, printed)
				}
				continue
			}
			if got := math.Sqrt(rest / (column - 30)); printed != 0 && !within(got, printed.Float(), 2) {
				t.Errorf("%v C column at %v: %.4f by the formula, %v printed", column, r.High, got, printed)
			}
		}
	}
}

// K = R·CM/1000 is 12.9 Ω·cmil/ft for copper and 21.2 for aluminum at 75 C
// (textbooks). It holds for stranded wire; solid has no lay and 2 percent less.
func TestResistanceFitsTheConstants(t *testing.T) {
	for _, r := range Conductors() {
		if r.Form == Solid {
			continue
		}
		for m, ohms := range map[Material]quantity.OhmsPerKFt{Copper: r.Copper, Aluminum: r.Aluminum} {
			c, err := MetalConstants(m)
			if err != nil {
				t.Fatal(err)
			}
			if got := ohms.Float() * r.Area.Float() / 1000; math.Abs(got/c.K-1) > 0.01 {
				t.Errorf("%v %s: K = %.2f, textbooks say %v", r.Size, m, got, c.K)
			}
		}
	}
}

// Table 9, note 2: Ze = R·PF + X·sin(arccos PF), here at 0.85. R and Ze are
// printed with two digits, X to 0.001: the roundings of all three add up.
func TestEffectiveImpedanceFitsItsParts(t *testing.T) {
	const pf = 0.85
	checked := 0
	for _, r := range impedanceRows() {
		for _, m := range Materials() {
			for _, c := range []Conduit{InPVC, InAluminum, InSteel} {
				o, err := Impedance(r.Size, m, c)
				if err != nil {
					if m == Aluminum && r.Size == quantity.AWG14 {
						continue
					}
					t.Fatal(err)
				}
				sin := math.Sqrt(1 - pf*pf)
				got := o.R.Float()*pf + o.X.Float()*sin
				slack := halfOfSecondDigit(o.R)*pf + 0.0005*sin + halfOfSecondDigit(o.Ze)
				if math.Abs(got-o.Ze.Float()) > slack+1e-9 {
					t.Errorf("%v %s in %s: Ze = %.4f from its parts, %v printed", r.Size, m, c, got, o.Ze)
				}
				checked++
			}
		}
	}
	if checked != 18*6-3 {
		t.Errorf("%d impedances checked, want %d", checked, 18*6-3)
	}
}

func halfOfSecondDigit(v quantity.OhmsPerKFt) float64 {
	return 0.5 * math.Pow10(int(math.Floor(math.Log10(v.Float())))-1)
}

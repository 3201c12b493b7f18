package tables

import (
	"slices"
	"testing"
)

func TestReadMaterial(t *testing.T) {
	for text, want := range map[string]Material{"Cu": Copper, "copper": Copper, "COPPER": Copper, "Al": Aluminum, "aluminum": Aluminum} {
		var got Material
		if err := got.UnmarshalText([]byte(text)); err != nil || got != want {
			t.Errorf("%q: %v, %v, want %v", text, got, err, want)
		}
	}
	kept := Copper
	err := kept.UnmarshalText([]byte("steel"))
	if err == nil || err.Error() != `"steel"; expected copper (Cu) or aluminum (Al)` || kept != Copper {
		t.Errorf("steel: %v, %v", kept, err)
	}
	if Copper.Short() != "Cu" || Aluminum.Short() != "Al" || Material("").Short() != "" || Copper.String() != "copper" {
		t.Errorf("short forms: %s %s %q %s", Copper.Short(), Aluminum.Short(), Material("").Short(), Copper)
	}
}

func TestReadRacewayKind(t *testing.T) {
	for text, want := range map[string]RacewayKind{"EMT": EMT, "emt": EMT, "PVC-40": PVC40, "pvc-80": PVC80, "LFNC-B": LFNCB} {
		var got RacewayKind
		if err := got.UnmarshalText([]byte(text)); err != nil || got != want {
			t.Errorf("%q: %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "PVC", "ENT", "EMT 3/4"} {
		var got RacewayKind
		if err := got.UnmarshalText([]byte(text)); err == nil || got != "" {
			t.Errorf("%q: read as %v, want an error", text, got)
		}
	}
}

func TestRacewayKinds(t *testing.T) {
	for kind, want := range map[RacewayKind]struct {
		metal  bool
		ground GroundUse
	}{
		EMT: {true, GroundYes}, RMC: {true, GroundYes}, IMC: {true, GroundYes},
		FMC: {true, GroundLimited}, LFMC: {true, GroundLimited},
		PVC40: {false, GroundNo}, PVC80: {false, GroundNo}, LFNCB: {false, GroundNo},
	} {
		if kind.Metal() != want.metal || kind.Row().EquipmentGround != want.ground {
			t.Errorf("%s: metal %v, ground %v, want %v", kind, kind.Metal(), kind.Row().EquipmentGround, want)
		}
	}
	var inTable4 []RacewayKind
	for _, r := range Raceways() {
		inTable4 = append(inTable4, r.Kind)
	}
	if got := slices.Compact(inTable4); !slices.Equal(got, RacewayKinds()) || len(RacewayKindRows()) != len(got) {
		t.Errorf("kinds of table 4 %v, of the program %v", got, RacewayKinds())
	}
	if (RacewayKind("")).Metal() || RacewayKind("").Row().EquipmentGround == GroundYes {
		t.Error("a raceway that nobody named counts as metal or as ground")
	}
}

// NFPA 70 (2017), 310.10(C) and Table 310.104(A): THHN is no wet type, THWN is
// good for 75 C, THWN-2 and XHHW-2 for 90 C wet and dry, XHHW for 90 C dry only.
func TestInsulationColumn(t *testing.T) {
	for _, c := range []struct {
		marking  Insulation
		dry, wet int // 0: not allowed
	}{
		{"THWN-2", 90, 90},
		{"THHN/THWN-2", 90, 90},
		{"THHN", 90, 0},
		{"THHN/THWN", 90, 75},
		{"XHHW", 90, 75},
		{"XHHW-2", 90, 90},
		{"RHW-2/USE-2", 90, 90},
		{"THWN", 75, 75},
		{"TW", 60, 60},
		{"XHH", 90, 0},
	} {
		for wet, want := range map[bool]int{false: c.dry, true: c.wet} {
			got, err := InsulationColumn(c.marking, Copper, wet)
			if got != want || (err == nil) != (want > 0) {
				t.Errorf("%s, wet %v: %d, %v, want %d", c.marking, wet, got, err, want)
			}
		}
		if c.marking.Wet() != (c.wet > 0) {
			t.Errorf("%s: wet %v, want %v", c.marking, c.marking.Wet(), c.wet > 0)
		}
	}
	if got, err := InsulationColumn("", Copper, false); err == nil {
		t.Errorf("no marking: %d, want an error", got)
	}
	for _, r := range wetRows() {
		if !slices.Contains(InsulationTypes(), r.Type) {
			t.Errorf("%s is a wet type that the ampacity table does not know", r.Type)
		}
	}
}

func TestReadInsulation(t *testing.T) {
	for text, want := range map[string]Insulation{"THWN-2": "THWN-2", "thhn/thwn-2": "THHN/THWN-2", " XHHW-2 ": "XHHW-2"} {
		var got Insulation
		if err := got.UnmarshalText([]byte(text)); err != nil || got != want {
			t.Errorf("%q: %q, %v, want %q", text, got, err, want)
		}
	}
	for _, text := range []string{"", "/", "THWN-3", "THHN/", "THHN THWN-2", "90 C"} {
		var got Insulation
		if err := got.UnmarshalText([]byte(text)); err == nil || got != "" {
			t.Errorf("%q: read as %q, want an error", text, got)
		}
	}
}

func FuzzReadInsulation(f *testing.F) {
	for _, seed := range []string{"THWN-2", "THHN/THWN-2", "/", "", "xhhw", "ſE"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var once, twice Insulation
		if once.UnmarshalText([]byte(text)) != nil {
			return
		}
		if err := twice.UnmarshalText([]byte(once)); err != nil || twice != once {
			t.Errorf("%q read as %q, and that as %q, %v", text, once, twice, err)
		}
		if column, err := InsulationColumn(once, Copper, false); err != nil {
			t.Errorf("%q was read but has no column: %d, %v", once, column, err)
		}
	})
}

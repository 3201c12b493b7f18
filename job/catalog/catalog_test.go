package catalog_test

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/job/catalog"
)

func TestInventedSaysSo(t *testing.T) {
	entries := catalog.Invented()
	if len(entries) != 11 {
		t.Errorf("%d entries, want 3 inverters, 2 modules, 2 trunks, 1 combiner, 3 terminations", len(entries))
	}
	for _, e := range entries {
		if !bytes.HasPrefix(e.Bytes, []byte("# invented: ")) {
			t.Errorf("%s is not marked as invented in its first line", e.Name)
		}
	}
}

// TestNameplates: typed by hand from the conventions of the scenarios.
func TestNameplates(t *testing.T) {
	all := map[string]job.Equipment{}
	for _, e := range catalog.Invented() {
		all[e.Name] = e.Equipment
	}
	for name, want := range map[string][4]float64{ // VA, A at 240 V, units on 20 A, largest short circuit
		"MI-320": {319, 1.33, 12, 18}, "MI-340": {341, 1.42, 11, 18}, "MI-400": {401, 1.67, 9, 20},
	} {
		v := all[name].Inverters[0]
		if got := [4]float64{float64(v.Power.Value), float64(v.Current240.Value), float64(v.UnitsPer20A240.Value), float64(v.InputShort.Value)}; got != want {
			t.Errorf("%s: got %v, want %v", name, got, want)
		}
	}
	if v := all["MI-340"].Inverters[0]; v.Current208.Value != 1.64 || v.UnitsPer20A208.Value != 9 {
		t.Errorf("MI-340 at 208 V: %v, %v; want 1.64 A, 9 units", v.Current208.Value, v.UnitsPer20A208.Value)
	}
	if v := all["MI-320"].Inverters[0]; v.Current208.Stated() {
		t.Error("MI-320 has no 208 V rating")
	}
	for name, want := range map[string][7]float64{ // W, Vmp, Imp, Voc, Isc, length and width in inches
		"PV-405": {405, 31.0, 13.07, 37.2, 13.90, 67.8, 44.6}, "PV-435": {435, 32.7, 13.31, 39.1, 14.05, 69.4, 44.6},
	} {
		m := all[name].Modules[0]
		got := [7]float64{float64(m.Power.Value), float64(m.VoltageMP.Value), float64(m.CurrentMP.Value), float64(m.VoltageOpen.Value), float64(m.CurrentShort.Value), float64(m.Length.Value) * 12, float64(m.Width.Value) * 12}
		for i := range got {
			if d := got[i] - want[i]; d > 1e-9 || d < -1e-9 {
				t.Errorf("%s: got %v, want %v", name, got, want)
				break
			}
		}
		if m.PowerTemp.Value != -0.34 || m.VoltageTemp.Value != -0.26 {
			t.Errorf("%s: %v and %v per °C, want -0.34 %% and -0.26 %%", name, m.PowerTemp.Value, m.VoltageTemp.Value)
		}
	}
	c := all["CB-3"].Combiners[0]
	if c.Busbar.Value != 150 || c.BranchSpaces.Value != 3 || c.GatewayBreaker.Value != 15 || c.Interrupting.Value != 10000 || c.BranchTorque.Value != 20 || c.LugTorque.Value != 50 {
		t.Errorf("CB-3: %+v", c)
	}
	for name, want := range map[string]float64{"main_60A_2P": 36, "ground_bar_10AWG": 20, "feeder_lug_2AWG_Al": 50} {
		if got := float64(all[name].Terminations[0].Torque.Value); got != want {
			t.Errorf("%s: %v in-lb, want %v", name, got, want)
		}
	}
}

// TestHousesCopiedTheseEntries compares every copied value, where it stands
// aside, and the hash beside it.
func TestHousesCopiedTheseEntries(t *testing.T) {
	entries := map[string]catalog.Entry{}
	for _, e := range catalog.Invented() {
		entries[e.Name] = e
	}
	for _, h := range houses.All(t) {
		lists := reflect.ValueOf(h.Doc.Equipment)
		for i := range lists.NumField() {
			for k := range lists.Field(i).Len() {
				item := lists.Field(i).Index(k)
				name := item.FieldByName("ID").String()
				e, ok := entries[name]
				if !ok || item.FieldByName("From").String() != e.From() {
					t.Errorf("%s: %s is from %q, want %q", h.Name, name, item.FieldByName("From"), e.From())
					continue
				}
				own := reflect.ValueOf(e.Equipment).Field(i).Index(0)
				for f := range own.NumField() {
					if v := own.Field(f); v.Kind() == reflect.Struct && !reflect.DeepEqual(v.FieldByName("Value").Interface(), item.Field(f).FieldByName("Value").Interface()) {
						t.Errorf("%s: %s: %s is %v, in the catalogue %v", h.Name, name, own.Type().Field(f).Name, item.Field(f).FieldByName("Value"), v.FieldByName("Value"))
					}
				}
			}
		}
	}
}

func TestReadOwnFolder(t *testing.T) {
	entries, err := catalog.Read(fstest.MapFS{"M.yaml": {Data: []byte("modules:\n  - {id: M, power: 400 W}\n")}, "notes.txt": {Data: []byte("x")}})
	if err != nil {
		t.Fatal(err)
	}
	// SHA-256 by sha256sum.
	if len(entries) != 1 || entries[0].From() != "catalog/M@d4e8539aef3c" {
		t.Errorf("got %v", entries)
	}
	_, err = catalog.Read(fstest.MapFS{"M.yaml": {Data: []byte("modules:\n  - {id: M, power: 400}\n")}})
	if err == nil || !strings.Contains(err.Error(), `M.yaml:2:20: modules[0].power: "400" has no unit`) {
		t.Errorf("got %v", err)
	}
}

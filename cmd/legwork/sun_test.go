package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// The table of positions of an independent library (sun/testdata/reference),
// through the command: 200 rows within 0.0003°.
func TestSunTable(t *testing.T) {
	const file = "../../sun/testdata/reference/solar_positions.csv"
	var stdout, stderr bytes.Buffer
	if code := run(context.Background(), []string{"sun", "--table", file}, environment(&stdout, &stderr)); code != exitDone {
		t.Fatalf("exit %d: %s", code, &stderr)
	}
	got := csvColumns(t, stdout.Bytes())
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	want := csvColumns(t, src)
	if len(got["id"]) != 200 {
		t.Fatalf("%d rows, want 200", len(got["id"]))
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for i, id := range want["id"] {
		if got["id"][i] != id {
			t.Fatalf("row %d is %s, want %s", i, got["id"][i], id)
		}
		level := math.Cos(number(want["el_airless_deg"][i]) * math.Pi / 180)
		for column, bound := range map[string]float64{"az_deg": 0.0003 / level, "el_airless_deg": 0.0003, "topo_ra_deg": 0.0003, "topo_dec_deg": 0.0003, "distance_au": 5e-6} {
			if off := math.Abs(math.Remainder(number(got[column][i])-number(want[column][i]), 360)); off > bound {
				t.Errorf("%s: %s off by %g", id, column, off)
			}
		}
		if text := want["el_refracted_formula_deg"][i]; text != "" && math.Abs(number(got["el_refracted_deg"][i])-number(text)) > 0.0003 {
			t.Errorf("%s: refracted %s, want %s", id, got["el_refracted_deg"][i], text)
		}
	}
}

// The machine form is what docs/formats says, with and without a plane, and
// where the sun neither rises nor sets.
func TestSunFormIsDocumented(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile("../../docs/formats/sun.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, more := range [][]string{
		{"--lat", "39.74", "--time", "2026-06-21T12:00:00-06:00"},
		{"--lat", "39.74", "--time", "2026-06-21T12:00:00-06:00", "--tilt", "6/12", "--azimuth", "200", "--pressure", "820", "--temperature", "52 F", "--delta-t", "69"},
		{"--lat", "71.29", "--time", "2026-12-21T12:00:00-09:00"},
	} {
		var stdout, stderr bytes.Buffer
		args := append([]string{"sun", "--lon", "-105.18", "--elevation", "1829", "--json"}, more...)
		if code := run(context.Background(), args, environment(&stdout, &stderr)); code != exitDone {
			t.Fatalf("%v: exit %d, %s", args, code, &stderr)
		}
		instance, err := jsonschema.UnmarshalJSON(&stdout)
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(instance); err != nil {
			t.Errorf("%v: %v", args, err)
		}
	}
}

func TestSunBrokenOutput(t *testing.T) {
	one := []string{"sun", "--lat", "1", "--lon", "2", "--elevation", "3", "--time", "2026-06-21T12:00:00Z"}
	for _, args := range [][]string{one, append(one, "--json"), {"sun", "--table", "../../sun/testdata/reference/solar_positions.csv"}} {
		var stderr bytes.Buffer
		if code := run(context.Background(), args, environment(brokenPipe{}, &stderr)); code != exitFault {
			t.Errorf("%v: exit %d, want %d", args, code, exitFault)
		}
	}
}

func csvColumns(t *testing.T, src []byte) map[string][]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(src)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]string{}
	for _, r := range rows[1:] {
		for i, name := range rows[0] {
			out[name] = append(out[name], r[i])
		}
	}
	return out
}

// Nothing that a file holds may break the reader of tables.
func FuzzSunTable(f *testing.F) {
	f.Add("id,utc,lat_deg,lon_deg_east,elev_m,pressure_hPa,temp_C,delta_t_s\na,2026-01-01T00:00:00Z,1,2,3,1013,10,69\n")
	f.Add("id,utc,lat_deg,lon_deg_east,elev_m,pressure_hPa,temp_C,delta_t_s\n\"a\nb\",x,é,,NaN,1e999,10,69\n")
	f.Fuzz(func(t *testing.T, src string) {
		rows, err := readSunTable("f", src)
		if err != nil && len(err.Error()) == 0 {
			t.Error("a fault without words")
		}
		for _, r := range rows {
			if err == nil {
				if a := r.answer(); math.IsNaN(a.Azimuth) || math.IsNaN(a.Refracted) {
					t.Errorf("%+v", a)
				}
			}
		}
	})
}

package sun

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"legwork/quantity"
)

// row is a row of a reference table by column name.
type row map[string]string

// reference reads a table of testdata/reference; SOURCE.csv there names the
// document behind each.
func reference(t testing.TB, name string) []row {
	t.Helper()
	return readRows(t, filepath.Join("testdata", "reference", name))
}

// outside reads a table below LEGWORK_REFERENCE, which is read in place.
func outside(t testing.TB, name string) []row {
	t.Helper()
	folder := os.Getenv("LEGWORK_REFERENCE")
	if folder == "" {
		if os.Getenv("LEGWORK_REQUIRE_ALL") != "" {
			t.Fatal("LEGWORK_REFERENCE is not set, and nothing may be skipped")
		}
		t.Skip("LEGWORK_REFERENCE is not set: not compared with " + name)
	}
	return readRows(t, filepath.Join(folder, "sun", name))
}

func readRows(t testing.TB, path string) []row {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, cells := range records[1:] {
		r := row{}
		for i, column := range records[0] {
			r[column] = cells[i]
		}
		rows = append(rows, r)
	}
	if len(rows) == 0 {
		t.Fatal(path + " has no rows")
	}
	return rows
}

func (r row) number(t testing.TB, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s of %v: %v", column, r, err)
	}
	return v
}

// observation is when and from where a position was seen.
func (r row) observation(t testing.TB) (time.Time, Location, quantity.Seconds) {
	t.Helper()
	at, err := time.Parse(time.RFC3339, r["utc"])
	if err != nil {
		t.Fatal(err)
	}
	return at, Location{
		Latitude: quantity.Degrees(r.number(t, "lat_deg")), Longitude: quantity.Degrees(r.number(t, "lon_deg_east")),
		Elevation: Feet(r.number(t, "elev_m")), Pressure: Hectopascals(r.number(t, "pressure_hPa")),
		Temperature: quantity.Celsius(r.number(t, "temp_C")),
	}, quantity.Seconds(r.number(t, "delta_t_s"))
}

// halfLastDigit is half a unit in the last printed place.
func halfLastDigit(text string) float64 {
	_, frac, _ := strings.Cut(text, ".")
	return 0.5000001 * math.Pow(10, -float64(len(frac)))
}

// near compares a figure with a printed one.
func near(t interface {
	Helper()
	Errorf(string, ...any)
}, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %.6g, want %.6g within %.2g", what, got, want, within)
	}
}

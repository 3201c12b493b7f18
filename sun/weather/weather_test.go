package weather

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"legwork/sun"
	"legwork/where"
)

// public reads a public weather file below LEGWORK_REFERENCE, in place.
func public(t testing.TB, name string) []byte {
	t.Helper()
	folder := os.Getenv("LEGWORK_REFERENCE")
	if folder == "" {
		if os.Getenv("LEGWORK_REQUIRE_ALL") != "" {
			t.Fatal("LEGWORK_REFERENCE is not set, and nothing may be skipped")
		}
		t.Skip("LEGWORK_REFERENCE is not set: " + name + " was not read")
	}
	b, err := os.ReadFile(filepath.Join(folder, "sun", "weather", name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func read(t testing.TB, name string) *File {
	t.Helper()
	f, err := Read(name, public(t, name))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

const (
	goldenCSV = "724666_Golden_CO_TMY3.csv"
	goldenEPW = "USA_CO_Golden-NREL.724666_TMY3.epw"
	phoenix   = "USA_AZ_Phoenix-Sky.Harbor.Intl.AP.722780_TMY3.epw"
	boston    = "USA_MA_Boston-Logan.Intl.AP.725090_TMY3.epw"
)

func TestReadPublicFiles(t *testing.T) {
	for _, tt := range []struct {
		name     string
		format   Format
		latitude float64
		offset   time.Duration
	}{
		{goldenCSV, TMY3, 39.742, -7 * time.Hour},
		{goldenEPW, EPW, 39.74, -7 * time.Hour},
		{phoenix, EPW, 33.45, -7 * time.Hour},
		{boston, EPW, 42.37, -5 * time.Hour},
	} {
		f := read(t, tt.name)
		if f.Format != tt.format || !f.Typical || f.Step != time.Hour || len(f.Records) != 8760 || len(f.Notes) > 0 {
			t.Errorf("%s: %s", tt.name, f.Understood())
		}
		if math.Abs(float64(f.Station.Latitude)-tt.latitude) > 0.011 || f.Station.Offset != tt.offset {
			t.Errorf("%s: %+v", tt.name, f.Station)
		}
		// The first interval is the first hour of January 1, local standard time.
		if want := time.Date(NominalYear, 1, 1, 0, 0, 0, 0, time.UTC).Add(-tt.offset); !f.Records[0].From.Equal(want) {
			t.Errorf("%s: begins %s, want %s", tt.name, f.Records[0].From, want)
		}
		for i := 1; i < len(f.Records); i++ {
			if !f.Records[i].From.Equal(f.Records[i-1].To) {
				t.Fatalf("%s:%d: begins %s, the one before ends %s", tt.name, f.Records[i].Line, f.Records[i].From, f.Records[i-1].To)
			}
		}
	}
}

// The two Golden files hold the same hours.
func TestBothFormsAgree(t *testing.T) {
	a, b := read(t, goldenCSV), read(t, goldenEPW)
	for i := range a.Records {
		x, y := a.Records[i], b.Records[i]
		if x.From != y.From || x.Global != y.Global || x.Beam != y.Beam || x.Diffuse != y.Diffuse || x.Air != y.Air || x.Wind != y.Wind {
			t.Fatalf("line %d and line %d differ:\n%+v\n%+v", x.Line, y.Line, x, y)
		}
	}
}

// The first line of the file, read by eye: 12/31 24:00, 4 C, 811 mbar, 6.2 m/s.
func TestLastHourOfGolden(t *testing.T) {
	r := read(t, goldenCSV).Records[8759]
	if r.SourceYear != 1996 || r.Air.Value != 4 || r.DewPoint.Value != -1 || r.Humidity.Value != 69 || r.Pressure.Value != 811 || r.Wind.Value != 6.2 || r.Albedo.Value != 0.21 || r.Rain.Known {
		t.Errorf("%+v", r)
	}
}

func TestMeasuredFiles(t *testing.T) {
	hourly := read(t, "golden_co_measured_hourly_2012-06.csv")
	if hourly.Typical || hourly.Step != time.Hour || len(hourly.Records) != 720 {
		t.Error(hourly.Understood())
	}
	minutes := read(t, "golden_co_measured_1min_2012-05-17.csv")
	if minutes.Typical || minutes.Step != time.Minute || len(minutes.Records) != 1440 {
		t.Error(minutes.Understood())
	}
	if want := time.Date(2012, 5, 17, 7, 0, 0, 0, time.UTC); !minutes.Records[0].From.Equal(want) {
		t.Errorf("begins %s, want %s", minutes.Records[0].From, want)
	}
	// Stamps end their hours: global less beam on the level less diffuse closes
	// with the sun in the middle of the hour before the stamp, and no other way.
	loc := hourly.Location()
	off := func(shift time.Duration) float64 {
		track := sun.NewTrack(loc, hourly.Records[0].From, hourly.Records[719].To, 66.6)
		sum, n := 0.0, 0.0
		for _, r := range hourly.Records {
			p := track.At(r.From.Add(30*time.Minute + shift))
			if s, ok := r.Sky(); ok && p.Elevation > 10 {
				d := float64(s.Global - s.Diffuse - s.Beam*sun.Irradiance(math.Sin(float64(p.Elevation)*math.Pi/180)))
				sum, n = sum+d*d, n+1
			}
		}
		return math.Sqrt(sum / n)
	}
	middle, late, early := off(0), off(30*time.Minute), off(-30*time.Minute)
	t.Logf("closure, rms W/m²: middle %.1f, half an hour late %.1f, early %.1f", middle, late, early)
	if middle > 15 || late < 30 || early < 30 {
		t.Errorf("closure %.1f, %.1f, %.1f W/m²; a published check has 13.7, 43.0, 39.7", middle, late, early)
	}
}

// epw writes an EPW file with records made by line.
func epw(perHour int, records ...string) string {
	return "LOCATION,Invented Ridge,CO,USA,made,000000,39.74,-105.18,-7.0,1829.0\nDESIGN CONDITIONS,0\nTYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\nHOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,invented\nCOMMENTS 2,\n" +
		fmt.Sprintf("DATA PERIODS,1,%d,Data,Sunday, 1/ 1,12/31\n", perHour) + strings.Join(records, "\n") + "\n"
}

// record is an EPW record with its light and temperature.
func record(year, month, day, hour, minute int, light, air string) string {
	return fmt.Sprintf("%d,%d,%d,%d,%d,flags,%s,-4.0,92,80600,0,0,257,%s,%s,%s,0,0,0,0,180,2.5,9,8", year, month, day, hour, minute, air, light, light, light)
}

func TestMissingMarks(t *testing.T) {
	f, err := Read("marks.epw", []byte(epw(1, record(2023, 1, 1, 1, 0, "9999", "99.9"), record(2023, 1, 1, 2, 0, "0", "-3.0"))))
	if err != nil {
		t.Fatal(err)
	}
	if a := f.Records[0]; a.Global.Known || a.Beam.Known || a.Diffuse.Known || a.Air.Known || !a.Wind.Known {
		t.Errorf("marks read as values: %+v", a)
	}
	if b := f.Records[1]; !b.Global.Known || b.Global.Value != 0 || !b.Air.Known || b.Air.Value != -3 {
		t.Errorf("values read as marks: %+v", b)
	}
	if u := f.Understood(); !strings.Contains(u, "1 without light") || !strings.Contains(u, "1 without temperature") {
		t.Error(u)
	}
}

func TestQuarterHoursAreMeanPower(t *testing.T) {
	f, err := Read("quarters.epw", []byte(epw(4,
		record(2023, 6, 1, 12, 15, "200", "20"), record(2023, 6, 1, 12, 30, "210", "20"), record(2023, 6, 1, 12, 45, "220", "20"), record(2023, 6, 1, 12, 60, "230", "20"), record(2023, 6, 1, 13, 15, "240", "20"))))
	if err != nil {
		t.Fatal(err)
	}
	// 200 Wh/m² in a quarter of an hour is 800 W/m².
	if r := f.Records[0]; r.Global.Value != 800 || !r.From.Equal(time.Date(2023, 6, 1, 18, 0, 0, 0, time.UTC)) || f.Step != 15*time.Minute {
		t.Errorf("%v %+v", f.Step, r)
	}
}

func year(of, days int, skipLeapDay bool) []string {
	var out []string
	for d := time.Date(of, 1, 1, 0, 0, 0, 0, time.UTC); d.Year() == of && days > 0; d, days = d.AddDate(0, 0, 1), days-1 {
		if skipLeapDay && d.Month() == 2 && d.Day() == 29 {
			continue
		}
		for h := 1; h <= 24; h++ {
			out = append(out, record(of, int(d.Month()), d.Day(), h, 0, "0", "1"))
		}
	}
	return out
}

func TestLeapYears(t *testing.T) {
	whole, err := Read("leap.epw", []byte(epw(1, year(2024, 366, false)...)))
	if err != nil || len(whole.Records) != 8784 || whole.Typical || len(whole.Notes) != 0 {
		t.Errorf("%s: %v", whole.Understood(), err)
	}
	short, err := Read("short.epw", []byte(epw(1, year(2024, 366, true)...)))
	if err != nil || len(short.Records) != 8760 || len(short.Notes) != 1 || !strings.Contains(short.Notes[0], "February 29, 2024") {
		t.Errorf("%s: %v", short.Understood(), err)
	}
	if _, err := Read("no.epw", []byte(epw(1, record(2023, 2, 29, 1, 0, "0", "1")))); err == nil {
		t.Error("February 29, 2023 was read")
	}
}

func TestFaultsSayWhere(t *testing.T) {
	good := record(2023, 1, 1, 1, 0, "0", "1")
	for _, tt := range []struct{ name, src, want string }{
		{"empty", "", "f: an empty file"},
		{"a letter", "Dear sir,\nplease", `f:1:1: "Dear sir,"`},
		{"latitude in degrees and minutes", strings.Replace(epw(1, good), "39.74", "39d44", 1), `f:1:44: latitude: "39d44"; expected a number from -90 to 90`},
		{"hour 25", epw(1, record(2023, 1, 1, 25, 0, "0", "1")), `f:9:10: hour, 1 to 24: "25"`},
		{"hour missing", epw(1, good, record(2023, 1, 1, 3, 0, "0", "1")), "f:10:1: date and time: 2023-01-01 03:00; expected 1h0m0s after the record before, 2023-01-01 01:00"},
		{"letters for light", epw(1, record(2023, 1, 1, 1, 0, "n/a", "1")), `f:9:44: global horizontal, Wh/m2: "n/a"; expected a number`},
		{"too much light", epw(1, record(2023, 1, 1, 1, 0, "5000", "1")), `"5000"; expected -20 to 2000`},
		{"line cut off", epw(1, good, "2023,1,1,2,0,flags,1"), "f:10:1: 7 fields; expected 22 or more"},
		{"heading only", "LOCATION,a,b,c,d,e,1,2,0,3\nDESIGN CONDITIONS", "the file ends in its heading"},
		{"no columns", "1,\"a, b\",CO,-7,39.7,-105.1,1800\nDate,Time,Sunshine\n", "f:2:1: column names: no DHI, DNI, Dry-bulb, GHI"},
	} {
		_, err := Read("f", []byte(tt.src))
		var first where.Error
		if err == nil || !errors.As(err, &first) || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s:\ngot  %v\nwant %s", tt.name, err, tt.want)
		}
	}
}

// A file with faults still says what was understood, and a file of another kind
// does not drown its reader.
func TestFaultsKeepWhatWasUnderstood(t *testing.T) {
	f, err := Read("f", []byte(epw(1, record(2023, 1, 1, 1, 0, "12", "1"), record(2023, 1, 1, 2, 0, "x", "1"))))
	if err == nil || f == nil || len(f.Records) != 2 || f.Records[0].Global.Value != 12 || f.Records[1].Global.Known {
		t.Errorf("%v: %+v", err, f)
	}
	_, err = Read("f", []byte(epw(1, strings.Split(strings.Repeat("nonsense\n", 1000), "\n")...)))
	var all where.Errors
	if !errors.As(err, &all) || len(all) > mostFaults+1 || !strings.Contains(all[len(all)-1].Came, "more faults") {
		t.Errorf("%d faults: %v", len(all), err)
	}
}

func TestQuotedNames(t *testing.T) {
	got := line{1, `724666,"GOLDEN, ""THE"" RIDGE",CO,é,x`}.fields()
	want := []field{{"724666", 1}, {`GOLDEN, "THE" RIDGE`, 8}, {"CO", 32}, {"é", 35}, {"x", 37}}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// Read never fails other than by faults with a place, and gives the same again.
func FuzzRead(f *testing.F) {
	f.Add([]byte(epw(1, record(2023, 1, 1, 1, 0, "0", "1"), record(2023, 1, 1, 2, 0, "9999", "99.9"))))
	f.Add([]byte(epw(4, record(2023, 1, 1, 1, 15, "0", "1"))))
	f.Add([]byte("724666,\"GOLDEN\",CO,-7,39.742,-105.179,1829\nDate (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),DNI (W/m^2),DHI (W/m^2),Dry-bulb (C)\n1/1/1999,1:00,0,0,0,-3\n1/1/1999,24:00:00,0,-9900,0,-3\n"))
	f.Add([]byte("LOCATION,,,,,,,,,"))
	f.Fuzz(func(t *testing.T, src []byte) {
		file, err := Read("f", bytes.Clone(src))
		if err != nil {
			var e where.Error
			if !errors.As(err, &e) || e.Came == "" {
				t.Errorf("a fault without what came: %v", err)
			}
		}
		if file == nil {
			if err == nil {
				t.Error("neither a file nor a fault")
			}
			return
		}
		for i, r := range file.Records {
			if err == nil && (!r.From.Before(r.To) || i > 0 && r.From.Before(file.Records[i-1].To)) {
				t.Errorf("record %d runs from %s to %s", i, r.From, r.To)
			}
		}
		if again, _ := Read("f", src); again.Understood() != file.Understood() {
			t.Error("a second reading differs")
		}
	})
}

func BenchmarkRead(b *testing.B) {
	src := public(b, goldenEPW)
	b.SetBytes(int64(len(src)))
	for b.Loop() {
		if _, err := Read("f", src); err != nil {
			b.Fatal(err)
		}
	}
}

package sun

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"legwork/quantity"
)

// ephemScript reads "YYYY/MM/DD HH:MM:SS lat lon meters" a line and prints
// azimuth and airless elevation in degrees.
const ephemScript = `
import sys, math, ephem
for line in sys.stdin:
    day, clock, lat, lon, height = line.split()
    o = ephem.Observer()
    o.lat, o.lon, o.elevation, o.pressure = lat, lon, float(height), 0
    o.date = day + " " + clock
    s = ephem.Sun(o)
    print(math.degrees(s.az), math.degrees(s.alt))
`

// python finds an interpreter that has the astronomy library.
func python(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(name, "-c", "import ephem").Run() == nil {
			return name
		}
	}
	if os.Getenv("LEGWORK_REQUIRE_ALL") != "" {
		t.Fatal("python3-ephem is not installed, and nothing may be skipped")
	}
	t.Skip("python3-ephem is not installed: positions were not compared with it")
	return ""
}

// ephemBound: the library works with its own delta T and takes UTC for UT1,
// as we do; what is left is both sides' rounding and diurnal aberration.
const ephemBound = 0.0003

// A general astronomy library (python3-ephem) runs beside ours over places and
// instants drawn with a seed.
func TestBesideAstronomyLibrary(t *testing.T) {
	interpreter := python(t)
	rng := rand.New(rand.NewPCG(7, 2026))
	type sighting struct {
		at  time.Time
		loc Location
	}
	var sights []sighting
	var in strings.Builder
	for range 500 {
		s := sighting{
			at: time.Date(1990, 1, 1, 0, 0, 0, 0, time.UTC).Add(time.Duration(rng.IntN(36*365*86400)) * time.Second),
			loc: Location{
				Latitude:  quantity.Degrees(math.Round(rng.Float64()*1600000-800000) / 10000),
				Longitude: quantity.Degrees(math.Round(rng.Float64()*3600000-1800000) / 10000),
				Elevation: Feet(math.Round(rng.Float64() * 3000)),
			},
		}
		sights = append(sights, s)
		fmt.Fprintf(&in, "%s %.4f %.4f %.0f\n", s.at.Format("2006/01/02 15:04:05"), s.loc.Latitude, s.loc.Longitude, Meters(s.loc.Elevation))
	}
	cmd := exec.Command(interpreter, "-c", ephemScript)
	cmd.Stdin = strings.NewReader(in.String())
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(sights) {
		t.Fatalf("%d answers, want %d", len(lines), len(sights))
	}
	worst := 0.0
	for i, s := range sights {
		var azimuth, elevation float64
		if _, err := fmt.Sscan(lines[i], &azimuth, &elevation); err != nil {
			t.Fatal(err)
		}
		deltaT, err := DeltaT(s.at)
		if err != nil {
			t.Fatal(err)
		}
		p := At(s.at, s.loc, deltaT)
		off := max(math.Abs(float64(p.Airless)-elevation),
			math.Abs(math.Remainder(float64(p.Azimuth)-azimuth, 360))*math.Cos(elevation*math.Pi/180))
		if worst = max(worst, off); off > ephemBound {
			t.Errorf("%s at %.4f %.4f: off by %.5f°", s.at, s.loc.Latitude, s.loc.Longitude, off)
		}
	}
	t.Logf("worst %.5f°", worst)
}

package place

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"legwork/quantity"
	"legwork/where"
)

// Towns and the clocks they keep.
//
// Source: 49 CFR part 71 and the history of the IANA time zone database, from
// memory; coordinates of the town centers from memory, to a mile.
var towns = []struct {
	name                string
	latitude, longitude quantity.Degrees
	zone                string
	border              bool // another clock within 20 km
}{
	{"Window Rock AZ (Navajo Nation)", 35.680, -109.052, "America/Denver", false},
	{"Tuba City AZ (Navajo Nation)", 36.135, -111.240, "America/Denver", true},
	{"Kykotsmovi AZ (Hopi)", 35.875, -110.620, "America/Phoenix", true},
	{"Page AZ", 36.914, -111.456, "America/Phoenix", true},
	{"Phoenix AZ", 33.448, -112.074, "America/Phoenix", false},
	{"El Paso TX", 31.761, -106.485, "America/Denver", false},
	{"Van Horn TX", 31.040, -104.830, "America/Chicago", true},
	{"Evansville IN", 37.971, -87.571, "America/Chicago", false},
	{"Gary IN", 41.593, -87.346, "America/Chicago", false},
	{"Tell City IN", 37.951, -86.768, "America/Indiana/Tell_City", false},
	{"Indianapolis IN", 39.768, -86.158, "America/Indiana/Indianapolis", false},
	{"Pensacola FL", 30.421, -87.217, "America/Chicago", false},
	{"Tallahassee FL", 30.438, -84.281, "America/New_York", false},
	{"Riggins ID", 45.422, -116.316, "America/Boise", true},
	{"Lewiston ID", 46.417, -117.018, "America/Los_Angeles", false},
	{"Boise ID", 43.615, -116.202, "America/Boise", false},
	{"Ontario OR", 44.027, -116.963, "America/Boise", false},
	{"West Wendover NV", 40.739, -114.073, "America/Denver", true},
	{"Adak AK", 51.880, -176.658, "America/Adak", false},
	{"Honolulu HI", 21.307, -157.858, "Pacific/Honolulu", false},
	{"San Juan PR", 18.466, -66.106, "America/Puerto_Rico", false},
	{"Raleigh NC", 35.780, -78.640, "America/New_York", false},
	{"Denver CO", 39.739, -104.990, "America/Denver", false},
}

func TestTimeZones(t *testing.T) {
	for _, tt := range towns {
		z, err := TimeZone(tt.latitude, tt.longitude)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if z.Choices[0].Name != tt.zone {
			t.Errorf("%s: %+v, want %s first", tt.name, z.Choices, tt.zone)
		}
		if z.Settled() == tt.border {
			t.Errorf("%s: settled is %v: %s", tt.name, z.Settled(), z.Question())
		}
		if z.Settled() && z.Name != tt.zone {
			t.Errorf("%s: %s, want %s", tt.name, z.Name, tt.zone)
		}
	}
}

// Phenix City AL keeps Eastern time though the law says Central: nobody may
// settle that but the person.
func TestBorderCaseAsks(t *testing.T) {
	z, err := TimeZone(32.471, -85.001)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, c := range z.Choices {
		names = append(names, c.Name)
	}
	if z.Settled() || !slices.Contains(names, "America/New_York") || !slices.Contains(names, "America/Chicago") || !strings.Contains(z.Question(), "which clock does the house keep") {
		t.Errorf("%+v: %q", z, z.Question())
	}
}

func TestNoZone(t *testing.T) {
	for name, p := range map[string][2]quantity.Degrees{
		"Paris":              {48.857, 2.352},
		"Raleigh, sign lost": {35.78, 78.64},
		"off the map":        {95, -80},
		"not a number":       {quantity.Degrees(math.NaN()), -80},
		"in the Atlantic":    {35, -50},
	} {
		z, err := TimeZone(p[0], p[1])
		var e where.Error
		if !errors.As(err, &e) {
			t.Errorf("%s: %+v, %v", name, z, err)
		}
	}
}

func TestZonesUnpack(t *testing.T) {
	if n := len(zones()); n < 30 || n > 40 {
		t.Errorf("%d zones", n)
	}
	clocks := map[string]string{}
	for _, z := range zones() {
		clocks[z.name] = z.clock
		if len(z.polygons) == 0 {
			t.Errorf("%s has no land", z.name)
		}
	}
	// Arizona keeps standard time, Denver does not; Detroit and New York agree.
	if clocks["America/Phoenix"] == clocks["America/Denver"] || clocks["America/Detroit"] != clocks["America/New_York"] {
		t.Errorf("clocks: %v", clocks)
	}
}

// Going anywhere in the lower 48, the answer has choices by rising distance, and
// a settled zone is the only choice.
func TestZoneProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := quantity.Degrees(rapid.Float64Range(25, 49).Draw(t, "latitude"))
		lon := quantity.Degrees(rapid.Float64Range(-124, -67).Draw(t, "longitude"))
		z, err := TimeZone(lat, lon)
		if err != nil {
			return // sea, Mexico, Canada
		}
		if z.Settled() != (len(z.Choices) == 1) || z.Settled() != (z.Question() == "") {
			t.Errorf("%+v", z)
		}
		for i := 1; i < len(z.Choices); i++ {
			if z.Choices[i].Distance < z.Choices[i-1].Distance || z.Choices[i].Distance > NearBorder {
				t.Errorf("%+v", z.Choices)
			}
		}
	})
}

func BenchmarkTimeZone(b *testing.B) {
	for b.Loop() {
		if _, err := TimeZone(35.78, -78.64); err != nil {
			b.Fatal(err)
		}
	}
}

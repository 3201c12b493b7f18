package place

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"pgregory.net/rapid"

	"legwork/quantity"
	"legwork/sun"
)

// outside reads a table below LEGWORK_REFERENCE, by column name.
func outside(t testing.TB, name string) []map[string]string {
	t.Helper()
	folder := os.Getenv("LEGWORK_REFERENCE")
	if folder == "" {
		if os.Getenv("LEGWORK_REQUIRE_ALL") != "" {
			t.Fatal("LEGWORK_REFERENCE is not set, and nothing may be skipped")
		}
		t.Skip("LEGWORK_REFERENCE is not set: not compared with " + name)
	}
	f, err := os.Open(filepath.Join(folder, "sun", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, cells := range records[1:] {
		row := map[string]string{}
		for i, column := range records[0] {
			row[column] = cells[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func number(t testing.TB, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func byID() map[string]*Station {
	out := map[string]*Station{}
	for _, s := range stations() {
		out[s.ID] = s
	}
	return out
}

// Every cell of the embedded table against the one that it was reduced from.
func TestStationsAsReduced(t *testing.T) {
	all := byID()
	if len(all) != 1020 {
		t.Fatalf("%d stations, want 1020", len(all))
	}
	same := func(id, what string, got float64, text string) {
		t.Helper()
		if math.Abs(got-number(t, text)) > 1e-9 {
			t.Errorf("%s %s: %g, want %s", id, what, got, text)
		}
	}
	for _, r := range outside(t, "climate/tmy3_stations.csv") {
		s := all[r["station_id"]]
		same(s.ID, "latitude", float64(s.Latitude), r["lat_deg"])
		same(s.ID, "longitude", float64(s.Longitude), r["lon_deg_east"])
		same(s.ID, "elevation", float64(s.Elevation)*0.3048, r["elev_m"])
	}
	months := outside(t, "climate/tmy3_monthly.csv")
	for _, r := range months {
		m := all[r["station_id"]].Month(time.Month(number(t, r["month"])))
		for column, got := range map[string]float64{
			"ghi_kWh_m2_day": float64(m.Global), "dni_kWh_m2_day": float64(m.Beam), "dhi_kWh_m2_day": float64(m.Diffuse),
			"T_mean_C": float64(m.Mean), "T_daily_max_mean_C": float64(m.High), "T_daily_min_mean_C": float64(m.Low),
			"T_ghi_weighted_C": float64(m.Light), "wind_mean_m_s": m.Wind, "albedo_mean": float64(m.Albedo),
		} {
			if r[column] == "" && m.Global == 0 {
				continue // no light to weigh by
			}
			same(r["station_id"], column, got, r[column])
		}
	}
	if len(months) != 12240 {
		t.Errorf("%d months, want 12240", len(months))
	}
}

// Plain sense, over all stations: it is colder at night, days hold more light
// than their diffuse part, a typical year's coldest hour is below every mean.
func TestStationsMakeSense(t *testing.T) {
	for _, s := range stations() {
		for m := time.January; m <= time.December; m++ {
			w := s.Month(m)
			if !(w.Low < w.Mean && w.Mean < w.High) || w.Diffuse > w.Global+0.02 || w.Global > 10 || w.Wind < 0 || w.Albedo < 0 || w.Albedo > 1 || s.coldest > w.Low || math.IsNaN(float64(w.Light)) {
				t.Errorf("%s %s: %+v", s.Name, m, w)
			}
		}
	}
}

func TestDistance(t *testing.T) {
	// A degree of latitude on the mean sphere: 6371.0088 km · π/180 = 111.195 km.
	if got := float64(Distance(40, -105, 41, -105)) * 0.3048; math.Abs(got-111195) > 1 {
		t.Errorf("a degree north is %g m", got)
	}
	// Los Angeles to New York airports, 33°57′N 118°24′W to 40°38′N 73°47′W: 2144
	// nautical miles (E. Williams, Aviation Formulary, worked example).
	if got := float64(Distance(33.95, -118.4, 40.6333, -73.7833)) * 0.3048 / 1852; math.Abs(got-2144) > 2 {
		t.Errorf("Los Angeles to New York is %g nautical miles", got)
	}
}

func TestNearest(t *testing.T) {
	for _, tt := range []struct {
		name, state string
		p           Point
		want        string
	}{
		{"at the sensor", "CO", Point{39.742, -105.179, quantity.Feet(1829 / 0.3048), true}, "724666"},
		{"Phoenix airport", "AZ", Point{33.43, -112.02, 1117, true}, "722780"},
		{"elevation not given", "AZ", Point{Latitude: 33.45, Longitude: -111.98}, "722780"},
	} {
		got, err := Nearest(tt.p, 3)
		if err != nil || len(got) != 3 || got[0].ID != tt.want || got[0].State != tt.state || got[0].HigherKnown != tt.p.ElevationKnown {
			t.Errorf("%s: %v, %v", tt.name, got, err)
		}
	}
	if _, err := Nearest(Point{Latitude: 95}, 1); err == nil {
		t.Error("latitude 95 has a station")
	}
	far, err := Nearest(Point{Latitude: 35, Longitude: -50}, 1)
	if err != nil || !far[0].Far() {
		t.Errorf("in the Atlantic: %v, %v", far, err)
	}
}

// A house high above its valley takes the station of like height.
func TestHeightCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Point{
			Latitude:  quantity.Degrees(rapid.Float64Range(25, 49).Draw(t, "latitude")),
			Longitude: quantity.Degrees(rapid.Float64Range(-124, -67).Draw(t, "longitude")),
			Elevation: quantity.Feet(rapid.Float64Range(0, 9000).Draw(t, "elevation")), ElevationKnown: true,
		}
		withHeight, err1 := Nearest(p, 1)
		p.ElevationKnown = false
		without, err2 := Nearest(p, 1)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if withHeight[0].Distance < without[0].Distance {
			t.Errorf("nearer with height: %v, %v", withHeight[0], without[0])
		}
		if math.Abs(float64(withHeight[0].Higher)) > math.Abs(float64(p.Elevation-without[0].Elevation))+1e-9 {
			t.Errorf("less alike in height: %v, %v", withHeight[0], without[0])
		}
	})
}

// 21 stations whose handbook values are public: the low estimate is never warmer
// than the published extreme annual mean minimum, the high one within a kelvin
// and a half of the mean of the summer months' 2 %.
func TestDesignTemperaturesAgainstPublished(t *testing.T) {
	all := byID()
	compared := 0
	for _, r := range outside(t, "climate/design_temps_published_vs_tmy3.csv") {
		s, ok := all[r["station_id"]]
		if !ok {
			t.Logf("station %s is not in the table", r["station_id"])
			continue
		}
		compared++
		d := DesignTemperatures(Near{Station: s, HigherKnown: true})
		if low := number(t, r["extreme_annual_mean_min_C"]); float64(d.Low) > low {
			t.Errorf("%s: low %.1f C, published %.1f", s.Name, d.Low, low)
		} else if float64(d.Low) < low-10.5 {
			t.Errorf("%s: low %.1f C is far below %.1f", s.Name, d.Low, low)
		}
		if high := number(t, r["mean_of_Jun_Jul_Aug_2pct_C"]); float64(d.High) < high-0.5 || float64(d.High) > high+2 {
			t.Errorf("%s: high %.1f C, published %.1f", s.Name, d.High, high)
		}
	}
	if compared < 15 {
		t.Errorf("only %d stations compared", compared)
	}
}

func TestDesignTemperaturesByHeight(t *testing.T) {
	s := &Station{coldest: -20, hot: 35}
	// 1000 m is 3280.84 ft: 6.5 K.
	above := DesignTemperatures(Near{Station: s, Higher: 3280.84, HigherKnown: true})
	below := DesignTemperatures(Near{Station: s, Higher: -3280.84, HigherKnown: true})
	unknown := DesignTemperatures(Near{Station: s})
	for _, tt := range []struct {
		name      string
		got       Design
		low, high float64
	}{{"above", above, -32.5, 36}, {"below", below, -26, 42.5}, {"unknown", unknown, -26, 36}} {
		if math.Abs(float64(tt.got.Low)-tt.low) > 0.001 || math.Abs(float64(tt.got.High)-tt.high) > 0.001 {
			t.Errorf("%s: %v to %v, want %v to %v", tt.name, tt.got.Low, tt.got.High, tt.low, tt.high)
		}
	}
}

// Yearly light on tilted planes by the average day of each month, against the
// public-domain radiation data manual (Marion and Wilcox, NREL/TP-463-5607,
// 1961 to 1990): typical years agree with it within 2 %, average days with hourly
// work within 1.2 % for south-facing planes and 7 % for vertical ones.
func TestRadiationManual(t *testing.T) {
	at := map[string]string{"St. Louis MO": "724340", "Boulder CO": "724666"}
	all := byID()
	compared := 0
	for _, r := range outside(t, "climate/redbook_1961_1990_found.csv") {
		s, ok := all[at[r["station"]]]
		if !ok {
			t.Errorf("no station for %s", r["station"])
			continue
		}
		latitude := number(t, r["lat_deg"])
		tilt, limit := 0.0, 0.032
		switch r["tilt"] {
		case "latitude-15":
			tilt = latitude - 15
		case "latitude":
			tilt = latitude
		case "latitude+15":
			tilt = latitude + 15
		default:
			if tilt = number(t, r["tilt"]); tilt == 90 {
				limit = 0.09
			}
		}
		plane := sun.Plane{Tilt: quantity.Degrees(tilt), Azimuth: 180}
		year := 0.0
		for m := time.January; m <= time.December; m++ {
			w := s.Month(m)
			day := sun.AverageDay(m, quantity.Degrees(latitude), sun.KilowattHoursPerM2(w.Global), w.DiffuseShare())
			year += float64(sun.DayOnPlane(day, plane, 0.2)) * float64(time.Date(2026, m+1, 0, 0, 0, 0, 0, time.UTC).Day())
		}
		year /= 365
		want := number(t, r["Year"])
		t.Logf("%s, tilt %s: %.2f kWh/m² a day, manual %.1f: %+.1f %%", r["station"], r["tilt"], year, want, 100*(year/want-1))
		compared++
		// Half the last printed digit on top.
		if math.Abs(year-want) > limit*want+0.05 {
			t.Errorf("%s, tilt %s: %.2f kWh/m² a day, manual %.1f", r["station"], r["tilt"], year, want)
		}
	}
	if compared != 9 {
		t.Errorf("%d planes compared, want 9", compared)
	}
}

// The average day by HDKR against hourly work by Perez over 45 typical years. The
// limits are the worst yearly differences that an independent program found for
// this method.
func TestAverageDayAgainstHourlyWork(t *testing.T) {
	limits := map[string]float64{ // %, by plane
		"south_lat": 1.2, "roof_S20": 1.1, "roof_E25": 8.2, "roof_W25": 7.8, "roof_N20": 2.1, "south_vertical": 7.0,
	}
	all := byID()
	worst := map[string]float64{}
	for _, r := range outside(t, "climate/tilted_from_tmy3_computed.csv") {
		limit, ok := limits[r["plane"]]
		if !ok || r["sky_model"] != "perez1990" {
			continue
		}
		s := all[r["station_id"]]
		plane := sun.Plane{Tilt: quantity.Degrees(number(t, r["tilt_deg"])), Azimuth: quantity.Degrees(number(t, r["azimuth_deg_N0_E90"]))}
		year := 0.0
		for m := time.January; m <= time.December; m++ {
			w := s.Month(m)
			day := sun.AverageDay(m, s.Latitude, sun.KilowattHoursPerM2(w.Global), w.DiffuseShare())
			year += float64(sun.DayOnPlane(day, plane, 0.2)) * float64(time.Date(2026, m+1, 0, 0, 0, 0, 0, time.UTC).Day())
		}
		off := 100 * (year/365/number(t, r["year_kWh_m2_day"]) - 1)
		worst[r["plane"]] = max(worst[r["plane"]], math.Abs(off))
		// The two spread a day by steps of their own; 1 % is left for that.
		if math.Abs(off) > limit+1 {
			t.Errorf("%s, %s: %+.1f %%, limit %g", s.Name, r["plane"], off, limit)
		}
	}
	if len(worst) != len(limits) {
		t.Errorf("planes compared: %v", worst)
	}
	t.Logf("worst yearly difference, %%: %v", worst)
}

package sun

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"legwork/quantity"
)

func TestTransposition(t *testing.T) {
	rows := reference(t, "transposition_values.csv")
	if len(rows) != 56 {
		t.Fatalf("%d rows, want 56", len(rows))
	}
	for _, r := range rows {
		s := Position{Zenith: quantity.Degrees(r.number(t, "zenith_deg")), Azimuth: quantity.Degrees(r.number(t, "sun_azimuth_deg"))}
		p := Plane{Tilt: quantity.Degrees(r.number(t, "tilt_deg")), Azimuth: quantity.Degrees(r.number(t, "plane_azimuth_deg"))}
		sky := Sky{Global: Irradiance(r.number(t, "ghi")), Beam: Irradiance(r.number(t, "dni")), Diffuse: Irradiance(r.number(t, "dhi"))}
		what := r["sky"] + " tilt " + r["tilt_deg"] + " toward " + r["plane_azimuth_deg"]
		near(t, what+" incidence", float64(p.Incidence(s)), r.number(t, "theta_deg"), 0.00051)
		for column, model := range map[string]SkyModel{"sky_isotropic": Isotropic, "sky_hay_davies": HayDavies, "sky_reindl_hdkr": HDKR, "sky_perez1990": Perez} {
			l := OnPlane(model, sky, p, p.Facing(s), SolarConstant, 0.2)
			near(t, what+" "+column, float64(l.Sky()), r.number(t, column), 0.0051)
			near(t, what+" beam", float64(l.Beam), r.number(t, "beam_on_plane"), 0.0051)
			near(t, what+" ground", float64(l.Ground), r.number(t, "ground_albedo0.2"), 0.0051)
			near(t, what+" total", float64(l.Total()), float64(l.Beam+l.Circumsolar+l.Dome+l.Band+l.Ground), 1e-9)
		}
		F1, F2 := 0.0, 0.0
		if sky.Diffuse > 0 {
			F1, F2 = perezFactors(sky, cosd(r.number(t, "zenith_deg")), SolarConstant)
		}
		near(t, what+" F1", F1, r.number(t, "perez_F1"), 5.1e-6)
		near(t, what+" F2", F2, r.number(t, "perez_F2"), 5.1e-6)
	}
}

func TestPerezCoefficients(t *testing.T) {
	rows := reference(t, "perez1990_coefficients.csv")
	if len(rows) != len(perezRows) {
		t.Fatalf("%d rows, want %d", len(perezRows), len(rows))
	}
	for i, r := range rows {
		p := perezRows[i]
		for column, got := range map[string]float64{"epsilon_high": p.up, "F11": p.F11, "F12": p.F12, "F13": p.F13, "F21": p.F21, "F22": p.F22, "F23": p.F23} {
			if want := r.number(t, column); got != want {
				t.Errorf("bin %s: %s = %g, want %g", r["bin"], column, got, want)
			}
		}
	}
}

// Duffie and Beckman, examples 2.15.1 (isotropic) and 2.16.1 (HDKR): latitude
// 40°, February 20, 9 to 10 solar time, tilt 60° south, I = 1.04 MJ/m², ground
// 0.6. Printed 1.17 and 1.28 MJ/m²; beam 0.244, diffuse 0.796.
func TestTextbookPlane(t *testing.T) {
	δ := 23.45 * math.Sin(2*math.Pi*(284+51)/365)
	sun := func(hourAngle float64) Position {
		c := cosd(90-40)*cosd(90-δ) + cosd(40)*cosd(δ)*cosd(hourAngle)
		azimuth := math.Atan2(math.Sin(hourAngle*math.Pi/180), math.Cos(hourAngle*math.Pi/180)*cosd(50)-math.Tan(δ*math.Pi/180)*cosd(40))
		return Position{Zenith: degrees(math.Acos(c)), Azimuth: degrees(azimuth) + 180}
	}
	s := sun(-37.5)
	p := Plane{Tilt: 60, Azimuth: 180}
	near(t, "zenith angle", float64(s.Zenith), 62.20, 0.02)
	near(t, "incidence", float64(p.Incidence(s)), 36.97, 0.02)
	const megajoule = 1e6 / 3600 // W/m² for an hour
	level := cosd(float64(s.Zenith))
	sky := Sky{Global: 1.04 * megajoule, Beam: Irradiance(0.244 * megajoule / level), Diffuse: 0.796 * megajoule}
	outside := Irradiance(1367 * spencer(51))
	near(t, "isotropic, MJ/m²", float64(OnPlane(Isotropic, sky, p, p.Facing(s), outside, 0.6).Total())/megajoule, 1.17, 0.005)
	near(t, "HDKR, MJ/m²", float64(OnPlane(HDKR, sky, p, p.Facing(s), outside, 0.6).Total())/megajoule, 1.28, 0.005)
}

func TestGlass(t *testing.T) {
	for _, r := range reference(t, "iam_values.csv") {
		c := cosd(r.number(t, "theta_deg"))
		if r["theta_deg"] == "90" {
			c = 0
		}
		near(t, "plain at "+r["theta_deg"], GlassPlain(c), r.number(t, "ashrae_b0_0.05"), 1.1e-5)
		near(t, "physical at "+r["theta_deg"], GlassPhysical(c), r.number(t, "physical_n1.526_K4_L2mm"), 1.1e-5)
		near(t, "Martin and Ruiz at "+r["theta_deg"], Glass(c), r.number(t, "martin_ruiz_ar0.16"), 1.1e-5)
	}
	for _, r := range reference(t, "effective_diffuse_angles_brandemuehl_beckman.csv") {
		tilt := quantity.Degrees(r.number(t, "tilt_deg"))
		near(t, "sky at "+r["tilt_deg"], float64(SkyIncidence(tilt)), r.number(t, "sky_theta_e_deg"), 0.00051)
		near(t, "ground at "+r["tilt_deg"], float64(GroundIncidence(tilt)), r.number(t, "ground_theta_e_deg"), 0.00051)
	}
}

func TestGlassProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(0, 1).Draw(t, "cos")
		d := rapid.Float64Range(0, 1).Draw(t, "other cos")
		for _, glass := range []func(float64) float64{Glass, GlassPhysical, GlassPlain} {
			low, high := glass(min(c, d)), glass(max(c, d))
			if low < 0 || high > 1+1e-9 || low > high+1e-9 {
				t.Errorf("cos %g gives %g, cos %g gives %g", min(c, d), low, max(c, d), high)
			}
		}
	})
}

func TestLightProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z := rapid.Float64Range(0, 90).Draw(t, "zenith")
		s := Position{Zenith: quantity.Degrees(z), Azimuth: quantity.Degrees(rapid.Float64Range(0, 360).Draw(t, "sun"))}
		p := Plane{Tilt: quantity.Degrees(rapid.Float64Range(0, 90).Draw(t, "tilt")), Azimuth: quantity.Degrees(rapid.Float64Range(0, 360).Draw(t, "azimuth"))}
		beam := rapid.Float64Range(0, 1000).Draw(t, "beam")
		diffuse := rapid.Float64Range(0, 400).Draw(t, "diffuse")
		sky := Sky{Beam: Irradiance(beam), Diffuse: Irradiance(diffuse), Global: Irradiance(beam*cosd(z) + diffuse)}
		mirrored := Plane{Tilt: p.Tilt, Azimuth: 2*s.Azimuth - p.Azimuth}
		for model := Isotropic; model <= Perez; model++ {
			l := OnPlane(model, sky, p, p.Facing(s), SolarConstant, 0.2)
			if l.Beam < 0 || l.Sky() < -1e-9 || l.Ground < 0 || math.IsNaN(float64(l.Total())) {
				t.Errorf("model %d: %+v", model, l)
			}
			// The sky is alike on both sides of the sun.
			if m := OnPlane(model, sky, mirrored, mirrored.Facing(s), SolarConstant, 0.2); math.Abs(float64(m.Total()-l.Total())) > 1e-6 {
				t.Errorf("model %d: %v W/m², mirrored %v", model, l.Total(), m.Total())
			}
			// A level plane gets what level ground gets, but for low sun.
			if z < 85 {
				level := Plane{Tilt: 0, Azimuth: p.Azimuth}
				if got := OnPlane(model, sky, level, level.Facing(s), SolarConstant, 0.2).Total(); math.Abs(float64(got-sky.Global)) > 1e-6 {
					t.Errorf("model %d: level plane %v, ground %v", model, got, sky.Global)
				}
			}
			if in := l.Through(Glass, p, p.Facing(s)); in.Beam > l.Beam+1e-9 || in.Circumsolar > l.Circumsolar+1e-9 || in.Dome > l.Dome+1e-9 || in.Ground > l.Ground+1e-9 {
				t.Errorf("glass adds light: %+v from %+v", in, l)
			}
		}
	})
}

func TestHorizon(t *testing.T) {
	h, err := NewHorizon([]HorizonPoint{{90, 10}, {270, 30}, {350, 0}, {10, 20}})
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ azimuth, want quantity.Degrees }{
		{90, 10}, {180, 20}, {270, 30}, {0, 10}, {360, 10}, {355, 5}, {5, 15}, {50, 15}, {310, 15},
	} {
		near(t, "skyline", float64(h.Elevation(tt.azimuth)), float64(tt.want), 1e-9)
	}
	for _, tt := range []struct {
		name   string
		sun    Position
		hidden bool
	}{
		{"over the tree", Position{Azimuth: 90, Elevation: 10.1}, false},
		{"behind the tree", Position{Azimuth: 90, Elevation: 9.9}, true},
	} {
		if h.Hides(tt.sun) != tt.hidden {
			t.Errorf("%s: hidden is %v", tt.name, !tt.hidden)
		}
	}
	for name, points := range map[string][]HorizonPoint{
		"two in one direction": {{90, 10}, {90, 20}},
		"north twice":          {{0, 10}, {360, 20}},
		"below level":          {{90, -1}},
		"azimuth of south 0":   {{-90, 5}},
		"not a number":         {{quantity.Degrees(math.NaN()), 5}},
	} {
		if _, err := NewHorizon(points); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// A skyline of even height e all round leaves cos² e of the sky on a level plane.
func TestDomeShare(t *testing.T) {
	level := Plane{}
	for _, e := range []float64{0, 10, 20, 40, 60} {
		h, err := NewHorizon([]HorizonPoint{{0, quantity.Degrees(e)}})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "share", h.DomeShare(level), cosd(e)*cosd(e), 0.02)
	}
	if got := (Horizon{}).DomeShare(Plane{Tilt: 30, Azimuth: 180}); got != 1 {
		t.Errorf("level horizon leaves %g", got)
	}
	l := Light{Beam: 500, Circumsolar: 50, Dome: 100, Band: 10, Ground: 5}
	if got := l.Behind(true, 0.9); got.Beam != 0 || got.Circumsolar != 0 || got.Dome != 90 || got.Band != 9 || got.Ground != 5 {
		t.Errorf("%+v", got)
	}
	if got := l.Behind(false, 1); got != l {
		t.Errorf("%+v", got)
	}
}

// Duffie and Beckman, table 1.6.1: the mean day of each month and its declination.
func TestAverageDays(t *testing.T) {
	for i, r := range reference(t, "average_day_of_month.csv") {
		if got, want := float64(averageDay[i]), r.number(t, "n"); got != want {
			t.Errorf("month %s: day %g, want %g", r["month"], got, want)
		}
		steps := AverageDay(time.Month(i+1), 40, 4, 0.4)
		near(t, "declination of month "+r["month"], float64(steps[0].Sun.Declination), r.number(t, "declination_published_D&B_Table_1.6.1"), 0.051)
	}
}

func TestAverageDaySumsToWhatWasGiven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := time.Month(rapid.IntRange(1, 12).Draw(t, "month"))
		latitude := quantity.Degrees(rapid.Float64Range(-49, 49).Draw(t, "latitude"))
		global := rapid.Float64Range(0.5, 9).Draw(t, "kWh/m²")
		share := rapid.Float64Range(0.15, 1).Draw(t, "diffuse share")
		steps := AverageDay(m, latitude, KilowattHoursPerM2(global), share)
		var sum, diffuse float64
		for _, s := range steps {
			sum += float64(s.Sky.Global) * 24 / stepsADay / 1000
			diffuse += float64(s.Sky.Diffuse) * 24 / stepsADay / 1000
		}
		near(t, "global", sum, global, 1e-9*global)
		if diffuse > global*share*(1+1e-9) || diffuse < global*share*0.95 {
			t.Errorf("diffuse %g of %g, want the share %g", diffuse, global, share)
		}
		// Level ground gets back what was given, but for the beam of the last
		// minutes, which is held down.
		near(t, "on level ground", float64(DayOnPlane(steps, Plane{}, 0.2)), global, 0.02*global)
	})
}

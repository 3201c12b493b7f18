package houses_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/quantity"
	"legwork/tables"
)

// number finds each scenario's house.
var number = map[string]string{
	"S1": "quillfeather", "S2": "larkbarrow", "S3": "candlewick", "S4": "saltgrass",
	"S5": "otterbend", "S6": "pennywhistle", "S7": "ocotillo",
}

func TestEveryHouseSaysWhatItIs(t *testing.T) {
	if got := len(houses.Names()); got != len(number) {
		t.Errorf("%d houses, want %d", got, len(number))
	}
	for s, name := range number {
		h := houses.Get(t, name)
		first, _, _ := strings.Cut(string(h.Bytes), "\n")
		if !strings.HasPrefix(first, "# "+s+", invented: ") {
			t.Errorf("%s: first line %q does not tell its number and peculiarity", name, first)
		}
		if !h.Doc.Invented {
			t.Errorf("%s is not marked as invented", name)
		}
	}
}

// facts of one house, typed by hand from the scenarios. Amps, volts, °C and feet.
type facts struct {
	title                        string
	lat, lon, elevation          float64 // elevation in meters
	zone                         string
	hottest, coldest             float64
	code                         int
	voltWatt                     bool
	main, busbar, fault, highest float64
	feed                         job.Feed
	spaces, breakers             int
	planes                       string // name, azimuth, pitch, rows × columns, module, inverter
	branches                     string // id, units, breaker
	runs                         string // id, feet, segments: feet where °C height in inches
	pulled                       string // run, size, ground, neutral, trade size
	connection                   string
}

var want = map[string]facts{
	"S1": {"118 Quillfeather Lane", 35.78, -78.64, 96, "America/New_York", 34, -12, 2020, false, 200, 200, 8100, 244.2, job.FeedTop, 40, 14,
		"S 176 22 2x7 PV-405 MI-340", "A 7 20, B 7 20",
		"home 45: 8 roof 34 4, 25 attic 55, 12 wall 34; pv_output 6: 6 wall 34",
		"home 10 10 - 3/4; pv_output 10 10 10 3/4", "breaker MP [38 40] 30"},
	"S2": {"2207 Larkbarrow Street", 39.74, -104.99, 1609, "America/Denver", 34, -24, 2023, true, 200, 225, 9400, 246.8, job.FeedTop, 42, 14,
		"S 180 34 2x5 PV-435 MI-400, E 90 34 2x4 PV-435 MI-400, W 270 34 2x3 PV-435 MI-400, porch 180 14 1x3 PV-435 MI-400",
		"A 9 20, B 9 20 18ft after 1, C 9 20 22ft after 6",
		"home 62: 6 roof 34 1, 30 attic 52, 26 wall 34; pv_output 12: 12 wall 34",
		"home 10 10 - 3/4; pv_output 6 10 10 1", "breaker MP [40 42] 60"},
	"S3": {"41 Candlewick Terrace", 40.44, -79.99, 370, "America/New_York", 32, -18, 2017, false, 100, 100, 6500, 243.0, job.FeedTop, 20, 15,
		"S 200 30 2x8 PV-405 MI-320", "A 8 20, B 8 20",
		"home 70: 5 roof 32 3, 65 wall 32; pv_output 4: 4 wall 32",
		"home 10 10 - 3/4; pv_output 10 10 10 3/4", "breaker MP [17 19] 30"},
	"S4": {"6 Saltgrass Court", 35.08, -106.65, 1619, "America/Denver", 36, -10, 2020, false, 200, 200, 7200, 241.8, job.FeedCenter, 40, 10,
		"S 165 10 3x8 PV-405 MI-320", "A 12 20, B 12 20",
		"home 40: 28 roof 36 1, 12 wall 36; pv_output 15: 15 wall 36",
		"home 10 10 - 3/4; pv_output 8 10 10 3/4", "breaker MP [18 20] 40"},
	"S5": {"930 Otterbend Road (garage)", 44.98, -93.27, 253, "America/Chicago", 32, -30, 2020, true, 200, 200, 5900, 248.9, job.FeedTop, 40, 8,
		"S 185 27 3x6 PV-435 MI-400", "A 9 20 GP [9 11], B 9 20 GP [10 12]",
		"home 25: 25 wall 32; feeder 180: 180 buried 32",
		"home 10 10 - 3/4", ""},
	"S6": {"77 Pennywhistle Avenue", 41.82, -71.41, 23, "America/New_York", 31, -15, 2023, true, 150, 150, 14200, 243.4, job.FeedTop, 30, 7 + 18,
		"S 155 40 2x10 PV-405 MI-340, W 245 40 2x4 PV-435 MI-400", "A 10 20, B 10 20, C 8 20",
		"home 55: 10 roof 31 4, 45 wall 31; pv_output 18: 18 wall 31",
		"home 10 10 - 3/4; pv_output 6 10 8 1", "supply side PV_switch 6ft"},
	"S7": {"1540 Ocotillo Wren Drive", 33.45, -112.07, 331, "America/Phoenix", 43, 0, 2023, true, 200, 225, 9900, 249.6, job.FeedTop, 40, 7,
		"S 190 18 3x7 PV-405 MI-340, W 280 18 3x4 PV-405 MI-340", "A 11 20, B 11 20, C 11 20",
		"home 70: 38 roof 43 0.5, 32 wall 43; pv_output 10: 10 wall 43",
		"home 10 10 - 3/4; pv_output 6 10 10 1", "breaker MP [38 40] 60"},
}

func TestFacts(t *testing.T) {
	for s, name := range number {
		t.Run(s+" "+name, func(t *testing.T) {
			d, w := houses.Get(t, name).Doc, want[s]
			mp := d.Panels[0]
			equal(t, "title", d.Name, w.title)
			near(t, "latitude", d.Site.Latitude.Value, w.lat)
			near(t, "longitude", d.Site.Longitude.Value, w.lon)
			near(t, "elevation, m", d.Site.Elevation.Value*0.3048, w.elevation)
			equal(t, "time zone", d.Site.TimeZone.Value, w.zone)
			near(t, "hottest", d.Site.Hottest.Value, w.hottest)
			near(t, "coldest", d.Site.Coldest.Value, w.coldest)
			equal(t, "code", d.Site.Code.Value, w.code)
			equal(t, "occupancy", d.Site.Occupancy.Value, job.Dwelling)
			equal(t, "system", d.Service.System.Value, job.SplitPhase)
			near(t, "target", d.Site.RiseTarget.Value, 2)
			equal(t, "volt-watt", d.Service.VoltWatt, job.Fact[bool]{Value: w.voltWatt, Known: true, At: d.Service.VoltWatt.At})
			near(t, "service", d.Service.Rating.Value, w.main)
			near(t, "main", mp.Main.Value, w.main)
			near(t, "busbar", mp.Busbar.Value, w.busbar)
			near(t, "fault current", d.Service.FaultCurrent.Current.Value, w.fault)
			equal(t, "fault kind", d.Service.FaultCurrent.Kind.Value, job.LegToLeg)
			near(t, "highest voltage", d.Service.HighestVoltage.Value, w.highest)
			equal(t, "feed", mp.Feed.Value, w.feed)
			equal(t, "spaces", mp.Spaces.Value, w.spaces)
			equal(t, "breakers", len(mp.Breakers), w.breakers)
			equal(t, "planes", planes(d), w.planes)
			equal(t, "branches", branches(t, d), w.branches)
			equal(t, "runs", runs(d), w.runs)
			equal(t, "pulled", pulled(d), w.pulled)
			equal(t, "connection", connection(d), w.connection)
		})
	}
}

func equal[T comparable](t *testing.T, what string, got, want T) {
	t.Helper()
	if got != want {
		t.Errorf("%s:\n got %v\nwant %v", what, got, want)
	}
}

func near[T ~float64](t *testing.T, what string, got T, want float64) {
	t.Helper()
	if quantity.Compare(float64(got), want) != 0 {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func planes(d *job.Document) string {
	var out []string
	for _, p := range d.Planes {
		out = append(out, fmt.Sprintf("%s %g %g %dx%d %s %s", p.ID, p.Azimuth.Value, p.Pitch.Value, p.Grid.Rows, p.Grid.Columns, p.Module, p.Inverter))
	}
	return strings.Join(out, ", ")
}

func branches(t *testing.T, d *job.Document) string {
	var out []string
	for _, b := range d.Decisions.Branches {
		units, err := job.ExpandUnits(b.Units)
		if err != nil {
			t.Fatal(err)
		}
		s := fmt.Sprintf("%s %d %g", b.ID, len(units), b.Breaker.Value)
		for _, j := range b.Jumpers {
			for i, u := range units {
				if u == j.After {
					s += fmt.Sprintf(" %gft after %d", j.Length, i+1)
				}
			}
		}
		if b.Lands != "combiner" {
			s += fmt.Sprintf(" %s %v", b.Lands, b.Spaces)
		}
		equal(t, "decided by", b.By, job.Person)
		equal(t, "fed at", b.Feed, job.EndFed)
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

func runs(d *job.Document) string {
	var out []string
	for _, r := range d.Runs {
		var parts []string
		for _, s := range r.Segments {
			part := fmt.Sprintf("%g %s %g", s.Length.Value, s.Where.Value, s.Ambient.Value)
			if s.Height.Known {
				part += fmt.Sprintf(" %g", quantity.Snap(float64(s.Height.Value)*12))
			}
			parts = append(parts, part)
		}
		out = append(out, fmt.Sprintf("%s %g: %s", r.ID, r.Length.Value, strings.Join(parts, ", ")))
	}
	return strings.Join(out, "; ")
}

func pulled(d *job.Document) string {
	var out []string
	for _, r := range d.Decisions.Runs {
		c, neutral := r.Conductors, "-"
		if c.Neutral.Known {
			neutral = c.Neutral.Value.Key()
		}
		if c.Material.Value != tables.Copper || c.Insulation.Value != "THWN-2" || c.Raceway.Value != tables.EMT {
			neutral = "wrong material, insulation or raceway"
		}
		out = append(out, strings.Join([]string{r.Run, c.Size.Value.Key(), c.Ground.Value.Key(), neutral, c.Trade.Value.Key()}, " "))
	}
	return strings.Join(out, "; ")
}

func connection(d *job.Document) string {
	var out []string
	for _, c := range d.Decisions.Connections {
		if c.Kind == job.SupplySide {
			out = append(out, fmt.Sprintf("%s %s %gft", c.Kind, c.Disconnect, c.TapLength.Value))
			continue
		}
		out = append(out, fmt.Sprintf("%s %s %v %g", c.Kind, c.Panel, c.Spaces, c.Breaker.Value))
	}
	return strings.Join(out, ", ")
}

// TestPeculiarities holds what only one house has.
func TestPeculiarities(t *testing.T) {
	s3 := houses.Get(t, "candlewick").Doc
	near(t, "S3 load calculation", s3.Service.LoadCalculated.Value, 78)
	equal(t, "S3 tandem", fmt.Sprint(s3.Panels[0].Tandem), "[1 2 3 4]")
	equal(t, "S3 range", breaker(s3, 0, 18), "range 40 [18 20]")

	s4 := houses.Get(t, "saltgrass").Doc
	equal(t, "S4 main between", fmt.Sprint(s4.Panels[0].MainBetween), "[20 21]")

	s5 := houses.Get(t, "otterbend").Doc
	gp := s5.Panels[1]
	near(t, "S5 garage busbar", gp.Busbar.Value, 100)
	near(t, "S5 garage main", gp.Main.Value, 60)
	equal(t, "S5 garage fed from", fmt.Sprintf("%+v", *gp.FedFrom), "{Panel:MP Spaces:[5 7] Run:feeder}")
	equal(t, "S5 feeder breaker", breaker(s5, 0, 5), "garage feeder 60 [5 7]")
	f := s5.Runs[1]
	c := f.Conductors
	equal(t, "S5 feeder", strings.TrimSpace(fmt.Sprintln(f.Existing, c.Size.Value, c.Material.Value, c.Insulation.Value, c.Neutral.Value, c.Ground.Value, c.GroundMaterial.Value, c.Raceway.Value, c.Trade.Value)),
		"true 4 AWG aluminum XHHW-2 4 AWG 8 AWG aluminum PVC-40 1-1/4 in")

	s6 := houses.Get(t, "pennywhistle").Doc
	near(t, "S6 load calculation", s6.Service.LoadCalculated.Value, 118)
	equal(t, "S6 meter socket", s6.Service.SeparateMeter.Value, true)
	equal(t, "S6 service conductors", s6.Service.Conductors.Size.Value, quantity.AWG1_0)
	ds := s6.Disconnects[0]
	equal(t, "S6 disconnect", fmt.Sprint(ds.Rating.Value, ds.Fuses.Value, ds.Interrupting.Value, ds.ServiceRated.Value), fmt.Sprint(quantity.Amps(60), quantity.Amps(60), quantity.Amps(10000), true))
	equal(t, "S6 output ends at the service", s6.Runs[1].To, job.ServiceEnd)
	equal(t, "S6 grid CTs sit below the tap", s6.Meter.Channels[2].Around.Value, "MP")
	taken := map[int]bool{}
	for _, b := range s6.Panels[0].Breakers {
		for _, s := range b.Spaces {
			taken[s] = true
		}
	}
	equal(t, "S6 no space is free", len(taken), 30)
}

func breaker(d *job.Document, panel, space int) string {
	for _, b := range d.Panels[panel].Breakers {
		if b.Spaces[0] == space {
			return fmt.Sprintf("%s %g %v", b.Name.Value, b.Rating.Value, b.Spaces)
		}
	}
	return "none"
}

// TestModulesFitOnTheirPlanes holds the invented outlines against azimuth,
// pitch, module sizes and gaps: the first edge is the eave, read left to right
// by a person who faces the plane, and the grid lies within.
func TestModulesFitOnTheirPlanes(t *testing.T) {
	for _, h := range houses.All(t) {
		for _, p := range h.Doc.Planes {
			var m job.Module
			for _, x := range h.Doc.Equipment.Modules {
				if x.ID == p.Module {
					m = x
				}
			}
			a, pitch := float64(p.Azimuth.Value)*math.Pi/180, float64(p.Pitch.Value)*math.Pi/180
			at := func(i int) (x, y float64) { return float64(p.Outline[i].X), float64(p.Outline[i].Y) }
			x0, y0 := at(0)
			// Along the eave to the right, and up the slope, in plan view.
			along := func(i int) float64 { x, y := at(i); return (x-x0)*-math.Cos(a) + (y-y0)*math.Sin(a) }
			up := func(i int) float64 { x, y := at(i); return (x-x0)*-math.Sin(a) + (y-y0)*-math.Cos(a) }
			if math.Abs(up(1)) > 0.02 || along(1) < 1 || up(2) < 1 || up(3) < 1 {
				t.Errorf("%s %s: the first edge is no eave from left to right", h.Name, p.ID)
			}
			g := p.Grid
			width, length := float64(m.Width.Value), float64(m.Length.Value) // portrait in every house
			wide := float64(g.FromLeft.Value) + float64(g.Columns)*width + float64(g.Columns-1)*float64(g.Gap.Value)
			high := float64(g.FromEave.Value) + float64(g.Rows)*length + float64(g.Rows-1)*float64(g.Gap.Value)
			if slope := up(2) / math.Cos(pitch); wide > along(1) || high > slope {
				t.Errorf("%s %s: modules need %.2f × %.2f ft, the plane has %.2f × %.2f ft", h.Name, p.ID, wide, high, along(1), slope)
			}
		}
	}
}

// TestEveryModuleIsOnABranch: the scenarios leave no position out.
func TestEveryModuleIsOnABranch(t *testing.T) {
	units := map[string]int{"S1": 14, "S2": 27, "S3": 16, "S4": 24, "S5": 18, "S6": 28, "S7": 33}
	for s, name := range number {
		d, places, wired := houses.Get(t, name).Doc, 0, 0
		for _, p := range d.Planes {
			places += p.Grid.Rows * p.Grid.Columns
		}
		for _, b := range d.Decisions.Branches {
			ps, err := job.ExpandUnits(b.Units)
			if err != nil {
				t.Fatal(err)
			}
			wired += len(ps)
		}
		if places != units[s] || wired != units[s] {
			t.Errorf("%s: %d positions, %d on branches, want %d", s, places, wired, units[s])
		}
	}
}

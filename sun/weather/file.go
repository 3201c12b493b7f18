package weather

import (
	"fmt"
	"strings"
	"time"

	"legwork/quantity"
	"legwork/sun"
	"legwork/where"
)

// Format is a form of weather file.
type Format string

// The forms that are read.
const (
	EPW  Format = "EPW"
	TMY3 Format = "TMY3 CSV"
)

// NominalYear is the year that typical years are stamped with. It lies in the
// middle between leap years, where the sun keeps to its mean dates. A typical
// year that has a February 29 gets NominalLeapYear.
const (
	NominalYear     = 2026
	NominalLeapYear = 2028
)

// Station is where the weather was watched, as the file's heading says.
type Station struct {
	ID, Name, State, Country string
	Latitude, Longitude      quantity.Degrees
	Elevation                quantity.Feet
	Offset                   time.Duration // of the file's clock from UTC; not always the civil zone
}

// Reading is a figure that the file may mark as missing.
type Reading[T ~float64] struct {
	Value T
	Known bool
}

// Record is one interval. Light is the mean over it.
type Record struct {
	Line       int       // in the file
	From, To   time.Time // UTC
	SourceYear int       // as the file says, before a typical year was stamped anew

	Global, Beam, Diffuse Reading[sun.Irradiance]
	Air, DewPoint         Reading[quantity.Celsius]
	Humidity              Reading[quantity.Percent]
	Pressure              Reading[sun.Hectopascals]
	Wind                  Reading[sun.MetersPerSecond] // at 10 m
	Cloud                 Reading[quantity.Ratio]      // total cover, 0 to 1
	Albedo                Reading[quantity.Ratio]
	Aerosol               Reading[quantity.Ratio] // optical depth
	Snow                  Reading[quantity.Feet]  // depth on the ground; TMY3 CSV has none
	Rain                  Reading[quantity.Feet]  // depth that fell
}

// Sky is the light of the interval; false when any of its parts is missing.
func (r Record) Sky() (sun.Sky, bool) {
	return sun.Sky{Global: r.Global.Value, Beam: r.Beam.Value, Diffuse: r.Diffuse.Value},
		r.Global.Known && r.Beam.Known && r.Diffuse.Known
}

// File is a weather file, read whole.
type File struct {
	Name    string
	Format  Format
	Station Station
	Typical bool          // months of different years
	Step    time.Duration // of each record
	Records []Record      // in order, without gaps unless Notes says so
	Notes   []string      // what a person should know, in words
}

// Understood says what was read: "EPW, Golden, CO: 8760 records of 1h0m0s …".
func (f *File) Understood() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s: %d records", f.Format, f.Station.Place(), len(f.Records))
	if len(f.Records) > 0 {
		zone := time.FixedZone("", int(f.Station.Offset/time.Second))
		first, last := f.Records[0], f.Records[len(f.Records)-1]
		fmt.Fprintf(&b, " of %v, ", f.Step)
		if f.Typical {
			b.WriteString("a typical year")
		} else {
			fmt.Fprintf(&b, "%s to %s", first.From.In(zone).Format("2006-01-02 15:04"), last.To.In(zone).Format("2006-01-02 15:04"))
		}
		fmt.Fprintf(&b, ", each stamp ending its interval in local standard time, UTC%s", first.From.In(zone).Format("-07:00"))
	}
	if n := f.missing(func(r Record) bool { _, ok := r.Sky(); return !ok }); n > 0 {
		fmt.Fprintf(&b, "; %d without light", n)
	}
	if n := f.missing(func(r Record) bool { return !r.Air.Known }); n > 0 {
		fmt.Fprintf(&b, "; %d without temperature", n)
	}
	for _, n := range f.Notes {
		b.WriteString("; " + n)
	}
	return b.String()
}

// Place is the station's name with its state or country.
func (s Station) Place() string {
	switch {
	case s.State != "" && s.State != "-":
		return s.Name + ", " + s.State
	case s.Country != "":
		return s.Name + ", " + s.Country
	}
	return s.Name
}

func (f *File) missing(lacks func(Record) bool) int {
	n := 0
	for _, r := range f.Records {
		if lacks(r) {
			n++
		}
	}
	return n
}

// Location is the station with its mean pressure and temperature over the file;
// the standard pressure of its height and 15 °C where the file has none.
func (f *File) Location() sun.Location {
	s := f.Station
	loc := sun.Location{
		Latitude: s.Latitude, Longitude: s.Longitude, Elevation: s.Elevation,
		Pressure: sun.PressureAt(s.Elevation), Temperature: 15,
	}
	var p, t, np, nt float64
	for _, r := range f.Records {
		if r.Pressure.Known {
			p, np = p+float64(r.Pressure.Value), np+1
		}
		if r.Air.Known {
			t, nt = t+float64(r.Air.Value), nt+1
		}
	}
	if np > 0 {
		loc.Pressure = sun.Hectopascals(p / np)
	}
	if nt > 0 {
		loc.Temperature = quantity.Celsius(t / nt)
	}
	return loc
}

// Read reads a weather file of either form; the heading tells which. With faults
// it gives all of them, and the file as far as it was understood, nil when even
// the heading was not.
func Read(name string, src []byte) (*File, error) {
	lines := split(src)
	if len(lines) == 0 {
		return nil, where.Error{File: name, Came: "an empty file", Expected: "an EPW or TMY3 CSV weather file"}
	}
	r := &reader{file: &File{Name: name}, lines: lines}
	head := lines[0].fields()
	switch {
	case strings.EqualFold(strings.TrimSpace(head[0].text), "LOCATION"):
		return r.epw(head)
	case len(head) >= 7:
		return r.tmy3(head)
	}
	return nil, where.Error{File: name, Line: 1, Col: 1, Came: short(lines[0].text), Expected: "LOCATION,… (EPW) or a station's number, name, state, offset, latitude, longitude and elevation (TMY3 CSV)"}
}

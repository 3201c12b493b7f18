package weather

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"legwork/quantity"
	"legwork/sun"
	"legwork/where"
)

// reader gathers a file and its faults.
type reader struct {
	file   *File
	lines  []line
	faults where.Errors
	more   int // faults beyond the first mostFaults

	stamps []stamp // one a record
}

// mostFaults are told one by one; a file of another kind would give thousands.
const mostFaults = 20

func (r *reader) fault(e where.Error) {
	if len(r.faults) >= mostFaults {
		r.more++
		return
	}
	e.File = r.file.Name
	r.faults = append(r.faults, e)
}

// faultAt is a fault of one cell.
func (r *reader) faultAt(line int, f field, column, expected string) {
	came := short(f.text)
	if strings.TrimSpace(f.text) == "" {
		came = "nothing stands here"
	}
	r.fault(where.Error{Line: line, Col: f.col, Path: column, Came: came, Expected: expected})
}

func (r *reader) done() (*File, error) {
	if r.more > 0 {
		r.faults = append(r.faults, where.Error{File: r.file.Name, Came: fmt.Sprintf("%d more faults", r.more)})
	}
	return r.file, r.faults.OrNil()
}

// number reads a cell that must be a number within limits.
func (r *reader) number(line int, f field, column string, low, high float64) (float64, bool) {
	v, err := strconv.ParseFloat(strings.TrimSpace(f.text), 64)
	if err != nil || math.IsNaN(v) || v < low || v > high {
		r.faultAt(line, f, column, fmt.Sprintf("a number from %g to %g", low, high))
		return 0, false
	}
	return v, true
}

func (r *reader) whole(line int, f field, column string, low, high int) (int, bool) {
	v, err := strconv.Atoi(strings.TrimSpace(f.text))
	if err != nil || v < low || v > high {
		r.faultAt(line, f, column, fmt.Sprintf("a whole number from %d to %d", low, high))
		return 0, false
	}
	return v, true
}

// station reads the part of the heading that both forms share.
func (r *reader) station(id, name, state, country string, offset, latitude, longitude, elevation field) bool {
	hours, ok1 := r.number(1, offset, "offset from UTC, h", -12, 14)
	lat, ok2 := r.number(1, latitude, "latitude", -90, 90)
	lon, ok3 := r.number(1, longitude, "longitude, east positive", -180, 180)
	height, ok4 := r.number(1, elevation, "elevation, m", -500, 9000)
	r.file.Station = Station{
		ID: strings.TrimSpace(id), Name: strings.Join(strings.Fields(name), " "),
		State: strings.TrimSpace(state), Country: strings.TrimSpace(country),
		Latitude: quantity.Degrees(lat), Longitude: quantity.Degrees(lon), Elevation: sun.Feet(height),
		Offset: time.Duration(math.Round(hours*60)) * time.Minute,
	}
	if !ok1 || !ok2 || !ok3 || !ok4 {
		return false
	}
	if off := math.Remainder(hours-lon/15, 24); math.Abs(off) > 3 {
		r.file.Notes = append(r.file.Notes, fmt.Sprintf("the file's clock is UTC%+g, its longitude %g: one of them may have a wrong sign", hours, lon))
	}
	return true
}

// column says how one quantity is written in a form.
type column struct {
	name      string
	low, high float64                    // of a value that is there
	scale     float64                    // to the unit of the record
	missing   func(v float64) bool       // marks of a value that is not
	put       func(r *Record, v float64) // store it
}

// read reads one cell into the record. An empty cell is missing.
func (r *reader) read(rec *Record, c column, f field) {
	text := strings.TrimSpace(f.text)
	if text == "" {
		return
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) {
		r.faultAt(rec.Line, f, c.name, "a number")
		return
	}
	if c.missing(v) {
		return
	}
	if v < c.low || v > c.high {
		r.faultAt(rec.Line, f, c.name, fmt.Sprintf("%g to %g, or the mark of a missing value", c.low, c.high))
		return
	}
	c.put(rec, v*c.scale)
}

func known[T ~float64](v float64) Reading[T] { return Reading[T]{T(v), true} }

// Limits of what weather can be, wide enough for a minute's mean under broken
// cloud; a few W/m² below zero is a sensor at night.
const (
	leastLight, mostLight       = -20, 2000
	coldest, hottest            = -90, 70
	leastPressure, mostPressure = 300, 1100 // hPa
	mostWind                    = 115       // m/s
	millimeter                  = 0.001 / 0.3048
	centimeter                  = 0.01 / 0.3048
)

// The stores that both forms use.
var (
	putGlobal   = func(r *Record, v float64) { r.Global = known[sun.Irradiance](v) }
	putBeam     = func(r *Record, v float64) { r.Beam = known[sun.Irradiance](v) }
	putDiffuse  = func(r *Record, v float64) { r.Diffuse = known[sun.Irradiance](v) }
	putAir      = func(r *Record, v float64) { r.Air = known[quantity.Celsius](v) }
	putDewPoint = func(r *Record, v float64) { r.DewPoint = known[quantity.Celsius](v) }
	putHumidity = func(r *Record, v float64) { r.Humidity = known[quantity.Percent](v) }
	putPressure = func(r *Record, v float64) { r.Pressure = known[sun.Hectopascals](v) }
	putWind     = func(r *Record, v float64) { r.Wind = known[sun.MetersPerSecond](v) }
	putCloud    = func(r *Record, v float64) { r.Cloud = known[quantity.Ratio](v) }
	putAlbedo   = func(r *Record, v float64) { r.Albedo = known[quantity.Ratio](v) }
	putAerosol  = func(r *Record, v float64) { r.Aerosol = known[quantity.Ratio](v) }
	putRain     = func(r *Record, v float64) { r.Rain = known[quantity.Feet](v) }
	putSnow     = func(r *Record, v float64) { r.Snow = known[quantity.Feet](v) }
)

func from(mark float64) func(float64) bool { return func(v float64) bool { return v >= mark } }

package weather

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"legwork/where"
)

// tmy3Missing is the mark of a missing value.
func tmy3Missing(v float64) bool { return v <= -9900 }

// tmy3Columns are read by the name that starts the column's heading.
//
// Source: NREL/TP-581-43156, table 1-3; names as in public files.
var tmy3Columns = map[string]column{
	"GHI (":           {"GHI, W/m2", leastLight, mostLight, 1, tmy3Missing, putGlobal},
	"DNI (":           {"DNI, W/m2", leastLight, mostLight, 1, tmy3Missing, putBeam},
	"DHI (":           {"DHI, W/m2", leastLight, mostLight, 1, tmy3Missing, putDiffuse},
	"TotCld (":        {"TotCld, tenths", 0, 10, 0.1, tmy3Missing, putCloud},
	"Dry-bulb (":      {"Dry-bulb, C", coldest, hottest, 1, tmy3Missing, putAir},
	"Dew-point (":     {"Dew-point, C", coldest, hottest, 1, tmy3Missing, putDewPoint},
	"RHum (":          {"RHum, %", 0, 110, 1, tmy3Missing, putHumidity},
	"Pressure (":      {"Pressure, mbar", leastPressure, mostPressure, 1, tmy3Missing, putPressure},
	"Wspd (":          {"Wspd, m/s", 0, mostWind, 1, tmy3Missing, putWind},
	"AOD (":           {"AOD", 0, 10, 1, tmy3Missing, putAerosol},
	"Alb (":           {"Alb", 0, 1, 1, tmy3Missing, putAlbedo},
	"Lprecip depth (": {"Lprecip depth, mm", 0, 900, millimeter, tmy3Missing, putRain},
}

// tmy3Needed are the columns without which the file is of no use.
var tmy3Needed = []string{"GHI (", "DNI (", "DHI (", "Dry-bulb ("}

// tmy3 reads a TMY3 CSV file.
func (r *reader) tmy3(head []field) (*File, error) {
	r.file.Format = TMY3
	if !r.station(head[0].text, head[1].text, head[2].text, "", head[3], head[4], head[5], head[6]) {
		_, err := r.done()
		return nil, err
	}
	if len(r.lines) < 2 {
		r.fault(where.Error{Line: 1, Came: "the file ends in its heading", Expected: "a line of column names, then records"})
		return r.done()
	}
	columns, width := r.tmy3Heading(r.lines[1])
	if columns == nil {
		return r.done()
	}
	for _, l := range r.lines[2:] {
		r.tmy3Record(l, columns, width)
	}
	r.settle(r.tmy3Step())
	return r.done()
}

// tmy3Heading finds the columns and how many cells a record needs for them.
func (r *reader) tmy3Heading(l line) (map[int]column, int) {
	names := l.fields()
	at := map[int]column{}
	width := 2
	var lacks []string
	for key, c := range tmy3Columns {
		i := slices.IndexFunc(names, func(f field) bool { return strings.HasPrefix(strings.TrimSpace(f.text), key) })
		if i >= 0 {
			at[i] = c
		}
		if slices.Contains(tmy3Needed, key) {
			if i < 0 {
				lacks = append(lacks, strings.TrimSuffix(key, " ("))
			}
			width = max(width, i+1)
		}
	}
	if len(lacks) > 0 {
		slices.Sort(lacks)
		r.fault(where.Error{Line: l.number, Col: 1, Path: "column names", Came: "no " + strings.Join(lacks, ", "), Expected: "the columns of a TMY3 CSV file"})
		return nil, 0
	}
	return at, width
}

// tmy3Record reads one line. A line without a date is left out.
func (r *reader) tmy3Record(l line, columns map[int]column, width int) {
	f := l.fields()
	if len(f) < width {
		r.fault(where.Error{Line: l.number, Col: 1, Came: fmt.Sprintf("%d fields", len(f)), Expected: fmt.Sprintf("%d or more", width)})
		return
	}
	s, ok := r.tmy3Stamp(l.number, f[0], f[1])
	if !ok {
		return
	}
	rec := Record{Line: l.number, SourceYear: s.year}
	for i, cell := range f {
		if c, ok := columns[i]; ok {
			r.read(&rec, c, cell)
		}
	}
	r.file.Records = append(r.file.Records, rec)
	r.stamps = append(r.stamps, s)
}

// tmy3Stamp reads "6/1/1999" and "24:00", seconds allowed.
func (r *reader) tmy3Stamp(line int, date, clock field) (stamp, bool) {
	var s stamp
	if !numbers(date.text, "/", &s.month, &s.day, &s.year) || s.month < 1 || s.month > 12 || s.day < 1 || s.year < 1800 || s.year > 2200 {
		r.faultAt(line, date, "date", "month/day/year, such as 6/1/1999")
		return s, false
	}
	if !r.date(line, date, s.year, s.month, s.day) {
		return s, false
	}
	var hour, minute, second int
	if !numbers(clock.text, ":", &hour, &minute, &second) && !numbers(clock.text, ":", &hour, &minute) ||
		hour < 0 || hour > 24 || minute < 0 || minute > 59 || second != 0 || hour == 24 && minute > 0 {
		r.faultAt(line, clock, "time", "hours:minutes from 00:01 to 24:00")
		return s, false
	}
	s.minutes = 60*hour + minute
	return s, true
}

// numbers reads exactly as many whole numbers as there are places for.
func numbers(text, sep string, places ...*int) bool {
	parts := strings.Split(strings.TrimSpace(text), sep)
	if len(parts) != len(places) {
		return false
	}
	for i, p := range parts {
		v, err := strconv.Atoi(p)
		if err != nil {
			return false
		}
		*places[i] = v
	}
	return true
}

// tmy3Step is the time from the first record to the second; an hour where that
// is none.
func (r *reader) tmy3Step() time.Duration {
	if len(r.stamps) < 2 {
		return time.Hour
	}
	a, b := r.stamps[0], r.stamps[1]
	step := b.end(b.year).Sub(a.end(a.year))
	if step <= 0 || step > time.Hour {
		return time.Hour
	}
	return step
}

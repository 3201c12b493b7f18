package weather

import (
	"fmt"
	"strings"
	"time"

	"legwork/sun"
	"legwork/where"
)

// epwHeading is how many lines come before the records.
const epwHeading = 8

// epwColumns are the fields that are read, by number from 0.
//
// Source: EnergyPlus documentation, Auxiliary Programs; numbers checked against
// public files. Precipitable water (28) is left out: public files give it in
// differing units.
var epwColumns = map[int]column{
	6:  {"dry bulb, C", coldest, hottest, 1, from(99.9), putAir},
	7:  {"dew point, C", coldest, hottest, 1, from(99.9), putDewPoint},
	8:  {"relative humidity, %", 0, 110, 1, from(999), putHumidity},
	9:  {"pressure, Pa", leastPressure * 100, mostPressure * 100, 0.01, from(999999), putPressure},
	13: {"global horizontal, Wh/m2", leastLight, mostLight, 1, from(9999), putGlobal},
	14: {"direct normal, Wh/m2", leastLight, mostLight, 1, from(9999), putBeam},
	15: {"diffuse horizontal, Wh/m2", leastLight, mostLight, 1, from(9999), putDiffuse},
	21: {"wind speed, m/s", 0, mostWind, 1, from(999), putWind},
	22: {"total sky cover, tenths", 0, 10, 0.1, from(99), putCloud},
	29: {"aerosol optical depth", 0, 10, 1, func(v float64) bool { return v == 0.999 || v >= 999 }, putAerosol},
	30: {"snow depth, cm", 0, 900, centimeter, from(999), putSnow},
	32: {"albedo", 0, 1, 1, from(999), putAlbedo},
	33: {"rain, mm", 0, 900, millimeter, from(999), putRain},
}

// epwFields is how many fields a record must have: up to the wind.
const epwFields = 22

// epw reads an EPW file.
func (r *reader) epw(head []field) (*File, error) {
	r.file.Format = EPW
	if len(head) < 10 {
		r.fault(where.Error{Line: 1, Col: 1, Came: fmt.Sprintf("%d fields", len(head)), Expected: "LOCATION with city, state, country, source, number, latitude, longitude, offset, elevation"})
		_, err := r.done()
		return nil, err
	}
	if !r.station(head[5].text, head[1].text, head[2].text, head[3].text, head[8], head[6], head[7], head[9]) {
		_, err := r.done()
		return nil, err
	}
	if len(r.lines) < epwHeading {
		r.fault(where.Error{Line: len(r.lines), Came: "the file ends in its heading", Expected: "8 lines of heading, then records"})
		return r.done()
	}
	perHour := r.perHour(r.lines[epwHeading-1])
	minutes := 60 / perHour
	for _, l := range r.lines[epwHeading:] {
		r.epwRecord(l, minutes)
	}
	// Light comes as Wh/m² in the interval; as a mean it is that times the
	// intervals of an hour.
	if perHour > 1 {
		for i := range r.file.Records {
			rec := &r.file.Records[i]
			for _, light := range []*Reading[sun.Irradiance]{&rec.Global, &rec.Beam, &rec.Diffuse} {
				light.Value *= sun.Irradiance(perHour)
			}
		}
	}
	r.settle(time.Duration(minutes) * time.Minute)
	return r.done()
}

// perHour reads how many records make an hour from "DATA PERIODS,1,1,…"; 1 with
// a fault when it does not say.
func (r *reader) perHour(l line) int {
	f := l.fields()
	if !strings.EqualFold(strings.TrimSpace(f[0].text), "DATA PERIODS") || len(f) < 3 {
		r.fault(where.Error{Line: l.number, Col: 1, Came: short(l.text), Expected: "DATA PERIODS, their number, records an hour"})
		return 1
	}
	n, ok := r.whole(l.number, f[2], "records an hour", 1, 60)
	if !ok {
		return 1
	}
	if 60%n != 0 {
		r.faultAt(l.number, f[2], "records an hour", "a number that divides 60")
		return 1
	}
	return n
}

// epwRecord reads one line. A line without a date is left out.
func (r *reader) epwRecord(l line, minutes int) {
	f := l.fields()
	if len(f) < epwFields {
		r.fault(where.Error{Line: l.number, Col: 1, Came: fmt.Sprintf("%d fields", len(f)), Expected: fmt.Sprintf("%d or more", epwFields)})
		return
	}
	year, ok1 := r.whole(l.number, f[0], "year", 1800, 2200)
	month, ok2 := r.whole(l.number, f[1], "month", 1, 12)
	day, ok3 := r.whole(l.number, f[2], "day", 1, 31)
	hour, ok4 := r.whole(l.number, f[3], "hour, 1 to 24", 1, 24)
	minute, ok5 := r.whole(l.number, f[4], "minute", 0, 60)
	if !ok1 || !ok2 || !ok3 || !ok4 || !ok5 || !r.date(l.number, f[2], year, month, day) {
		return
	}
	s := stamp{year, month, day, 60 * hour}
	if minutes < 60 {
		if minute == 0 {
			minute = 60
		}
		s.minutes = 60*(hour-1) + minute
	}
	rec := Record{Line: l.number, SourceYear: year}
	for i, cell := range f {
		if c, ok := epwColumns[i]; ok {
			r.read(&rec, c, cell)
		}
	}
	r.file.Records = append(r.file.Records, rec)
	r.stamps = append(r.stamps, s)
}

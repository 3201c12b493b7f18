package main

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"legwork/quantity"
	"legwork/sun"
	"legwork/where"
)

// sunReport is the machine form of a position, schema sun/1.
type sunReport struct {
	Schema      string     `json:"schema"`
	Time        string     `json:"time"`
	Latitude    float64    `json:"lat_deg"`
	Longitude   float64    `json:"lon_deg_east"`
	Elevation   float64    `json:"elev_m"`
	Pressure    float64    `json:"pressure_hPa"`
	Temperature float64    `json:"temp_C"`
	DeltaT      float64    `json:"delta_t_s"`
	Assumed     []string   `json:"assumed"` // which of those nobody gave
	Azimuth     float64    `json:"az_deg"`
	Airless     float64    `json:"el_airless_deg"`
	Refracted   float64    `json:"el_refracted_deg"`
	Zenith      float64    `json:"zenith_deg"`
	RA          float64    `json:"topo_ra_deg"`
	Dec         float64    `json:"topo_dec_deg"`
	HourAngle   float64    `json:"hour_angle_deg"`
	Distance    float64    `json:"distance_au"`
	Equation    float64    `json:"equation_of_time_min"`
	Incidence   *float64   `json:"incidence_deg"` // null without a plane
	Tilt        *float64   `json:"tilt_deg"`
	PlaneAz     *float64   `json:"plane_azimuth_deg"`
	Events      []sunEvent `json:"events"` // of the day of time, in its offset
}

type sunEvent struct {
	Kind sun.EventKind `json:"kind"`
	Time string        `json:"time"`
}

// sunFlags are the texts of the flags; empty is not given.
type sunFlags struct {
	latitude, longitude, elevation, at string
	pressure, temperature, deltaT      string
	tilt, azimuth                      string
	table                              string
	asJSON                             bool
}

func sunCommand(env Env) *cobra.Command {
	var f sunFlags
	c := &cobra.Command{
		Use:   "sun --lat DEG --lon DEG --elevation M --time TIME",
		Short: "Where the sun stands, and when it rises and sets",
		Long: "Position of the sun by the published NREL algorithm, rise, transit and set of that day, and the incidence on a plane.\n" +
			"Angles are degrees, azimuth from true north clockwise, longitude positive east. TIME is RFC 3339 with offset; its offset says which day.\n" +
			"--table answers a CSV file with the columns " + strings.Join(sunTableIn, ",") + ".",
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if f.table != "" {
				return sunTable(env, c, f.table)
			}
			q, err := f.read()
			if err != nil {
				return inputError{err}
			}
			r := q.answer()
			if f.asJSON {
				err = writeJSON(env.Stdout, r)
			} else {
				err = writeSun(env.Stdout, r)
			}
			if err != nil {
				return faultError{err}
			}
			return nil
		},
	}
	c.Flags().StringVar(&f.latitude, "lat", "", "latitude, degrees north")
	c.Flags().StringVar(&f.longitude, "lon", "", "longitude, degrees east: negative in America")
	c.Flags().StringVar(&f.elevation, "elevation", "", "above sea level, in meters or with its unit (6000 ft)")
	c.Flags().StringVar(&f.at, "time", "", "instant, such as 2026-06-21T12:00:00-06:00")
	c.Flags().StringVar(&f.pressure, "pressure", "", "yearly mean pressure, hPa (else of the standard atmosphere, and marked so)")
	c.Flags().StringVar(&f.temperature, "temperature", "", "yearly mean temperature, C or with its unit (52 F) (else 15 C, and marked so)")
	c.Flags().StringVar(&f.deltaT, "delta-t", "", "terrestrial less universal time, s (else by the year)")
	c.Flags().StringVar(&f.tilt, "tilt", "", "tilt of a plane from horizontal, degrees or a pitch (6/12)")
	c.Flags().StringVar(&f.azimuth, "azimuth", "", "azimuth of that plane's downhill side, degrees")
	c.Flags().StringVar(&f.table, "table", "", "answer each row of a CSV file")
	c.Flags().BoolVar(&f.asJSON, "json", false, "machine form, schema sun/1")
	return c
}

// sunQuestion is one instant at one place.
type sunQuestion struct {
	at      time.Time
	loc     sun.Location
	deltaT  quantity.Seconds
	plane   *sun.Plane
	assumed []string
}

// read turns the flags into a question; all their faults at once.
func (f sunFlags) read() (sunQuestion, error) {
	var q sunQuestion
	var faults where.Errors
	fault := func(flag, text, expected string) {
		came := strconv.Quote(text)
		if text == "" {
			came = "nothing came"
		}
		faults = append(faults, where.Error{Path: "--" + flag, Came: came, Expected: expected})
	}
	number := func(flag, text, unit, expected string, low, high float64, v interface{ UnmarshalText([]byte) error }, get func() float64) float64 {
		t := text
		if _, err := strconv.ParseFloat(t, 64); err == nil {
			t += " " + unit
		}
		if text == "" || v.UnmarshalText([]byte(t)) != nil || get() < low || get() > high {
			fault(flag, text, expected)
		}
		return get()
	}
	angle := func(flag, text, expected string, low, high float64) quantity.Degrees {
		var d quantity.Degrees
		number(flag, text, "deg", expected, low, high, &d, func() float64 { return float64(d) })
		return d
	}
	q.loc.Latitude = angle("lat", f.latitude, "-90 to 90 degrees", -90, 90)
	q.loc.Longitude = angle("lon", f.longitude, "-180 to 180 degrees, east positive", -180, 180)
	number("elevation", f.elevation, "m", "meters above sea level, or a height with its unit", -1600, 30000, &q.loc.Elevation, func() float64 { return float64(q.loc.Elevation) })
	var err error
	if q.at, err = time.Parse(time.RFC3339, f.at); err != nil {
		fault("time", f.at, "RFC 3339 with offset, such as 2026-06-21T12:00:00-06:00")
	}
	// Where the machine's own zone has the same offset, Parse answers in that
	// zone, daylight saving and all.
	_, offset := q.at.Zone()
	q.at = q.at.In(time.FixedZone("", offset))
	if f.pressure == "" {
		q.loc.Pressure = sun.PressureAt(q.loc.Elevation)
		q.assumed = append(q.assumed, "pressure_hPa")
	} else if v, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(f.pressure), " hPa"), 64); err != nil || !(v >= 0 && v <= 1100) {
		fault("pressure", f.pressure, "0 to 1100 hPa")
	} else {
		q.loc.Pressure = sun.Hectopascals(v)
	}
	if f.temperature == "" {
		q.loc.Temperature = 15
		q.assumed = append(q.assumed, "temp_C")
	} else {
		number("temperature", f.temperature, "C", "-90 to 70 C, or a temperature with its unit", -90, 70, &q.loc.Temperature, func() float64 { return float64(q.loc.Temperature) })
	}
	if f.deltaT == "" {
		if q.deltaT, err = sun.DeltaT(q.at); err != nil && !q.at.IsZero() {
			faults = append(faults, asFault(err, "--delta-t"))
		}
		q.assumed = append(q.assumed, "delta_t_s")
	} else if v, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(f.deltaT), " s"), 64); err != nil || !(v >= -8000 && v <= 8000) {
		fault("delta-t", f.deltaT, "-8000 to 8000 s")
	} else {
		q.deltaT = quantity.Seconds(v)
	}
	if f.tilt != "" || f.azimuth != "" {
		q.plane = &sun.Plane{
			Tilt:    angle("tilt", f.tilt, "0 to 90 degrees, or a pitch such as 6/12, beside --azimuth", 0, 90),
			Azimuth: angle("azimuth", f.azimuth, "0 to 360 degrees from true north, beside --tilt", 0, 360),
		}
	}
	return q, faults.OrNil()
}

// asFault puts a flag's name on an error that has its own words.
func asFault(err error, path string) where.Error {
	var e where.Error
	if errors.As(err, &e) {
		e.Path = path
		return e
	}
	return where.Error{Path: path, Came: err.Error()}
}

func (q sunQuestion) answer() sunReport {
	p := sun.At(q.at, q.loc, q.deltaT)
	r := sunReport{
		Schema: "sun/1", Time: q.at.Format(time.RFC3339Nano), Assumed: append([]string{}, q.assumed...), Events: []sunEvent{},
		Latitude: quantity.Snap(float64(q.loc.Latitude)), Longitude: quantity.Snap(float64(q.loc.Longitude)), Elevation: quantity.Snap(sun.Meters(q.loc.Elevation)),
		Pressure: quantity.Snap(float64(q.loc.Pressure)), Temperature: quantity.Snap(float64(q.loc.Temperature)), DeltaT: quantity.Snap(float64(q.deltaT)),
		Azimuth: quantity.Snap(float64(p.Azimuth)), Airless: quantity.Snap(float64(p.Airless)), Refracted: quantity.Snap(float64(p.Elevation)),
		Zenith: quantity.Snap(float64(p.Zenith)), RA: quantity.Snap(float64(p.RightAscension)), Dec: quantity.Snap(float64(p.Declination)),
		HourAngle: quantity.Snap(float64(p.HourAngle)), Distance: quantity.Snap(float64(p.Distance)), Equation: quantity.Snap(float64(p.EquationOfTime) / 60),
	}
	if q.plane != nil {
		incidence, tilt, azimuth := quantity.Snap(float64(q.plane.Incidence(p))), float64(q.plane.Tilt), float64(q.plane.Azimuth)
		r.Incidence, r.Tilt, r.PlaneAz = &incidence, &tilt, &azimuth
	}
	start := time.Date(q.at.Year(), q.at.Month(), q.at.Day(), 0, 0, 0, 0, q.at.Location())
	for _, e := range sun.NewTrack(q.loc, start, start.AddDate(0, 0, 1), q.deltaT).Events(start, start.AddDate(0, 0, 1)) {
		r.Events = append(r.Events, sunEvent{e.Kind, e.At.In(q.at.Location()).Format("2006-01-02T15:04:05.000Z07:00")})
	}
	return r
}

func writeSun(w io.Writer, r sunReport) error {
	var b strings.Builder
	assumed := func(name string) string {
		for _, a := range r.Assumed {
			if a == name {
				return " (assumed)"
			}
		}
		return ""
	}
	deg := func(v float64) string { return quantity.Fixed(v, 5) + "°" }
	row := func(name, value string) { fmt.Fprintf(&b, "  %-18s %s\n", name, value) }
	fmt.Fprintf(&b, "sun at %s\n", r.Time)
	row("place", fmt.Sprintf("latitude %s°, longitude %s°, %s m above sea level", quantity.Trim(r.Latitude, 6), quantity.Trim(r.Longitude, 6), quantity.Trim(r.Elevation, 2)))
	row("air", fmt.Sprintf("%s hPa%s, %s °C%s", quantity.Trim(r.Pressure, 1), assumed("pressure_hPa"), quantity.Trim(r.Temperature, 1), assumed("temp_C")))
	row("delta T", quantity.Trim(r.DeltaT, 3)+" s"+strings.Replace(assumed("delta_t_s"), "assumed", "by the year", 1))
	b.WriteString("\n")
	row("azimuth", deg(r.Azimuth)+" from true north clockwise")
	row("elevation", deg(r.Refracted)+" with refraction, "+deg(r.Airless)+" without")
	row("zenith", deg(r.Zenith))
	if r.Incidence != nil {
		row("incidence", fmt.Sprintf("%s on a plane of tilt %s°, azimuth %s°", deg(*r.Incidence), quantity.Trim(*r.Tilt, 2), quantity.Trim(*r.PlaneAz, 2)))
	}
	row("right ascension", deg(r.RA)+" topocentric")
	row("declination", deg(r.Dec)+" topocentric")
	row("distance", quantity.Fixed(r.Distance, 7)+" AU")
	row("equation of time", quantity.Fixed(r.Equation, 2)+" min")
	b.WriteString("\n")
	rises := false
	for _, e := range r.Events {
		row(string(e.Kind), e.Time)
		rises = rises || e.Kind != sun.Transit
	}
	if !rises {
		row("rise, set", "none on this day")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

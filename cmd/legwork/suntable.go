package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"legwork/quantity"
	"legwork/sun"
	"legwork/where"
)

// The columns of legwork sun --table; others that come are left aside.
var (
	sunTableIn  = []string{"id", "utc", "lat_deg", "lon_deg_east", "elev_m", "pressure_hPa", "temp_C", "delta_t_s"}
	sunTableOut = []string{"id", "az_deg", "el_airless_deg", "el_refracted_deg", "topo_ra_deg", "topo_dec_deg", "distance_au"}
)

// sunTable answers a table, or says every fault in it and answers nothing.
func sunTable(env Env, c *cobra.Command, file string) error {
	for _, name := range []string{"lat", "lon", "elevation", "time", "pressure", "temperature", "delta-t", "tilt", "azimuth", "json"} {
		if c.Flags().Changed(name) {
			return inputError{where.Error{Path: "--" + name, Came: "given beside --table", Expected: "all in the columns of the table"}}
		}
	}
	src, err := env.ReadFile(file)
	if err != nil {
		return where.Error{File: file, Came: plainFileError(err), Expected: "a CSV file with the columns " + strings.Join(sunTableIn, ",")}
	}
	rows, err := readSunTable(file, string(src))
	if err != nil {
		return err
	}
	w := csv.NewWriter(env.Stdout)
	out := [][]string{sunTableOut}
	for _, r := range rows {
		p := sun.At(r.at, r.loc, r.deltaT)
		out = append(out, []string{
			r.id, quantity.Fixed(float64(p.Azimuth), 6), quantity.Fixed(float64(p.Airless), 6), quantity.Fixed(float64(p.Elevation), 6),
			quantity.Fixed(float64(p.RightAscension), 6), quantity.Fixed(float64(p.Declination), 6), quantity.Fixed(float64(p.Distance), 8),
		})
	}
	if err := w.WriteAll(out); err != nil {
		return faultError{err}
	}
	return nil
}

type sunRow struct {
	id string
	sunQuestion
}

// readSunTable reads the rows; all faults at once, each with line and column.
func readSunTable(file, src string) ([]sunRow, error) {
	src = strings.TrimPrefix(src, "\ufeff")
	lines := strings.Split(src, "\n")
	r := csv.NewReader(strings.NewReader(src))
	head, err := r.Read()
	if err != nil {
		return nil, csvFault(file, err)
	}
	at := map[string]int{}
	for i, name := range head {
		at[strings.TrimSpace(name)] = i
	}
	var faults where.Errors
	for _, name := range sunTableIn {
		if _, ok := at[name]; !ok {
			try := ""
			if near := where.Nearest(name, head); near != "" {
				try = fmt.Sprintf("is %q meant?", near)
			}
			faults = append(faults, where.Error{File: file, Line: 1, Path: name, Came: "no such column", Expected: strings.Join(sunTableIn, ","), Try: try})
		}
	}
	if faults != nil {
		return nil, faults
	}
	var rows []sunRow
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, faults.OrNil()
		}
		if err != nil {
			return nil, csvFault(file, err)
		}
		fault := func(name, expected string) {
			line, col := r.FieldPos(at[name])
			came := strconv.Quote(cells[at[name]])
			if cells[at[name]] == "" {
				came = "nothing stands here"
			}
			before := lines[line-1][:min(col-1, len(lines[line-1]))]
			faults = append(faults, where.Error{File: file, Line: line, Col: 1 + utf8.RuneCountInString(before), Path: name, Came: came, Expected: expected})
		}
		number := func(name string, low, high float64) float64 {
			v, err := strconv.ParseFloat(strings.TrimSpace(cells[at[name]]), 64)
			if err != nil || math.IsNaN(v) || v < low || v > high {
				fault(name, fmt.Sprintf("a number from %g to %g", low, high))
			}
			return v
		}
		row := sunRow{id: cells[at["id"]]}
		row.at, err = time.Parse(time.RFC3339, strings.TrimSpace(cells[at["utc"]]))
		if err != nil {
			fault("utc", "RFC 3339, such as 2026-06-21T19:00:00Z")
		}
		row.loc = sun.Location{
			Latitude: quantity.Degrees(number("lat_deg", -90, 90)), Longitude: quantity.Degrees(number("lon_deg_east", -180, 180)),
			Elevation: sun.Feet(number("elev_m", -500, 9000)), Pressure: sun.Hectopascals(number("pressure_hPa", 0, 1100)),
			Temperature: quantity.Celsius(number("temp_C", -90, 70)),
		}
		row.deltaT = quantity.Seconds(number("delta_t_s", -8000, 8000))
		rows = append(rows, row)
	}
}

// csvFault is a fault in the form of a CSV file.
func csvFault(file string, err error) error {
	var p *csv.ParseError
	if errors.As(err, &p) {
		return where.Error{File: file, Line: p.Line, Col: p.Column, Came: p.Err.Error()}
	}
	return where.Error{File: file, Came: "an empty file", Expected: "the columns " + strings.Join(sunTableIn, ",")}
}

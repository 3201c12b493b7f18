package place

import (
	"bytes"
	"cmp"
	"compress/gzip"
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"legwork/quantity"
	"legwork/where"
)

//go:embed data/stations.csv.gz
var packedStations []byte

// SourceOfStations names where stations and their figures come from.
const SourceOfStations = "typical years of NREL, TMY3 (NREL/TP-581-43156)"

// Station is a weather station with its typical year in short.
type Station struct {
	ID, Name, State     string
	Latitude, Longitude quantity.Degrees
	Elevation           quantity.Feet
	coldest, hot        quantity.Celsius
	months              [12]Month
}

// KilowattHours of light on a square meter in a day.
type KilowattHours float64

// Month is the weather of a month in a typical year.
type Month struct {
	Global, Beam, Diffuse KilowattHours    // a day, on level ground; Beam facing the sun
	Mean                  quantity.Celsius // of all hours
	High, Low             quantity.Celsius // means of the daily highest and lowest
	Light                 quantity.Celsius // mean weighted by global light: what modules meet; that of all hours in polar night
	Wind                  float64          // m/s at 10 m
	Albedo                quantity.Ratio
}

// DiffuseShare is the part of the global light that comes from the sky; all of
// none in polar night.
func (m Month) DiffuseShare() float64 {
	if m.Global == 0 {
		return 1
	}
	return min(1, float64(m.Diffuse/m.Global))
}

// Month of the typical year.
func (s *Station) Month(m time.Month) Month { return s.months[m-1] }

// stations reads the embedded table. A broken one is our own bug, hence the panic.
var stations = sync.OnceValue(func() []*Station {
	z, err := gzip.NewReader(bytes.NewReader(packedStations))
	if err != nil {
		panic(err)
	}
	r := csv.NewReader(z)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic(err)
	}
	out := make([]*Station, 0, len(rows))
	for _, row := range rows[1:] {
		out = append(out, stationOf(rows[0], row))
	}
	return out
})

func stationOf(heading, row []string) *Station {
	next := 3
	number := func() float64 {
		cell := row[next]
		if cell == "" && strings.HasPrefix(heading[next], "light_") {
			cell = "NaN"
		}
		v, err := strconv.ParseFloat(cell, 64)
		if err != nil {
			panic(fmt.Sprintf("place: station %s: %v", row[0], err))
		}
		next++
		return v
	}
	s := &Station{ID: row[0], Name: row[1], State: row[2]}
	s.Latitude, s.Longitude = quantity.Degrees(number()), quantity.Degrees(number())
	s.Elevation = quantity.Feet(number() / 0.3048)
	s.coldest, s.hot = quantity.Celsius(number()), quantity.Celsius(number())
	for _, put := range []func(m *Month, v float64){
		func(m *Month, v float64) { m.Global = KilowattHours(v) },
		func(m *Month, v float64) { m.Beam = KilowattHours(v) },
		func(m *Month, v float64) { m.Diffuse = KilowattHours(v) },
		func(m *Month, v float64) { m.Mean = quantity.Celsius(v) },
		func(m *Month, v float64) { m.High = quantity.Celsius(v) },
		func(m *Month, v float64) { m.Low = quantity.Celsius(v) },
		func(m *Month, v float64) { m.Light = quantity.Celsius(v) }, // none in polar night
		func(m *Month, v float64) { m.Wind = v },
		func(m *Month, v float64) { m.Albedo = quantity.Ratio(v) },
	} {
		for i := range s.months {
			put(&s.months[i], number())
		}
	}
	for i := range s.months {
		if m := &s.months[i]; math.IsNaN(float64(m.Light)) && m.Global == 0 {
			m.Light = m.Mean
		}
	}
	return s
}

// Near is a station as seen from the house.
type Near struct {
	*Station
	Distance    quantity.Feet
	Higher      quantity.Feet // how much higher the house stands; may be below zero
	HigherKnown bool          // false when nobody gave the elevation of the house
}

// Far says that a station tells little about the house: beyond 60 miles, or more
// than 1000 ft higher or lower.
//
// Assumes: both limits are this program's own, not a standard's.
func (n Near) Far() bool {
	return n.Distance > 60*Mile || n.HigherKnown && math.Abs(float64(n.Higher)) > 1000
}

// String says from where: "Boulder, CO, 12 miles away, 340 ft lower".
func (n Near) String() string {
	s := fmt.Sprintf("%s, %s, %.0f miles away", n.Name, n.State, float64(n.Distance/Mile))
	switch higher := math.Round(float64(n.Higher)); {
	case !n.HigherKnown:
		return s + ", elevation of the house not given"
	case higher > 0:
		return s + fmt.Sprintf(", %.0f ft lower than the house", higher)
	case higher < 0:
		return s + fmt.Sprintf(", %.0f ft higher than the house", -higher)
	}
	return s + ", at the same height"
}

// heightAsDistance is how much nearness a foot of height difference costs: 100 m
// count as 10 km.
//
// Assumes: this program's own weight; mountain stations a valley away are the
// case in mind.
const heightAsDistance = 100

// Nearest lists up to n stations, best first: near, and of like height where the
// house's is known.
//
// Source: TMY3 headings.
// Valid: the point in the United States or near; a coast or a ridge in between
// is not seen.
func Nearest(p Point, n int) ([]Near, error) {
	if !(p.Latitude >= -90 && p.Latitude <= 90 && p.Longitude >= -180 && p.Longitude <= 180) {
		return nil, where.Error{Path: "coordinates", Came: fmt.Sprintf("%g, %g", float64(p.Latitude), float64(p.Longitude)), Expected: "latitude -90 to 90 and longitude -180 to 180"}
	}
	all := make([]Near, 0, len(stations()))
	for _, s := range stations() {
		near := Near{Station: s, Distance: Distance(p.Latitude, p.Longitude, s.Latitude, s.Longitude)}
		if p.ElevationKnown {
			near.Higher, near.HigherKnown = p.Elevation-s.Elevation, true
		}
		all = append(all, near)
	}
	cost := func(n Near) float64 { return float64(n.Distance) + heightAsDistance*math.Abs(float64(n.Higher)) }
	slices.SortStableFunc(all, func(a, b Near) int { return cmp.Compare(cost(a), cost(b)) })
	return all[:max(0, min(n, len(all)))], nil
}

package place

import (
	"fmt"

	"legwork/quantity"
)

// Design is a pair of design temperatures estimated from a typical year. A record
// of the weather service or the handbook's table, where at hand, goes before it.
type Design struct {
	Low  quantity.Celsius // not warmer than the mean of the yearly extremes
	High quantity.Celsius // about the mean of the June, July and August 2 % temperatures
	From Near
}

// lapse is how much colder it gets with height.
//
// Source: U.S. Standard Atmosphere 1976: 6.5 K/km.
const lapse = 0.0065 * 0.3048 // K/ft

const (
	// lowBelow is taken off the coldest hour of a typical year, which lies from
	// 4.2 K below to 5.4 K above the extreme annual mean minimum.
	//
	// Source: 21 stations of both kinds compared.
	lowBelow = 6

	// highAbove is added to the mean of the summer months' 98th percentiles,
	// which lies up to 1.3 K under the handbook's.
	//
	// Source: the same 21 stations.
	highAbove = 1
)

// DesignTemperatures estimates the coldest and hottest temperatures that wires
// and modules are chosen for. A difference in height is counted to the bad side
// only: a house above the station is colder, one below it hotter.
//
// Source: TMY3; the bounds by comparison with 21 published stations.
// Valid: an estimate, low by up to 10 K on the cold side; the person's own figure
// overrules it.
func DesignTemperatures(n Near) Design {
	d := Design{Low: n.coldest - lowBelow, High: n.hot + highAbove, From: n}
	if n.HigherKnown {
		rise := quantity.Celsius(n.Higher) * lapse
		d.Low -= max(0, rise)
		d.High += max(0, -rise)
	}
	return d
}

// String says both temperatures and that they are estimated from where.
func (d Design) String() string {
	return fmt.Sprintf("%s to %s, estimated from %v (%s)", quantity.Show(d.Low, quantity.US), quantity.Show(d.High, quantity.US), d.From, SourceOfStations)
}

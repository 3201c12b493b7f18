// Package quantity holds the units of the trade as types, and each convention
// of the program once.
//
// Values are float64 in one base unit a type; units change only in parsing and
// printing. Every comparison and every printed figure goes through Snap first
// (12 significant digits), so that a limit met exactly passes and a half is
// rounded away from zero: 37.575 prints as 37.58.
//
// UnmarshalText reads what a person writes, always with its unit. Print writes
// what reads back bit for bit; Show writes what people read on a sheet. What is
// read has no sign except temperatures, angles and percentages: a document
// states ratings and distances, and a meter's signed readings come as numbers.
//
// Conventions:
//
//	angle       degrees; azimuth from true north clockwise; pitch from horizontal
//	phasor      RMS magnitude
//	power       positive in the direction that the meter's contract names
//	length      feet, one way
//	interval    half open, in UTC
//	temperature degrees Celsius
//
// It leaves out arithmetic with a record; that is package working.
package quantity

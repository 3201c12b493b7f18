// Package quantity holds the units of the trade as types, and each convention
// of the program once.
//
// Values are float64 in one base unit a type; units change only in parsing and
// printing. Every comparison and every printed figure goes through Snap first
// (12 significant digits), so that a limit met exactly passes and a half is
// rounded away from zero: 37.575 prints as 37.58.
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

package tables

import (
	"fmt"
	"strings"

	"legwork/quantity"
	"legwork/working"
)

// Range is a voltage range of ANSI C84.1.
type Range string

// Range A is for ordinary service; B is for short and rare excursions.
const (
	RangeA Range = "A"
	RangeB Range = "B"
)

// VoltageRange is one row of ANSI C84.1 for 120/240 V.
type VoltageRange struct {
	Range      Range          `col:"range"`
	Kind       string         `col:"kind"` // service, or utilization with its editions
	LowLN      quantity.Volts `col:"min_L_N"`
	HighLN     quantity.Volts `col:"max_L_N"`
	LowLL      quantity.Volts `col:"min_L_L"`
	HighLL     quantity.Volts `col:"max_L_L"`
	Confidence string         `col:"confidence"`
	Note       string         `col:"note"`
}

// VoltageRanges lists ANSI C84.1 for 120/240 V, from memory.
var VoltageRanges = rows[VoltageRange]("voltage-ranges")

// VoltageLimit is a voltage or frequency limit at the point of connection, from
// ANSI C84.1 and IEEE 1547. Base and limits are volts, hertz or seconds, as the
// row says; zero where the row gives none.
type VoltageLimit struct {
	Standard string  `col:"standard"`
	What     string  `col:"what"`
	Base     float64 `col:"base_V,blank"`
	Low      float64 `col:"min_V,blank"`
	High     float64 `col:"max_V,blank"`
	LowPU    float64 `col:"min_pu,blank"`
	HighPU   float64 `col:"max_pu,blank"`
	Mark     string  `col:"mark"` // S seen, M from memory
}

// VoltageLimits lists the limits.
var VoltageLimits = rows[VoltageLimit]("voltage-limits")

// Upper limits of the grid's side that stand in the table of voltage limits.
const (
	EnterService = "enter service default leg to leg"
	VoltWattFrom = "volt-watt (where enabled): full power up to"
)

// UpperLimitOf is the upper end of a voltage limit in parts of the nominal
// voltage, for a sheet.
//
// Source: IEEE 1547-2018, defaults; the profile that the utility requires
// replaces them.
func UpperLimitOf(what string) working.Lookup {
	for _, v := range VoltageLimits() {
		if v.What == what {
			o := from("voltage-limits").seen(v.Mark)
			o.Always = v.Standard
			return o.cell(quantity.Ratio(v.HighPU), nil)
		}
	}
	return from("voltage-limits").cell(quantity.Ratio(0), table("voltage-limits").none(what, "see legwork table voltage-limits"))
}

// ServiceVoltage is the range in which a utility keeps the voltage of a service
// of this nominal voltage: 120 leg to neutral, 240 or 208 leg to leg. The
// standard prints whole volts: 218 V for 208 V, where 1.05 would give 218.4.
//
// Source: ANSI C84.1, table 1, from memory.
func ServiceVoltage(r Range, nominal quantity.Volts) (low, high quantity.Volts, err error) {
	if nominal == 208 {
		for _, v := range VoltageLimits() {
			if v.Base == 208 && strings.HasPrefix(v.Standard, "ANSI C84.1") && strings.Contains(v.What, "range "+string(r)+" ") {
				return quantity.Volts(v.Low), quantity.Volts(v.High), nil
			}
		}
	}
	for _, v := range VoltageRanges() {
		switch {
		case v.Range != r || v.Kind != "service":
		case nominal == 120:
			return v.LowLN, v.HighLN, nil
		case nominal == 240:
			return v.LowLL, v.HighLL, nil
		}
	}
	return 0, 0, table("voltage-ranges").none(fmt.Sprintf("range %q at %s", string(r), working.Figure(nominal.Float(), nominal.Unit())),
		"there is A and B at 120, 208 and 240 V")
}

// ServiceLowOf is the lower end of ServiceVoltage for a sheet.
func ServiceLowOf(r Range, nominal quantity.Volts) working.Lookup {
	low, _, err := ServiceVoltage(r, nominal)
	return serviceOrigin(nominal).cell(low, err)
}

// ServiceHighOf is the upper end of ServiceVoltage for a sheet.
func ServiceHighOf(r Range, nominal quantity.Volts) working.Lookup {
	_, high, err := ServiceVoltage(r, nominal)
	return serviceOrigin(nominal).cell(high, err)
}

// serviceOrigin is the table in which ServiceVoltage finds a nominal voltage.
func serviceOrigin(nominal quantity.Volts) origin {
	if nominal == 208 {
		o := from("voltage-limits").seen("M")
		o.Always = table("voltage-ranges").Always
		return o
	}
	return from("voltage-ranges")
}

// DropFormula is a formula or a guidance value for voltage drop, in words.
type DropFormula struct {
	ID      string `col:"id"`
	Formula string `col:"formula"`
	Symbols string `col:"symbols"`
	Note    string `col:"note"`
}

// DropFormulas lists formulas and guidance for voltage drop and rise; the
// constants are in MetalConstants.
var DropFormulas = rows[DropFormula]("voltage-drop")

// TripSetting is a default voltage or frequency trip of IEEE 1547-2018.
type TripSetting struct {
	Category       string           `col:"category"` // I, II, III; all for frequency
	Element        string           `col:"element"`  // OV2, UF1
	Unit           string           `col:"unit"`     // pu or Hz
	Default        float64          `col:"default"`
	Clearing       quantity.Seconds `col:"default_clearing_s"`
	Range          string           `col:"threshold_range_2018"`
	ClearingRange  string           `col:"clearing_range_s_2018"`
	ClearingRange2 string           `col:"clearing_range_s_1547a_2020"`
	Confidence     string           `col:"confidence"`
}

// TripSettings lists the default trips.
var TripSettings = rows[TripSetting]("trip-settings")

// Trip finds an element, OV1 say, in a category; frequency elements are the
// same in all. A utility's required profile replaces these defaults.
//
// Source: IEEE 1547-2018, defaults; 1547a-2020, ranges.
func Trip(category, element string) (TripSetting, error) {
	for _, s := range TripSettings() {
		if s.Element == element && (s.Category == category || s.Category == "all") {
			return s, nil
		}
	}
	return TripSetting{}, table("trip-settings").none(fmt.Sprintf("%s in category %s", element, category),
		"there is OV1, OV2, UV1, UV2, OF1, OF2, UF1, UF2 in I, II and III")
}

// VoltageTripOf is the default threshold of a voltage element in parts of the
// nominal voltage, for a sheet.
func VoltageTripOf(category, element string) working.Lookup {
	s, err := Trip(category, element)
	if err == nil && s.Unit != "pu" {
		err = table("trip-settings").none(element+" in parts of a voltage", "it is in "+s.Unit)
	}
	return from("trip-settings").seen(s.Confidence).cell(quantity.Ratio(s.Default), err)
}

// GridSetting is another setting toward the grid, in words.
type GridSetting struct {
	Item       string `col:"item"`
	Value      string `col:"value"`
	Unit       string `col:"unit"`
	Note       string `col:"note"`
	Confidence string `col:"confidence"`
}

// GridSettings lists enter service, islanding and older trip settings.
var GridSettings = rows[GridSetting]("grid-support")

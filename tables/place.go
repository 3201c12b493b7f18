package tables

import (
	"strconv"

	"legwork/quantity"
	"legwork/working"
)

type workingSpaceRow struct {
	Volts     string        `col:"volts_to_ground"` // "0-150"
	Condition int           `col:"condition"`
	Depth     quantity.Feet `col:"depth_ft"`
	Metric    float64       `col:"depth_mm"`
	Note      string        `col:"note"`
}

var workingSpaceRows = rows[workingSpaceRow]("working-space")

// WorkingDepth is the depth of the working space at up to 150 V to ground, as
// dwellings have it, by condition: 1 nothing opposite, 2 grounded parts
// opposite, 3 live parts on both sides.
//
// Source: NFPA 70, Table 110.26(A)(1).
func WorkingDepth(condition int) (quantity.Feet, error) {
	for _, r := range workingSpaceRows() {
		if r.Volts == "0-150" && r.Condition == condition {
			return r.Depth, nil
		}
	}
	return 0, table("working-space").none("condition "+strconv.Itoa(condition), "there is 1, 2 and 3")
}

// WorkingDepthOf is WorkingDepth for a sheet.
func WorkingDepthOf(condition int) working.Lookup {
	return from("working-space").cell(WorkingDepth(condition))
}

// MountingRule is a requirement on where equipment is mounted, in words.
type MountingRule struct {
	Topic      string  `col:"topic"`
	Clause     string  `col:"clause"`
	Value      float64 `col:"value,blank"`
	Unit       string  `col:"unit"`
	Text       string  `col:"requirement"`
	Confidence string  `col:"confidence"`
}

// MountingRules lists where and how high equipment may be mounted.
var MountingRules = rows[MountingRule]("mounting")

// Support says how a raceway or cable is secured and supported.
type Support struct {
	Method     string        `col:"method"`
	Clause     string        `col:"clause"`
	Within     float64       `col:"secure_within_in,blank"` // in
	Of         string        `col:"of"`
	Spacing    quantity.Feet `col:"max_spacing_ft,blank"`
	Note       string        `col:"note"`
	Confidence string        `col:"confidence"`
}

// Supports lists securing and support by wiring method.
var Supports = rows[Support]("raceway-support")

// Torque is a tightening torque for a connector whose equipment gives none. The
// mark on the equipment always comes first.
type Torque struct {
	Table        string              `col:"table"`
	Screw        string              `col:"screw"`
	For          string              `col:"conductor_or_size"`
	InchPounds   quantity.InchPounds `col:"torque_lbf_in"`
	NewtonMeters float64             `col:"torque_N_m"` // N·m
	Note         string              `col:"note"`
}

// Torques lists NFPA 70, Informative Annex I.
var Torques = rows[Torque]("torque")

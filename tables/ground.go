package tables

import (
	"fmt"
	"strings"

	"legwork/quantity"
	"legwork/working"
)

type groundRow struct {
	Device   quantity.Amps `col:"ocpd_not_exceeding_A"`
	Copper   quantity.Size `col:"copper"`
	Aluminum quantity.Size `col:"aluminum"`
}

var groundRows = rows[groundRow]("equipment-ground")

// EquipmentGround is the smallest equipment grounding conductor for a circuit
// behind an overcurrent device. It never needs to be larger than the circuit's
// own conductors (250.122(A)).
//
// Source: NFPA 70, Table 250.122: the first row that is not below the device.
// Valid: devices up to 800 A.
func EquipmentGround(device quantity.Amps, m Material) (quantity.Size, error) {
	t := table("equipment-ground")
	if m != Copper && m != Aluminum {
		return quantity.NoSize, t.none(fmt.Sprintf("material %q", string(m)), "there is copper and aluminum")
	}
	if err := t.number(device); err != nil {
		return quantity.NoSize, err
	}
	for _, r := range groundRows() {
		switch {
		case quantity.Compare(device.Float(), r.Device.Float()) > 0:
		case m == Copper:
			return r.Copper, nil
		default:
			return r.Aluminum, nil
		}
	}
	return quantity.NoSize, t.none(working.Figure(device.Float(), device.Unit()), "the most is 800 A")
}

// EquipmentGroundOf is the metal area of EquipmentGround for a sheet: sizes are
// compared by their circular mils.
func EquipmentGroundOf(device quantity.Amps, m Material) working.Lookup {
	size, err := EquipmentGround(device, m)
	if err != nil {
		return from("equipment-ground").cell(quantity.CircularMils(0), err)
	}
	return from("equipment-ground").cell(CircularMils(size))
}

// Upsizing says in words when the equipment ground grows with the circuit
// conductors, and by which formula.
type Upsizing struct {
	Edition    Editions `col:"edition"`
	Clause     string   `col:"clause"`
	Trigger    string   `col:"trigger"`
	Formula    string   `col:"formula"`
	Exceptions string   `col:"exceptions"`
}

// Upsizings lists 250.122(B) by edition.
var Upsizings = rows[Upsizing]("equipment-ground-upsizing")

type electrodeRow struct {
	UpToCopper   string        `col:"largest_ungrounded_copper"`
	UpToAluminum string        `col:"largest_ungrounded_aluminum"`
	Copper       quantity.Size `col:"gec_copper"`
	Aluminum     quantity.Size `col:"gec_aluminum"`
}

var electrodeRows = rows[electrodeRow]("electrode-conductor")

// ElectrodeConductor is the grounding electrode conductor, of metal g, for a
// service whose largest ungrounded conductor has this size and metal.
//
// Source: NFPA 70, Table 250.66; see ElectrodeLimits for what one kind of
// electrode never needs to exceed.
func ElectrodeConductor(service quantity.Size, m, g Material) (quantity.Size, error) {
	t := table("electrode-conductor")
	for _, r := range electrodeRows() {
		band := r.UpToCopper
		if m == Aluminum {
			band = r.UpToAluminum
		}
		switch {
		case m != Copper && m != Aluminum, g != Copper && g != Aluminum:
			return quantity.NoSize, t.none(fmt.Sprintf("%q for a service of %q", string(g), string(m)), "there is copper and aluminum")
		case service == quantity.NoSize:
			return quantity.NoSize, t.none("service conductor without a size", "give its size")
		case service > upTo(band):
		case g == Copper:
			return r.Copper, nil
		default:
			return r.Aluminum, nil
		}
	}
	return quantity.NoSize, t.none(service.String(), "the rows above stand in the book")
}

// SupplyBondOf is the metal area of the smallest grounded conductor or
// supply-side bonding jumper of copper, for a sheet.
//
// Source: NFPA 70, Table 250.102(C)(1), from memory: up to 1100 kcmil copper its
// rows are those of Table 250.66.
func SupplyBondOf(ungrounded quantity.Size, m Material) working.Lookup {
	size, err := ElectrodeConductor(ungrounded, m, Copper)
	if err != nil {
		return from("electrode-conductor").cell(quantity.CircularMils(0), err)
	}
	return from("electrode-conductor").cell(CircularMils(size))
}

// upTo is the largest size of a band of Table 250.66: "2 or smaller", "1 or
// 1/0", "over 3/0 through 350". A band that reaches beyond the sizes known here
// ends with the largest of them.
func upTo(band string) quantity.Size {
	var last string
	for _, word := range strings.Fields(band) {
		if word[0] >= '0' && word[0] <= '9' {
			last = word
		}
	}
	if s, err := sizeOf(last); err == nil {
		return s
	}
	sizes := quantity.Sizes()
	return sizes[len(sizes)-1]
}

// ElectrodeLimit is the largest grounding electrode conductor that one kind of
// electrode asks for when it is the only one.
type ElectrodeLimit struct {
	Clause    string `col:"clause"`
	Electrode string `col:"electrode"`
	Copper    string `col:"max_required_copper"`
	Note      string `col:"note"`
}

// ElectrodeLimits lists 250.66(A) to (C), from memory.
var ElectrodeLimits = rows[ElectrodeLimit]("electrode-conductor-limits")

// ElectrodeConductorOf is the metal area of ElectrodeConductor for a sheet. A
// sole rod never asks for more than 6 AWG copper or 4 AWG aluminum, a sole
// concrete-encased electrode never for more than 4 AWG copper (250.66(A), (B)).
func ElectrodeConductorOf(service quantity.Size, m, g Material) working.Lookup {
	size, err := ElectrodeConductor(service, m, g)
	if err != nil {
		return from("electrode-conductor").cell(quantity.CircularMils(0), err)
	}
	return from("electrode-conductor").cell(CircularMils(size))
}

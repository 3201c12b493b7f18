package tables

import (
	"strconv"
	"strings"
)

// RacewayKind is a kind of raceway, by its trade abbreviation. The zero
// RacewayKind is "none given".
type RacewayKind string

// The kinds that have a row in chapter 9, table 4 here.
const (
	EMT   RacewayKind = "EMT"
	PVC40 RacewayKind = "PVC-40"
	PVC80 RacewayKind = "PVC-80"
	RMC   RacewayKind = "RMC"
	IMC   RacewayKind = "IMC"
	FMC   RacewayKind = "FMC"
	LFMC  RacewayKind = "LFMC"
	LFNCB RacewayKind = "LFNC-B"
)

// Conduit is the material of a raceway as far as impedance asks.
type Conduit string

// The conduits of chapter 9, table 9.
const (
	InPVC      Conduit = "PVC"
	InAluminum Conduit = "aluminum"
	InSteel    Conduit = "steel"
)

// GroundUse tells whether a raceway itself may be the equipment ground.
type GroundUse string

// GroundLimited means only under the conditions of RacewayKindRow.Note.
const (
	GroundYes     GroundUse = "yes"
	GroundLimited GroundUse = "limited"
	GroundNo      GroundUse = "no"
)

// RacewayKindRow is what one kind of raceway is.
//
// Source: NFPA 70 (2017), 250.118 and the raceway articles, from memory.
type RacewayKindRow struct {
	Kind            RacewayKind `col:"raceway"`
	Name            string      `col:"name"`
	Conduit         Conduit     `col:"conduit"` // the usual material; rigid and flexible metal exist in aluminum too
	EquipmentGround GroundUse   `col:"equipment_ground"`
	Note            string      `col:"note"`
}

// RacewayKindRows lists the kinds of raceway.
var RacewayKindRows = rows[RacewayKindRow]("raceway-kinds")

// Row is what the kind is; the zero row for a kind that the table lacks.
func (k RacewayKind) Row() RacewayKindRow {
	for _, r := range RacewayKindRows() {
		if r.Kind == k {
			return r
		}
	}
	return RacewayKindRow{}
}

// Metal reports whether the raceway is of metal.
func (k RacewayKind) Metal() bool { c := k.Row().Conduit; return c == InSteel || c == InAluminum }

// RacewayKinds lists the kinds in the order of the table.
func RacewayKinds() []RacewayKind {
	return []RacewayKind{EMT, PVC40, PVC80, RMC, IMC, FMC, LFMC, LFNCB}
}

// UnmarshalText reads a trade abbreviation, capitals aside.
func (k *RacewayKind) UnmarshalText(text []byte) error {
	for _, known := range RacewayKinds() {
		if strings.EqualFold(string(text), string(known)) {
			*k = known
			return nil
		}
	}
	var list []string
	for _, known := range RacewayKinds() {
		list = append(list, string(known))
	}
	return unknown("", strconv.Quote(string(text)), string(text), list)
}

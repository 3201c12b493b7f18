package job

import (
	"legwork/quantity"
	"legwork/tables"
	"legwork/where"
)

// Version is the document version that this program reads and writes.
const Version = 1

// Fact is one stated value. Unknown is written "?" or left out.
type Fact[T any] struct {
	Value T
	Known bool
	Open  bool      // written "?": the thing is there, its value is not known yet
	At    where.Pos // where it stands, or where its parent stands when left out
}

// Stated reports whether the key is in the document at all, with a value or with
// "?". A key left out of a group that may be absent (a neutral, a gateway
// breaker) says that there is no such thing.
func (f Fact[T]) Stated() bool { return f.Known || f.Open }

// Document is a whole job.
type Document struct {
	Version       int           `yaml:"legwork" doc:"version of this document's form"`
	ID            string        `yaml:"id,omitempty" doc:"UUIDv7 of the job"`
	Name          string        `yaml:"name" doc:"what people call the job, usually the address"`
	Invented      bool          `yaml:"invented,omitempty" doc:"true for demonstration houses"`
	People        People        `yaml:"people,omitempty"`
	Site          Site          `yaml:"site"`
	Service       Service       `yaml:"service"`
	Panels        []Panel       `yaml:"panels"`
	Sources       []Source      `yaml:"sources,omitempty" doc:"power sources that were there before this job"`
	Equipment     Equipment     `yaml:"equipment"`
	Planes        []Plane       `yaml:"planes"`
	JunctionBoxes []JunctionBox `yaml:"junction_boxes,omitempty"`
	Combiners     []Combiner    `yaml:"combiners,omitempty"`
	Disconnects   []Disconnect  `yaml:"disconnects,omitempty"`
	Runs          []Run         `yaml:"runs"`
	Meter         Meter         `yaml:"meter,omitempty"`
	Serials       []SerialAt    `yaml:"serials,omitempty"`
	Decisions     Decisions     `yaml:"decisions,omitempty"`

	Source []byte `yaml:"-"` // the exact bytes it was read from
	File   string `yaml:"-"`
}

// People is who stands on the title block.
type People struct {
	Firm     Fact[string] `yaml:"firm,omitempty"`
	License  Fact[string] `yaml:"license,omitempty"`
	Designer Fact[string] `yaml:"designer,omitempty"`
	Lead     Fact[string] `yaml:"lead,omitempty"`
	Owner    Fact[string] `yaml:"owner,omitempty"`
}

// Site is the place, its climate and its law.
type Site struct {
	Address    Fact[string]           `yaml:"address,omitempty"`
	Occupancy  Fact[Occupancy]        `yaml:"occupancy"`
	Climate    Fact[string]           `yaml:"climate,omitempty" doc:"where the design temperatures come from"`
	Latitude   Fact[quantity.Degrees] `yaml:"latitude"`
	Longitude  Fact[quantity.Degrees] `yaml:"longitude"`
	Elevation  Fact[quantity.Feet]    `yaml:"elevation,omitempty"`
	TimeZone   Fact[string]           `yaml:"time_zone,omitempty" doc:"IANA name, such as America/New_York"`
	Coldest    Fact[quantity.Celsius] `yaml:"coldest" doc:"extreme annual mean minimum"`
	Hottest    Fact[quantity.Celsius] `yaml:"hottest" doc:"design high temperature"`
	Code       Fact[int]              `yaml:"code" doc:"adopted edition of NFPA 70: 2017, 2020 or 2023"`
	Amendments []Amendment            `yaml:"amendments,omitempty"`
	RiseTarget Fact[quantity.Percent] `yaml:"rise_target,omitempty" doc:"project target for voltage rise"`
	Print      Fact[Units]            `yaml:"print,omitempty" doc:"units for output: US or SI"`
}

// Amendment is a local change to the code, as data.
type Amendment struct {
	ID    string       `yaml:"id"`
	Text  Fact[string] `yaml:"text"`
	Basis Fact[string] `yaml:"basis,omitempty" doc:"ordinance or state rule"`
}

// Service is what the utility delivers, up to the main disconnect.
type Service struct {
	System         Fact[System]         `yaml:"system" doc:"120/240 V or 208Y/120 V"`
	Rating         Fact[quantity.Amps]  `yaml:"rating,omitempty" doc:"rating of the service disconnect"`
	Panel          string               `yaml:"panel" doc:"id of the panel that holds the main"`
	Conductors     *Conductors          `yaml:"conductors,omitempty"`
	FaultCurrent   FaultCurrent         `yaml:"fault_current,omitempty"`
	HighestVoltage Fact[quantity.Volts] `yaml:"highest_voltage,omitempty" doc:"highest measured between legs with no PV"`
	LoadCalculated Fact[quantity.Amps]  `yaml:"load_calculated,omitempty" doc:"result of the dwelling load calculation"`
	VoltWatt       Fact[bool]           `yaml:"volt_watt,omitempty" doc:"does the grid profile reduce power at high voltage"`
	SeparateMeter  Fact[bool]           `yaml:"separate_meter_socket,omitempty"`
}

// FaultCurrent is an available fault current with its witness.
type FaultCurrent struct {
	Current Fact[quantity.Amps] `yaml:"current"`
	Kind    Fact[FaultKind]     `yaml:"kind" doc:"leg to leg, leg to neutral, or three-phase"`
	By      Fact[string]        `yaml:"by,omitempty" doc:"who gave it"`
	On      Fact[string]        `yaml:"on,omitempty" doc:"date it was given, YYYY-MM-DD"`
}

// Panel is a panelboard with its busbar and breakers.
type Panel struct {
	ID           string                 `yaml:"id"`
	Name         Fact[string]           `yaml:"name"`
	Building     Fact[string]           `yaml:"building,omitempty" doc:"when it stands in a separate building"`
	Busbar       Fact[quantity.Amps]    `yaml:"busbar" doc:"rating on the label inside the door, not the main's handle"`
	Main         Fact[quantity.Amps]    `yaml:"main,omitempty" doc:"rating of the panel's own main; left out in a main-lug-only panel"`
	MainLugOnly  Fact[bool]             `yaml:"main_lug_only,omitempty"`
	Feed         Fact[Feed]             `yaml:"feed" doc:"where the main or the lugs feed the busbar: top, bottom, center"`
	MainBetween  []int                  `yaml:"main_between,omitempty" doc:"center-fed: the spaces on either side of the main"`
	Spaces       Fact[int]              `yaml:"spaces"`
	Tandem       []int                  `yaml:"tandem,omitempty" doc:"spaces that take tandem breakers"`
	Terminals    Fact[quantity.Celsius] `yaml:"terminals" doc:"temperature mark of lugs and breakers"`
	Interrupting Fact[quantity.Amps]    `yaml:"interrupting,omitempty" doc:"interrupting rating of its breakers"`
	FedFrom      *FedFrom               `yaml:"fed_from,omitempty" doc:"for a panel fed from another"`
	Breakers     []Breaker              `yaml:"breakers,omitempty"`
	Note         Fact[string]           `yaml:"note,omitempty"`
}

// FedFrom says which breaker of which panel feeds a subpanel, over which run.
type FedFrom struct {
	Panel  string `yaml:"panel"`
	Spaces []int  `yaml:"spaces"`
	Run    string `yaml:"run"`
}

// Breaker is an existing breaker; poles are the number of spaces.
type Breaker struct {
	Spaces []int               `yaml:"spaces"`
	Rating Fact[quantity.Amps] `yaml:"rating"`
	Name   Fact[string]        `yaml:"name,omitempty"`
}

// Source is a power source that was there before.
type Source struct {
	ID      string              `yaml:"id"`
	Kind    Fact[string]        `yaml:"kind" doc:"PV, battery, generator"`
	Current Fact[quantity.Amps] `yaml:"current" doc:"rated continuous output current"`
	Panel   string              `yaml:"panel"`
	Spaces  []int               `yaml:"spaces"`
	Breaker Fact[quantity.Amps] `yaml:"breaker"`
}

// Equipment is nameplate data. From names a catalogue entry and its hash when
// the values were copied in.
type Equipment struct {
	Modules   []Module       `yaml:"modules"`
	Inverters []Inverter     `yaml:"inverters"`
	Trunks    []Trunk        `yaml:"trunks"`
	Combiners []CombinerType `yaml:"combiners,omitempty"`
}

// Module is a PV module's nameplate at standard test conditions.
type Module struct {
	ID           string                 `yaml:"id"`
	From         string                 `yaml:"from,omitempty"`
	Power        Fact[quantity.Watts]   `yaml:"power"`
	VoltageMP    Fact[quantity.Volts]   `yaml:"voltage_mp"`
	CurrentMP    Fact[quantity.Amps]    `yaml:"current_mp"`
	VoltageOpen  Fact[quantity.Volts]   `yaml:"voltage_open"`
	CurrentShort Fact[quantity.Amps]    `yaml:"current_short"`
	PowerTemp    Fact[quantity.Percent] `yaml:"power_per_C" doc:"change of power, % per °C"`
	VoltageTemp  Fact[quantity.Percent] `yaml:"voltage_open_per_C" doc:"change of open-circuit voltage, % per °C"`
	Length       Fact[quantity.Feet]    `yaml:"length"`
	Width        Fact[quantity.Feet]    `yaml:"width"`
}

// Inverter is a microinverter's nameplate and listing.
type Inverter struct {
	ID             string                     `yaml:"id"`
	From           string                     `yaml:"from,omitempty"`
	Power          Fact[quantity.VoltAmperes] `yaml:"power" doc:"rated continuous output"`
	Current240     Fact[quantity.Amps]        `yaml:"current_240V"`
	Current208     Fact[quantity.Amps]        `yaml:"current_208V,omitempty"`
	UnitsPer20A240 Fact[int]                  `yaml:"units_per_20A_240V" doc:"listing limit on a 20 A branch"`
	UnitsPer20A208 Fact[int]                  `yaml:"units_per_20A_208V,omitempty"`
	LargestBreaker Fact[quantity.Amps]        `yaml:"largest_breaker,omitempty" doc:"largest overcurrent device the listing allows"`
	InputVoltage   Fact[quantity.Volts]       `yaml:"input_voltage" doc:"largest DC input"`
	InputShort     Fact[quantity.Amps]        `yaml:"input_short" doc:"largest module short-circuit current"`
	ModulesPerUnit Fact[int]                  `yaml:"modules_per_unit"`
	Neutral        Fact[bool]                 `yaml:"neutral" doc:"does the unit need a neutral"`
	Trunk          string                     `yaml:"trunk" doc:"id of its trunk cable family"`
}

// Trunk is a trunk cable family.
type Trunk struct {
	ID        string                `yaml:"id"`
	Size      Fact[quantity.Size]   `yaml:"size"`
	Material  Fact[tables.Material] `yaml:"material"`
	Rating    Fact[quantity.Amps]   `yaml:"rating" doc:"largest overcurrent device"`
	Portrait  Fact[quantity.Feet]   `yaml:"portrait" doc:"spacing of drops, modules upright"`
	Landscape Fact[quantity.Feet]   `yaml:"landscape" doc:"spacing of drops, modules lying"`
}

// CombinerType is a combiner panel's nameplate.
type CombinerType struct {
	ID             string                    `yaml:"id"`
	From           string                    `yaml:"from,omitempty"`
	Busbar         Fact[quantity.Amps]       `yaml:"busbar"`
	BranchSpaces   Fact[int]                 `yaml:"branch_spaces" doc:"two-pole positions for branches"`
	GatewayBreaker Fact[quantity.Amps]       `yaml:"gateway_breaker,omitempty" doc:"breaker of the meter and gateway, in a space of its own"`
	MainLugOnly    Fact[bool]                `yaml:"main_lug_only"`
	Interrupting   Fact[quantity.Amps]       `yaml:"interrupting"`
	Terminals      Fact[quantity.Celsius]    `yaml:"terminals"`
	BranchTorque   Fact[quantity.InchPounds] `yaml:"branch_torque,omitempty"`
	LugTorque      Fact[quantity.InchPounds] `yaml:"lug_torque,omitempty"`
}

// Plane is one roof plane. In plan view x is east and y is north. The outline
// starts with the eave, left to right as seen from the ground facing the plane.
type Plane struct {
	ID       string                 `yaml:"id" doc:"a name that no branch can have: S, E, porch"`
	Azimuth  Fact[quantity.Degrees] `yaml:"azimuth" doc:"from true north, clockwise"`
	Pitch    Fact[quantity.Degrees] `yaml:"pitch" doc:"from horizontal: 22 deg or 6/12"`
	Outline  []Point                `yaml:"outline"`
	Grid     Grid                   `yaml:"grid"`
	Module   string                 `yaml:"module"`
	Inverter string                 `yaml:"inverter"`
	Note     Fact[string]           `yaml:"note,omitempty"`
}

// Point is a place in plan view.
type Point struct {
	X quantity.Feet `yaml:"x"`
	Y quantity.Feet `yaml:"y"`
}

// Grid is the field of modules on a plane. Row 1 is at the eave, column 1 at
// the left seen from the ground facing the plane.
type Grid struct {
	Rows        int                 `yaml:"rows"`
	Columns     int                 `yaml:"columns"`
	Orientation Orientation         `yaml:"orientation"`
	FromLeft    Fact[quantity.Feet] `yaml:"from_left" doc:"left edge of the outline to the first column, along the eave"`
	FromEave    Fact[quantity.Feet] `yaml:"from_eave" doc:"eave to the first row, up the slope"`
	Gap         Fact[quantity.Feet] `yaml:"gap" doc:"between modules"`
	Omit        []string            `yaml:"omit,omitempty" doc:"positions left empty"`
}

// JunctionBox is where trunk cable becomes home run.
type JunctionBox struct {
	ID        string                 `yaml:"id"`
	Name      Fact[string]           `yaml:"name"`
	At        Fact[Point]            `yaml:"at,omitempty"`
	Terminals Fact[quantity.Celsius] `yaml:"terminals" doc:"temperature mark of its splices"`
}

// Combiner is a combiner panel at its place.
type Combiner struct {
	ID    string       `yaml:"id"`
	Name  Fact[string] `yaml:"name"`
	Type  string       `yaml:"type" doc:"id in equipment.combiners"`
	Place Fact[string] `yaml:"place,omitempty"`
}

// Disconnect is a switch of the PV system or ahead of it.
type Disconnect struct {
	ID           string                 `yaml:"id"`
	Name         Fact[string]           `yaml:"name"`
	Rating       Fact[quantity.Amps]    `yaml:"rating"`
	Fuses        Fact[quantity.Amps]    `yaml:"fuses,omitempty"`
	Interrupting Fact[quantity.Amps]    `yaml:"interrupting,omitempty"`
	ServiceRated Fact[bool]             `yaml:"service_rated,omitempty"`
	Initiator    Fact[bool]             `yaml:"rapid_shutdown_initiator,omitempty"`
	Terminals    Fact[quantity.Celsius] `yaml:"terminals,omitempty"`
	Place        Fact[string]           `yaml:"place,omitempty"`
	Existing     Fact[bool]             `yaml:"existing,omitempty"`
}

// Run is a route between two places, with the conductors that are in it when
// they were there before.
type Run struct {
	ID         string              `yaml:"id"`
	Name       Fact[string]        `yaml:"name"`
	From       string              `yaml:"from" doc:"the end nearer the sources"`
	To         string              `yaml:"to" doc:"the end nearer the service"`
	Length     Fact[quantity.Feet] `yaml:"length" doc:"one way"`
	Segments   []Segment           `yaml:"segments"`
	Existing   bool                `yaml:"existing,omitempty"`
	Conductors *Conductors         `yaml:"conductors,omitempty" doc:"of an existing run"`
}

// Segment is a part of a run in one environment.
type Segment struct {
	Length  Fact[quantity.Feet]    `yaml:"length"`
	Where   Fact[Environment]      `yaml:"where" doc:"roof, attic, wall, indoors, buried"`
	Ambient Fact[quantity.Celsius] `yaml:"ambient"`
	Height  Fact[quantity.Feet]    `yaml:"height,omitempty" doc:"bottom of the raceway above the roof"`
	Sun     Fact[bool]             `yaml:"sun,omitempty" doc:"in direct sun"`
}

// Conductors is what is pulled in a run.
type Conductors struct {
	Size           Fact[quantity.Size]      `yaml:"size"`
	Material       Fact[tables.Material]    `yaml:"material"`
	Insulation     Fact[tables.Insulation]  `yaml:"insulation"`
	Neutral        Fact[quantity.Size]      `yaml:"neutral,omitempty" doc:"left out where the circuit has none"`
	Ground         Fact[quantity.Size]      `yaml:"ground,omitempty" doc:"left out where the raceway is the ground"`
	GroundMaterial Fact[tables.Material]    `yaml:"ground_material,omitempty"`
	Raceway        Fact[tables.RacewayKind] `yaml:"raceway"`
	Trade          Fact[quantity.TradeSize] `yaml:"trade_size"`
}

// Meter is the plant's own meter and its current transformers.
type Meter struct {
	Channels []Channel `yaml:"channels,omitempty"`
}

// Channel is one CT as it is meant to sit.
type Channel struct {
	ID       string              `yaml:"id" doc:"P1, P2, G1, G2"`
	Measures Fact[string]        `yaml:"measures" doc:"production or grid"`
	Around   Fact[string]        `yaml:"around" doc:"id of the run or panel whose conductor passes the window"`
	Leg      Fact[string]        `yaml:"leg" doc:"L1, L2, L3"`
	Arrow    Fact[string]        `yaml:"arrow" doc:"where the arrow points: to the house, to the panel"`
	Ratio    Fact[quantity.Amps] `yaml:"ratio,omitempty" doc:"primary current of the CT"`
}

// SerialAt is a serial number at a position, kept to the letter.
type SerialAt struct {
	At     string `yaml:"at"`
	Serial string `yaml:"serial"`
}

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
	Version       int           `yaml:"legwork" doc:"version of this document's form" eg:"1" range:"1 999"`
	ID            string        `yaml:"id,omitempty" doc:"UUIDv7 of the job" eg:"01890a5d-ac96-774b-bcce-b302099a8057"`
	Name          string        `yaml:"name" doc:"what people call the job, usually the address" eg:"118 Quillfeather Lane"`
	Invented      bool          `yaml:"invented,omitempty" doc:"true for demonstration houses"`
	People        People        `yaml:"people,omitempty" doc:"who stands on the title block"`
	Site          Site          `yaml:"site" doc:"the place, its climate and its law"`
	Service       Service       `yaml:"service" doc:"what the utility delivers, up to the main disconnect"`
	Panels        []Panel       `yaml:"panels" doc:"panelboards that are there"`
	Sources       []Source      `yaml:"sources,omitempty" doc:"power sources that were there before this job" absent:"true"`
	Equipment     Equipment     `yaml:"equipment" doc:"nameplates of what is to be installed"`
	Planes        []Plane       `yaml:"planes" doc:"roof planes with their modules"`
	JunctionBoxes []JunctionBox `yaml:"junction_boxes,omitempty" doc:"where trunk cable becomes home run"`
	Combiners     []Combiner    `yaml:"combiners,omitempty" doc:"combiner panels"`
	Disconnects   []Disconnect  `yaml:"disconnects,omitempty" doc:"switches of the PV system or ahead of it" absent:"true"`
	Runs          []Run         `yaml:"runs" doc:"routes of conductors between two places"`
	Array         ArraySeen     `yaml:"array,omitempty" doc:"what eyes tell about the array"`
	Meter         Meter         `yaml:"meter,omitempty" doc:"the meter of the plant and its current transformers"`
	Serials       []SerialAt    `yaml:"serials,omitempty" doc:"serial numbers at their positions, kept to the letter"`
	Decisions     Decisions     `yaml:"decisions,omitempty" doc:"what is to be built"`

	Source []byte `yaml:"-"` // the exact bytes it was read from
	File   string `yaml:"-"`
}

// People is who stands on the title block.
type People struct {
	Firm     Fact[string] `yaml:"firm,omitempty" doc:"name of the contractor"`
	License  Fact[string] `yaml:"license,omitempty" doc:"license number, quoted"`
	Designer Fact[string] `yaml:"designer,omitempty" doc:"who drew the plan"`
	Lead     Fact[string] `yaml:"lead,omitempty" doc:"who leads the crew"`
	Owner    Fact[string] `yaml:"owner,omitempty" doc:"who owns the house"`
}

// Site is the place, its climate and its law.
type Site struct {
	Address    Fact[string]           `yaml:"address,omitempty" doc:"address on the title block"`
	Occupancy  Fact[Occupancy]        `yaml:"occupancy" doc:"use of the building"`
	Climate    Fact[string]           `yaml:"climate,omitempty" doc:"where the design temperatures come from"`
	Latitude   Fact[quantity.Degrees] `yaml:"latitude" doc:"north of the equator" eg:"35.78 deg" range:"-90 90"`
	Longitude  Fact[quantity.Degrees] `yaml:"longitude" doc:"east of Greenwich, so negative in America" eg:"-78.64 deg" range:"-180 180"`
	Elevation  Fact[quantity.Feet]    `yaml:"elevation,omitempty" doc:"above sea level" eg:"315 ft"`
	TimeZone   Fact[string]           `yaml:"time_zone,omitempty" doc:"IANA name of the time zone" eg:"America/New_York"`
	Coldest    Fact[quantity.Celsius] `yaml:"coldest" doc:"extreme annual mean minimum" eg:"-12 C" range:"-90 60"`
	Hottest    Fact[quantity.Celsius] `yaml:"hottest" doc:"design high temperature" eg:"34 C" range:"-90 60"`
	Code       Fact[int]              `yaml:"code" doc:"adopted edition of NFPA 70: 2017, 2020 or 2023" eg:"2020" range:"1975 2100"`
	Amendments []Amendment            `yaml:"amendments,omitempty" doc:"local changes to the code" absent:"true"`
	RiseTarget Fact[quantity.Percent] `yaml:"rise_target,omitempty" doc:"project target for voltage rise" eg:"2 %" range:"0 100"`
	Print      Fact[Units]            `yaml:"print,omitempty" doc:"units for output"`
}

// Amendment is a local change to the code, as data.
type Amendment struct {
	ID    string       `yaml:"id" doc:"short id" eg:"visible-blade"`
	Text  Fact[string] `yaml:"text" doc:"what it asks" eg:"a visible-blade disconnect stands beside the meter"`
	Basis Fact[string] `yaml:"basis,omitempty" doc:"ordinance or state rule"`
}

// Service is what the utility delivers, up to the main disconnect.
type Service struct {
	System         Fact[System]         `yaml:"system" doc:"voltages and phases"`
	Rating         Fact[quantity.Amps]  `yaml:"rating,omitempty" doc:"rating of the service disconnect" eg:"200 A"`
	Panel          string               `yaml:"panel" doc:"id of the panel that holds the main" eg:"MP"`
	Conductors     *Conductors          `yaml:"conductors,omitempty" doc:"service conductors"`
	FaultCurrent   FaultCurrent         `yaml:"fault_current,omitempty" doc:"available fault current at the service disconnect"`
	HighestVoltage Fact[quantity.Volts] `yaml:"highest_voltage,omitempty" doc:"highest measured between legs with no PV" eg:"244.2 V"`
	LoadCalculated Fact[quantity.Amps]  `yaml:"load_calculated,omitempty" doc:"result of the dwelling load calculation" eg:"78 A"`
	ToNeutral      Fact[quantity.Amps]  `yaml:"fault_to_neutral,omitempty" doc:"available fault current from leg to neutral at the service disconnect" eg:"9.2 kA"`
	Transformer    *Transformer         `yaml:"transformer,omitempty" doc:"the utility's transformer, where its nameplate can be read" absent:"true"`
	UtilitySwitch  Fact[bool]           `yaml:"utility_switch,omitempty" doc:"does the utility ask for a switch with visible blades that it can lock" eg:"false"`
	VoltWatt       Fact[bool]           `yaml:"volt_watt,omitempty" doc:"does the grid profile reduce power at high voltage" eg:"true"`
	SeparateMeter  Fact[bool]           `yaml:"separate_meter_socket,omitempty" doc:"does the meter socket stand apart from the main panel" eg:"true"`
}

// FaultCurrent is an available fault current with its witness.
type FaultCurrent struct {
	Current Fact[quantity.Amps] `yaml:"current" doc:"available fault current" eg:"8.1 kA"`
	Kind    Fact[FaultKind]     `yaml:"kind" doc:"what it flows between"`
	By      Fact[string]        `yaml:"by,omitempty" doc:"who gave it"`
	On      Fact[string]        `yaml:"on,omitempty" doc:"date it was given, YYYY-MM-DD" eg:"2025-04-30"`
}

// Panel is a panelboard with its busbar and breakers.
type Panel struct {
	ID           string                 `yaml:"id" doc:"short id" eg:"MP"`
	Name         Fact[string]           `yaml:"name" doc:"what people call it" eg:"main panel"`
	Building     Fact[string]           `yaml:"building,omitempty" doc:"when it stands in a separate building" absent:"true"`
	Busbar       Fact[quantity.Amps]    `yaml:"busbar" doc:"rating on the label inside the door, not the main's handle" eg:"200 A"`
	Main         Fact[quantity.Amps]    `yaml:"main,omitempty" doc:"rating of the panel's own main; left out in a main-lug-only panel" eg:"200 A"`
	MainLugOnly  Fact[bool]             `yaml:"main_lug_only,omitempty" doc:"true when the panel has no main of its own" eg:"false"`
	Feed         Fact[Feed]             `yaml:"feed" doc:"where the main or the lugs feed the busbar"`
	MainBetween  []int                  `yaml:"main_between,omitempty" doc:"center-fed: the spaces on either side of the main" eg:"[20, 21]"`
	Spaces       Fact[int]              `yaml:"spaces" doc:"number of breaker spaces; odd ones down the left, even ones down the right" eg:"40" range:"1 200"`
	Tandem       []int                  `yaml:"tandem,omitempty" doc:"spaces that take tandem breakers" eg:"[1, 2, 3, 4]"`
	Terminals    Fact[quantity.Celsius] `yaml:"terminals" doc:"temperature mark of lugs and breakers" eg:"75 C" range:"0 200"`
	Interrupting Fact[quantity.Amps]    `yaml:"interrupting,omitempty" doc:"interrupting rating of its breakers" eg:"10 kA"`
	NoBreaker    Fact[bool]             `yaml:"no_listed_breaker,omitempty" doc:"true when no listed breaker is made any more for this panel" eg:"false" absent:"true"`
	Series       Fact[quantity.Amps]    `yaml:"series_rating,omitempty" doc:"tested series combination with the device ahead, marked on the panel" eg:"22 kA" absent:"true"`
	Seen         PanelSeen              `yaml:"seen,omitempty" doc:"what eyes tell about it"`
	Electrode    *Electrode             `yaml:"electrode,omitempty" doc:"grounding electrode where it is a separate building's"`
	Entrance     BuildingSeen           `yaml:"entrance,omitempty" doc:"what eyes tell where the feeder enters a separate building"`
	FedFrom      *FedFrom               `yaml:"fed_from,omitempty" doc:"for a panel fed from another"`
	Breakers     []Breaker              `yaml:"breakers,omitempty" doc:"breakers that are there" absent:"true"`
	Note         Fact[string]           `yaml:"note,omitempty" doc:"what the survey saw"`
}

// FedFrom says which breaker of which panel feeds a subpanel, over which run.
type FedFrom struct {
	Panel  string `yaml:"panel" doc:"id of the panel that feeds it" eg:"MP"`
	Spaces []int  `yaml:"spaces,omitempty" doc:"spaces of the feeding breaker; left out when it is fed from the feed-through lugs" eg:"[1, 3]"`
	Run    string `yaml:"run" doc:"id of the feeder run" eg:"feeder"`
}

// Breaker is an existing breaker; poles are the number of spaces.
type Breaker struct {
	Spaces []int               `yaml:"spaces" doc:"one space a pole" eg:"[1, 3]"`
	Rating Fact[quantity.Amps] `yaml:"rating" doc:"rating on the handle" eg:"30 A"`
	Name   Fact[string]        `yaml:"name,omitempty" doc:"what it feeds" eg:"dryer"`
}

// Source is a power source that was there before.
type Source struct {
	ID       string              `yaml:"id" doc:"short id" eg:"old_PV"`
	Kind     Fact[string]        `yaml:"kind" doc:"PV, battery, generator" eg:"PV"`
	Current  Fact[quantity.Amps] `yaml:"current" doc:"rated continuous output current" eg:"16 A"`
	Panel    string              `yaml:"panel" doc:"id of its panel" eg:"MP"`
	Spaces   []int               `yaml:"spaces" doc:"spaces of its breaker" eg:"[2, 4]"`
	Breaker  Fact[quantity.Amps] `yaml:"breaker" doc:"rating of its breaker" eg:"20 A"`
	Fastened Fact[bool]          `yaml:"fastened,omitempty" doc:"is its plug-in breaker held by a fastener that takes more than a pull" eg:"true"`
}

// Equipment is nameplate data. From names a catalogue entry and its hash when
// the values were copied in.
type Equipment struct {
	Modules      []Module       `yaml:"modules" doc:"PV modules"`
	Inverters    []Inverter     `yaml:"inverters" doc:"microinverters"`
	Trunks       []Trunk        `yaml:"trunks" doc:"trunk cable families"`
	Combiners    []CombinerType `yaml:"combiners,omitempty" doc:"combiner panels"`
	Terminations []Termination  `yaml:"terminations,omitempty" doc:"tightening torques of other terminations" absent:"true"`
}

// Module is a PV module's nameplate at standard test conditions.
type Module struct {
	ID           string                 `yaml:"id" doc:"model" eg:"PV-405"`
	From         string                 `yaml:"from,omitempty" doc:"catalogue entry and hash of its bytes, when the values were copied in" eg:"catalog/PV-405@5f0c2d9be1a4"`
	Power        Fact[quantity.Watts]   `yaml:"power" doc:"at standard test conditions" eg:"405 W"`
	VoltageMP    Fact[quantity.Volts]   `yaml:"voltage_mp" doc:"at maximum power" eg:"31.0 V"`
	CurrentMP    Fact[quantity.Amps]    `yaml:"current_mp" doc:"at maximum power" eg:"13.07 A"`
	VoltageOpen  Fact[quantity.Volts]   `yaml:"voltage_open" doc:"open circuit" eg:"37.2 V"`
	CurrentShort Fact[quantity.Amps]    `yaml:"current_short" doc:"short circuit" eg:"13.90 A"`
	PowerTemp    Fact[quantity.Percent] `yaml:"power_per_C" doc:"change of power, % per °C" eg:"-0.34 %" range:"-5 5"`
	VoltageTemp  Fact[quantity.Percent] `yaml:"voltage_open_per_C" doc:"change of open-circuit voltage, % per °C" eg:"-0.26 %" range:"-5 5"`
	Length       Fact[quantity.Feet]    `yaml:"length" doc:"long side" eg:"67.8 in"`
	Width        Fact[quantity.Feet]    `yaml:"width" doc:"short side" eg:"44.6 in"`
}

// Inverter is a microinverter's nameplate and listing.
type Inverter struct {
	ID             string                     `yaml:"id" doc:"model" eg:"MI-340"`
	From           string                     `yaml:"from,omitempty" doc:"catalogue entry and hash of its bytes, when the values were copied in" eg:"catalog/MI-340@5f0c2d9be1a4"`
	Power          Fact[quantity.VoltAmperes] `yaml:"power" doc:"rated continuous output" eg:"341 VA"`
	Current240     Fact[quantity.Amps]        `yaml:"current_240V" doc:"rated output current at 240 V" eg:"1.42 A"`
	Current208     Fact[quantity.Amps]        `yaml:"current_208V,omitempty" doc:"rated output current at 208 V" eg:"1.64 A" absent:"true"`
	UnitsPer20A240 Fact[int]                  `yaml:"units_per_20A_240V" doc:"listing limit on a 20 A branch" eg:"11"`
	UnitsPer20A208 Fact[int]                  `yaml:"units_per_20A_208V,omitempty" doc:"the same at 208 V" eg:"9" absent:"true"`
	LargestBreaker Fact[quantity.Amps]        `yaml:"largest_breaker,omitempty" doc:"largest overcurrent device the listing allows" eg:"20 A"`
	InputVoltage   Fact[quantity.Volts]       `yaml:"input_voltage" doc:"largest DC input" eg:"60 V"`
	InputShort     Fact[quantity.Amps]        `yaml:"input_short" doc:"largest module short-circuit current" eg:"18 A"`
	ModulesPerUnit Fact[int]                  `yaml:"modules_per_unit" doc:"modules on one unit" eg:"1" range:"1 8"`
	ArcFault       Fact[bool]                 `yaml:"arc_fault,omitempty" doc:"does the listing include DC arc-fault protection" eg:"true"`
	Neutral        Fact[bool]                 `yaml:"neutral" doc:"does the unit need a neutral" eg:"false"`
	Trunk          string                     `yaml:"trunk" doc:"id of its trunk cable family" eg:"T2"`
}

// Trunk is a trunk cable family.
type Trunk struct {
	ID        string                `yaml:"id" doc:"short id" eg:"T2"`
	From      string                `yaml:"from,omitempty" doc:"catalogue entry and hash of its bytes, when the values were copied in" eg:"catalog/T2@5f0c2d9be1a4"`
	Size      Fact[quantity.Size]   `yaml:"size" doc:"conductor size" eg:"12 AWG"`
	Material  Fact[tables.Material] `yaml:"material" doc:"conductor material" eg:"copper"`
	Rating    Fact[quantity.Amps]   `yaml:"rating" doc:"largest overcurrent device" eg:"20 A"`
	Portrait  Fact[quantity.Feet]   `yaml:"portrait" doc:"spacing of drops, modules upright" eg:"4.0 ft"`
	Landscape Fact[quantity.Feet]   `yaml:"landscape" doc:"spacing of drops, modules lying" eg:"6.0 ft"`
}

// CombinerType is a combiner panel's nameplate.
type CombinerType struct {
	ID             string                    `yaml:"id" doc:"model" eg:"CB-3"`
	From           string                    `yaml:"from,omitempty" doc:"catalogue entry and hash of its bytes, when the values were copied in" eg:"catalog/CB-3@5f0c2d9be1a4"`
	Busbar         Fact[quantity.Amps]       `yaml:"busbar" doc:"rating of the busbar" eg:"150 A"`
	BranchSpaces   Fact[int]                 `yaml:"branch_spaces" doc:"two-pole positions for branches" eg:"3" range:"0 40"`
	GatewayBreaker Fact[quantity.Amps]       `yaml:"gateway_breaker,omitempty" doc:"breaker of the meter and gateway, in a space of its own; left out when there is none" eg:"15 A" absent:"true"`
	MainLugOnly    Fact[bool]                `yaml:"main_lug_only" doc:"true when it has no main of its own" eg:"true"`
	Interrupting   Fact[quantity.Amps]       `yaml:"interrupting" doc:"fault-current rating" eg:"10 kA"`
	Series         Fact[quantity.Amps]       `yaml:"series_rating,omitempty" doc:"tested series combination with the device ahead, marked on the combiner" eg:"22 kA" absent:"true"`
	Terminals      Fact[quantity.Celsius]    `yaml:"terminals" doc:"temperature mark of its terminals" eg:"75 C" range:"0 200"`
	BranchTorque   Fact[quantity.InchPounds] `yaml:"branch_torque,omitempty" doc:"tightening torque of a branch breaker" eg:"20 in-lb"`
	LugTorque      Fact[quantity.InchPounds] `yaml:"lug_torque,omitempty" doc:"tightening torque of the lugs" eg:"50 in-lb"`
}

// Termination is a place where a conductor is tightened, with its torque, other
// than those of a combiner.
type Termination struct {
	ID     string                    `yaml:"id" doc:"short id" eg:"main_60A_2P"`
	From   string                    `yaml:"from,omitempty" doc:"catalogue entry and hash of its bytes, when the values were copied in" eg:"catalog/main_60A_2P@5f0c2d9be1a4"`
	Name   Fact[string]              `yaml:"name" doc:"what is tightened" eg:"60 A two-pole breaker in the main panel"`
	Torque Fact[quantity.InchPounds] `yaml:"torque" doc:"tightening torque" eg:"36 in-lb"`
}

// Plane is one roof plane. In plan view x is east and y is north of the lot's
// south-west corner, so that no length is negative. The outline
// starts with the eave, left to right as seen from the ground facing the plane.
type Plane struct {
	ID           string                 `yaml:"id" doc:"a name that no branch can have: S, E, porch" eg:"S"`
	Azimuth      Fact[quantity.Degrees] `yaml:"azimuth" doc:"from true north, clockwise" eg:"176 deg" range:"0 360"`
	Pitch        Fact[quantity.Degrees] `yaml:"pitch" doc:"from horizontal, in degrees or as a rise such as 6/12" eg:"22 deg" range:"0 90"`
	Outline      []Point                `yaml:"outline" doc:"corners in plan view, eave first"`
	Grid         Grid                   `yaml:"grid" doc:"the field of modules"`
	Setbacks     Setbacks               `yaml:"setbacks,omitempty" doc:"strips kept free of modules; ask the fire department which it wants" absent:"true"`
	Obstructions []Obstruction          `yaml:"obstructions,omitempty" doc:"what stands on the plane" absent:"true"`
	Module       string                 `yaml:"module" doc:"id of the module model" eg:"PV-405"`
	Inverter     string                 `yaml:"inverter" doc:"id of the microinverter model" eg:"MI-340"`
	Note         Fact[string]           `yaml:"note,omitempty" doc:"what the survey saw"`
}

// Point is a place in plan view.
type Point struct {
	X quantity.Feet `yaml:"x" doc:"east of the south-west corner of the lot" eg:"12 ft"`
	Y quantity.Feet `yaml:"y" doc:"north of the south-west corner of the lot" eg:"20 ft"`
}

// Setbacks are strips along the edges of a plane that stay free of modules, for
// access of the fire department. Which widths apply is local law; the document
// states them.
type Setbacks struct {
	Eave  Fact[quantity.Feet] `yaml:"eave,omitempty" doc:"along the eave" eg:"0 ft"`
	Ridge Fact[quantity.Feet] `yaml:"ridge,omitempty" doc:"along the ridge" eg:"3 ft"`
	Left  Fact[quantity.Feet] `yaml:"left,omitempty" doc:"along the left edge, seen from the ground" eg:"3 ft"`
	Right Fact[quantity.Feet] `yaml:"right,omitempty" doc:"along the right edge" eg:"0 ft"`
}

// Obstruction is something that stands on a plane: neither module nor trunk
// cable goes through it. Its place is what a tape on the plane reads.
type Obstruction struct {
	ID       string              `yaml:"id" doc:"short id" eg:"chimney"`
	FromLeft Fact[quantity.Feet] `yaml:"from_left" doc:"left edge of the outline to its left edge, along the eave" eg:"9 ft"`
	FromEave Fact[quantity.Feet] `yaml:"from_eave" doc:"eave to its lower edge, up the slope" eg:"6 ft"`
	Width    Fact[quantity.Feet] `yaml:"width" doc:"along the eave" eg:"3 ft"`
	Height   Fact[quantity.Feet] `yaml:"height" doc:"up the slope" eg:"2 ft"`
}

// Grid is the field of modules on a plane. Row 1 is at the eave, column 1 at
// the left seen from the ground facing the plane.
type Grid struct {
	Rows        int                 `yaml:"rows" doc:"rows, counted from the eave" eg:"2" range:"1 100"`
	Columns     int                 `yaml:"columns" doc:"columns, counted from the left" eg:"7" range:"1 100"`
	Orientation Orientation         `yaml:"orientation" doc:"modules upright or lying" eg:"portrait"`
	FromLeft    Fact[quantity.Feet] `yaml:"from_left" doc:"left edge of the outline to the first column, along the eave" eg:"2 ft"`
	FromEave    Fact[quantity.Feet] `yaml:"from_eave" doc:"eave to the first row, up the slope" eg:"2 ft"`
	Gap         Fact[quantity.Feet] `yaml:"gap" doc:"between modules" eg:"1 in"`
	RowGap      Fact[quantity.Feet] `yaml:"row_gap,omitempty" doc:"between rows, up the slope, where it is not the gap, as on a flat roof" eg:"18 in" absent:"true"`
	Breaks      []Break             `yaml:"breaks,omitempty" doc:"wider gaps that split the grid" absent:"true"`
	Omit        []string            `yaml:"omit,omitempty" doc:"positions left empty" eg:"[S-r2-c3]"`
}

// Break is a wider gap after a column or a row, so that a split field keeps one
// count of rows and columns.
type Break struct {
	After string              `yaml:"after" doc:"the column to the left of the gap, or the row below it" eg:"c4"`
	Width Fact[quantity.Feet] `yaml:"width" doc:"the whole gap there" eg:"3 ft"`
}

// JunctionBox is where trunk cable becomes home run.
type JunctionBox struct {
	ID        string                     `yaml:"id" doc:"short id" eg:"roof_box"`
	Name      Fact[string]               `yaml:"name" doc:"what people call it" eg:"roof junction box"`
	At        Fact[Point]                `yaml:"at,omitempty" doc:"place in plan view"`
	Terminals Fact[quantity.Celsius]     `yaml:"terminals" doc:"temperature mark of its splices" eg:"75 C" range:"0 200"`
	Volume    Fact[quantity.CubicInches] `yaml:"volume,omitempty" doc:"marked on the box, or measured inside" eg:"42 in3"`
	Clamps    Fact[bool]                 `yaml:"inside_clamps,omitempty" doc:"are there cable clamps inside the box" eg:"false"`
	Seen      BoxSeen                    `yaml:"seen,omitempty" doc:"what eyes tell about it"`
}

// Combiner is a combiner panel at its place.
type Combiner struct {
	ID    string        `yaml:"id" doc:"short id" eg:"combiner"`
	Name  Fact[string]  `yaml:"name" doc:"what people call it" eg:"PV combiner"`
	Type  string        `yaml:"type" doc:"id in equipment.combiners" eg:"CB-3"`
	Place Fact[string]  `yaml:"place,omitempty" doc:"where it hangs" eg:"outdoors, left of the main panel"`
	Seen  EnclosureSeen `yaml:"seen,omitempty" doc:"what eyes tell about it"`
}

// Disconnect is a switch of the PV system or ahead of it.
type Disconnect struct {
	ID           string                 `yaml:"id" doc:"short id" eg:"PV_switch"`
	Name         Fact[string]           `yaml:"name" doc:"what people call it" eg:"PV disconnect"`
	Rating       Fact[quantity.Amps]    `yaml:"rating" doc:"rating of the switch" eg:"60 A"`
	Fuses        Fact[quantity.Amps]    `yaml:"fuses,omitempty" doc:"rating of its fuses; left out when it has none" eg:"60 A" absent:"true"`
	Interrupting Fact[quantity.Amps]    `yaml:"interrupting,omitempty" doc:"fault-current rating of switch and fuses" eg:"10 kA"`
	ServiceRated Fact[bool]             `yaml:"service_rated,omitempty" doc:"marked as suitable for service equipment" eg:"true"`
	Initiator    Fact[bool]             `yaml:"rapid_shutdown_initiator,omitempty" doc:"does it start rapid shutdown" eg:"true"`
	Terminals    Fact[quantity.Celsius] `yaml:"terminals,omitempty" doc:"temperature mark of its terminals" eg:"75 C" range:"0 200"`
	Place        Fact[string]           `yaml:"place,omitempty" doc:"where it hangs"`
	Existing     Fact[bool]             `yaml:"existing,omitempty" doc:"true when it was there before" eg:"false"`
	Outside      Fact[bool]             `yaml:"outside,omitempty" doc:"does it hang outside, in easy reach" eg:"true"`
	Nearest      Fact[bool]             `yaml:"nearest_entrance,omitempty" doc:"inside: does it hang nearest to where the service conductors enter" eg:"true"`
	Seen         DisconnectSeen         `yaml:"seen,omitempty" doc:"what eyes tell about it"`
}

// Run is a route between two places, with the conductors that are in it when
// they were there before.
type Run struct {
	ID         string              `yaml:"id" doc:"short id" eg:"home"`
	Name       Fact[string]        `yaml:"name" doc:"what people call it" eg:"home run"`
	From       string              `yaml:"from" doc:"the end nearer the sources" eg:"roof_box"`
	To         string              `yaml:"to" doc:"the end nearer the service; service stands for the service conductors" eg:"combiner"`
	Length     Fact[quantity.Feet] `yaml:"length" doc:"one way" eg:"45 ft"`
	Segments   []Segment           `yaml:"segments" doc:"its parts, each in one environment"`
	Seen       RunSeen             `yaml:"seen,omitempty" doc:"what eyes tell about it"`
	Existing   bool                `yaml:"existing,omitempty" doc:"true when its conductors were there before" eg:"false"`
	Conductors *Conductors         `yaml:"conductors,omitempty" doc:"of an existing run"`
}

// Segment is a part of a run in one environment.
type Segment struct {
	Length  Fact[quantity.Feet]    `yaml:"length" doc:"one way" eg:"45 ft"`
	Where   Fact[Environment]      `yaml:"where" doc:"environment of the segment" eg:"roof"`
	Ambient Fact[quantity.Celsius] `yaml:"ambient" doc:"air around it" eg:"34 C" range:"-90 120"`
	Height  Fact[quantity.Feet]    `yaml:"height,omitempty" doc:"bottom of the raceway above the roof" eg:"4 in"`
	Sun     Fact[bool]             `yaml:"sun,omitempty" doc:"in direct sun" eg:"true"`
}

// Conductors is what is pulled in a run.
type Conductors struct {
	Size           Fact[quantity.Size]      `yaml:"size" doc:"line conductors" eg:"10 AWG"`
	Material       Fact[tables.Material]    `yaml:"material" doc:"copper or aluminum" eg:"copper"`
	Insulation     Fact[tables.Insulation]  `yaml:"insulation" doc:"type printed on the conductor" eg:"THWN-2"`
	Neutral        Fact[quantity.Size]      `yaml:"neutral,omitempty" doc:"left out where the circuit has none" eg:"10 AWG" absent:"true"`
	Spares         Fact[int]                `yaml:"spares,omitempty" doc:"spare conductors of the same size in the raceway; left out where there are none" eg:"0" range:"0 40" absent:"true"`
	Ground         Fact[quantity.Size]      `yaml:"ground,omitempty" doc:"left out where the raceway is the ground" eg:"10 AWG" absent:"true"`
	GroundMaterial Fact[tables.Material]    `yaml:"ground_material,omitempty" doc:"left out when as the line conductors" eg:"copper" absent:"true"`
	Raceway        Fact[tables.RacewayKind] `yaml:"raceway" doc:"kind of raceway" eg:"EMT"`
	Trade          Fact[quantity.TradeSize] `yaml:"trade_size" doc:"trade size of the raceway" eg:"3/4 in"`
}

// Meter is the plant's own meter and its current transformers.
type Meter struct {
	Channels []Channel `yaml:"channels,omitempty" doc:"current transformers as they are meant to sit" absent:"true"`
}

// Channel is one CT as it is meant to sit.
type Channel struct {
	ID       string              `yaml:"id" doc:"short id, such as P1 or G2" eg:"P1"`
	Measures Fact[string]        `yaml:"measures" doc:"production or grid" eg:"production"`
	Around   Fact[string]        `yaml:"around" doc:"id of the run, or of the panel whose supply, passes the window; service stands for the service conductors" eg:"pv_output"`
	Leg      Fact[string]        `yaml:"leg" doc:"L1, L2, L3" eg:"L1"`
	Arrow    Fact[string]        `yaml:"arrow" doc:"where the arrow points: to the house, to the panel" eg:"to the panel"`
	Ratio    Fact[quantity.Amps] `yaml:"ratio,omitempty" doc:"primary current of the CT" eg:"200 A"`
}

// SerialAt is a serial number at a position, kept to the letter.
type SerialAt struct {
	At     string `yaml:"at" doc:"position" eg:"S-r1-c1"`
	Serial string `yaml:"serial" doc:"as printed on the label" eg:"\"000000000001\""`
}

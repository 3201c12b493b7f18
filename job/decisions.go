package job

import "legwork/quantity"

// By tells who decided.
type By string

// Deciders.
const (
	Person By = "person"
	Tool   By = "tool"
)

// Decided marks a decision with its maker. Pinned decisions are never touched
// by the planner; a person's never are.
type Decided struct {
	By     By   `yaml:"by" doc:"who decided" eg:"person"`
	Pinned bool `yaml:"pinned,omitempty" doc:"true where the planner must leave it" eg:"false"`
}

// Decisions is the plan as far as it is settled in the document.
type Decisions struct {
	Branches    []Branch      `yaml:"branches,omitempty" doc:"microinverter branch circuits"`
	Runs        []RunDecision `yaml:"runs,omitempty" doc:"what is to be pulled in a run"`
	Connections []Connection  `yaml:"connections,omitempty" doc:"where an output meets the service"`
	Moves       []Move        `yaml:"moves,omitempty" doc:"existing breakers to put in other spaces"`
	Panels      []PanelChange `yaml:"panels,omitempty" doc:"panels that get another main or are replaced, and how their busbar is judged"`
	Controls    []Control     `yaml:"controls,omitempty" doc:"power control systems"`
}

// Branch is a microinverter branch circuit: an ordered path of positions along
// the trunk, starting at the junction box.
type Branch struct {
	ID       string              `yaml:"id" doc:"one capital letter, but not N, E, S or W" eg:"A"`
	Units    []string            `yaml:"units" doc:"positions in trunk order; S-r1-c1..c7 names a stretch" eg:"[S-r1-c1..c7]"`
	Feed     TrunkFeed           `yaml:"feed" doc:"where the home run meets the trunk" eg:"end"`
	Jumpers  []Jumper            `yaml:"jumpers,omitempty" doc:"trunk cable that replaces one spacing"`
	From     string              `yaml:"from" doc:"id of the junction box" eg:"roof_box"`
	Lands    string              `yaml:"lands" doc:"id of the combiner or panel" eg:"combiner"`
	Spaces   []int               `yaml:"spaces,omitempty" doc:"spaces of its breaker there" eg:"[1, 3]"`
	Breaker  Fact[quantity.Amps] `yaml:"breaker" doc:"rating of its breaker" eg:"20 A"`
	Listed   Fact[bool]          `yaml:"listed_for_panel,omitempty" doc:"landing in a panel: is its breaker listed for this panel" eg:"true"`
	LineLoad Fact[bool]          `yaml:"marked_line_load,omitempty" doc:"landing in a panel: is its breaker marked LINE and LOAD" eg:"false"`
	Decided  `yaml:",inline"`
}

// Jumper is trunk cable that replaces one spacing.
type Jumper struct {
	After  string        `yaml:"after" doc:"position before the jumper, counted from the junction box; the box's id where the cable from it is longer than one spacing" eg:"S-r1-c1"`
	Length quantity.Feet `yaml:"length" doc:"length of cable" eg:"18 ft"`
}

// RunDecision is what is to be pulled in a run.
type RunDecision struct {
	Run        string     `yaml:"run" doc:"id of the run" eg:"home"`
	Conductors Conductors `yaml:"conductors" doc:"what is to be pulled"`
	Decided    `yaml:",inline"`
}

// Connection is where a combiner's (or a panel's) output meets the service.
type Connection struct {
	ID           string                 `yaml:"id" doc:"short id" eg:"output"`
	From         string                 `yaml:"from" doc:"id of the combiner" eg:"combiner"`
	Run          string                 `yaml:"run" doc:"id of its output run" eg:"pv_output"`
	Kind         ConnectionKind         `yaml:"kind" doc:"way of connecting" eg:"breaker"`
	Panel        string                 `yaml:"panel,omitempty" doc:"for a breaker or feed-through lugs" eg:"MP"`
	Spaces       []int                  `yaml:"spaces,omitempty" doc:"spaces of the backfed breaker" eg:"[38, 40]"`
	Breaker      Fact[quantity.Amps]    `yaml:"breaker,omitempty" doc:"rating of the backfed breaker" eg:"30 A"`
	Disconnect   string                 `yaml:"disconnect,omitempty" doc:"supply side: id of the fused disconnect" eg:"PV_switch"`
	TapLength    Fact[quantity.Feet]    `yaml:"tap_length,omitempty" doc:"supply side: from tap to overcurrent device" eg:"6 ft"`
	TapPlace     Fact[string]           `yaml:"tap_place,omitempty" doc:"supply side: where the tap is made"`
	TapTerminals Fact[quantity.Celsius] `yaml:"tap_terminals,omitempty" doc:"supply side: temperature mark of the tap connectors" eg:"75 C" range:"0 200"`
	Tap          Tap                    `yaml:"tap,omitempty" doc:"supply side: how the tap is made" absent:"true"`
	Listed       Fact[bool]             `yaml:"listed_for_panel,omitempty" doc:"is the backfed breaker listed for this panel" eg:"true"`
	LineLoad     Fact[bool]             `yaml:"marked_line_load,omitempty" doc:"is the backfed breaker marked LINE and LOAD" eg:"false"`
	Note         Fact[string]           `yaml:"note,omitempty" doc:"why"`
	Decided      `yaml:",inline"`
}

// Tap is how a supply-side connection is made.
type Tap struct {
	Outside     Fact[bool] `yaml:"outside,omitempty" doc:"is the connection made outside the building" eg:"true"`
	Limiters    Fact[bool] `yaml:"limiters,omitempty" doc:"are there cable limiters at the tap" eg:"false"`
	Connectors  Fact[bool] `yaml:"connectors_listed,omitempty" doc:"are the connectors listed for the line side of a service" eg:"true"`
	Consent     Fact[bool] `yaml:"utility_consent,omitempty" doc:"has the utility agreed in writing to the place of the tap" eg:"true"`
	GroundAhead Fact[bool] `yaml:"ground_ahead,omitempty" doc:"does an equipment ground run between tap and fuses" eg:"false"`
	Bonded      Fact[bool] `yaml:"bonded_in_disconnect,omitempty" doc:"is the grounded conductor bonded in the PV disconnect by a main bonding jumper" eg:"true"`
	Raceway     Fact[bool] `yaml:"raceway_bonded,omitempty" doc:"is the raceway ahead of the fuses bonded as that of a service" eg:"true"`
}

// Move is an existing breaker that the plan puts in other spaces.
type Move struct {
	Panel   string `yaml:"panel" doc:"id of the panel" eg:"MP"`
	From    []int  `yaml:"from" doc:"spaces it sits in" eg:"[1, 3]"`
	To      []int  `yaml:"to" doc:"spaces it goes to" eg:"[13, 15]"`
	Decided `yaml:",inline"`
}

// PanelChange is another main in a panel that is there, a new panel in its
// place, or the method that its busbar is judged by.
type PanelChange struct {
	Panel      string              `yaml:"panel" doc:"id of the panel" eg:"MP"`
	Main       Fact[quantity.Amps] `yaml:"main,omitempty" doc:"rating of the new main; left out where the main stays" eg:"175 A" absent:"true"`
	Busbar     Fact[quantity.Amps] `yaml:"busbar,omitempty" doc:"busbar of a new panel; left out where the panel stays" eg:"225 A" absent:"true"`
	Method     Fact[BusMethod]     `yaml:"method,omitempty" doc:"how the busbar is judged; left out for the usual way of its feed" eg:"sum of breakers" absent:"true"`
	Emergency  Fact[bool]          `yaml:"emergency_disconnect,omitempty" doc:"new service panel: is there an emergency disconnect outside" eg:"true"`
	Surge      Fact[bool]          `yaml:"surge_protection,omitempty" doc:"new service panel: is there surge protection" eg:"true"`
	Electrodes Fact[bool]          `yaml:"electrodes_checked,omitempty" doc:"new service panel: were electrodes and their conductor brought up to the code" eg:"true"`
	Decided    `yaml:",inline"`
}

// Control is a power control system that limits what the sources may put out.
type Control struct {
	ID       string              `yaml:"id" doc:"short id" eg:"limiter"`
	Monitors []string            `yaml:"monitors" doc:"ids of the panels whose busbar it watches" eg:"[MP]"`
	SetPoint Fact[quantity.Amps] `yaml:"set_point" doc:"current that it holds the sources to" eg:"32 A"`
	Listed   Fact[bool]          `yaml:"listed" doc:"is it listed as a power control system" eg:"true"`
	Locked   Fact[bool]          `yaml:"locked,omitempty" doc:"are its settings locked to qualified people" eg:"true"`
	Decided  `yaml:",inline"`
}

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
}

// Branch is a microinverter branch circuit: an ordered path of positions along
// the trunk, starting at the junction box.
type Branch struct {
	ID      string              `yaml:"id" doc:"one capital letter, but not N, E, S or W" eg:"A"`
	Units   []string            `yaml:"units" doc:"positions in trunk order; S-r1-c1..c7 names a stretch" eg:"[S-r1-c1..c7]"`
	Feed    TrunkFeed           `yaml:"feed" doc:"where the home run meets the trunk" eg:"end"`
	Jumpers []Jumper            `yaml:"jumpers,omitempty" doc:"trunk cable that replaces one spacing"`
	From    string              `yaml:"from" doc:"id of the junction box" eg:"roof_box"`
	Lands   string              `yaml:"lands" doc:"id of the combiner or panel" eg:"combiner"`
	Spaces  []int               `yaml:"spaces,omitempty" doc:"spaces of its breaker there" eg:"[1, 3]"`
	Breaker Fact[quantity.Amps] `yaml:"breaker" doc:"rating of its breaker" eg:"20 A"`
	Decided `yaml:",inline"`
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
	Note         Fact[string]           `yaml:"note,omitempty" doc:"why"`
	Decided      `yaml:",inline"`
}

// Move is an existing breaker that the plan puts in other spaces.
type Move struct {
	Panel   string `yaml:"panel" doc:"id of the panel" eg:"MP"`
	From    []int  `yaml:"from" doc:"spaces it sits in" eg:"[1, 3]"`
	To      []int  `yaml:"to" doc:"spaces it goes to" eg:"[13, 15]"`
	Decided `yaml:",inline"`
}

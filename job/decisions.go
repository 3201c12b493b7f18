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
	By     By   `yaml:"by"`
	Pinned bool `yaml:"pinned,omitempty"`
}

// Decisions is the plan as far as it is settled in the document.
type Decisions struct {
	Branches    []Branch      `yaml:"branches,omitempty"`
	Runs        []RunDecision `yaml:"runs,omitempty"`
	Connections []Connection  `yaml:"connections,omitempty"`
	Moves       []Move        `yaml:"moves,omitempty"`
}

// Branch is a microinverter branch circuit: an ordered path of positions along
// the trunk, starting at the junction box.
type Branch struct {
	ID      string              `yaml:"id" doc:"A, B, C"`
	Units   []string            `yaml:"units" doc:"positions in trunk order; S-r1-c1..c7 names a stretch"`
	Feed    TrunkFeed           `yaml:"feed" doc:"end or center"`
	Jumpers []Jumper            `yaml:"jumpers,omitempty"`
	From    string              `yaml:"from" doc:"id of the junction box"`
	Lands   string              `yaml:"lands" doc:"id of the combiner or panel"`
	Spaces  []int               `yaml:"spaces,omitempty"`
	Breaker Fact[quantity.Amps] `yaml:"breaker"`
	Decided `yaml:",inline"`
}

// Jumper is trunk cable that replaces one spacing.
type Jumper struct {
	After  string        `yaml:"after" doc:"position before the jumper, counted from the junction box"`
	Length quantity.Feet `yaml:"length"`
}

// RunDecision is what is to be pulled in a run.
type RunDecision struct {
	Run        string     `yaml:"run"`
	Conductors Conductors `yaml:"conductors"`
	Decided    `yaml:",inline"`
}

// Connection is where a combiner's (or a panel's) output meets the service.
type Connection struct {
	ID         string              `yaml:"id"`
	From       string              `yaml:"from" doc:"id of the combiner"`
	Run        string              `yaml:"run" doc:"id of its output run"`
	Kind       ConnectionKind      `yaml:"kind"`
	Panel      string              `yaml:"panel,omitempty" doc:"for a breaker or feed-through lugs"`
	Spaces     []int               `yaml:"spaces,omitempty"`
	Breaker    Fact[quantity.Amps] `yaml:"breaker,omitempty"`
	Disconnect string              `yaml:"disconnect,omitempty" doc:"supply side: id of the fused disconnect"`
	TapLength  Fact[quantity.Feet] `yaml:"tap_length,omitempty" doc:"supply side: from tap to overcurrent device"`
	TapPlace   Fact[string]        `yaml:"tap_place,omitempty"`
	Note       Fact[string]        `yaml:"note,omitempty"`
	Decided    `yaml:",inline"`
}

// Move is an existing breaker that the plan puts in other spaces.
type Move struct {
	Panel   string `yaml:"panel"`
	From    []int  `yaml:"from"`
	To      []int  `yaml:"to"`
	Decided `yaml:",inline"`
}

package job

import (
	"legwork/quantity"
	"legwork/tables"
)

// What only eyes at the place can tell. Each key is true once somebody has seen
// it done, false when it was seen and is not right; left out it is asked for.
// None of them can be planned into being.

// RunSeen is what eyes tell about a run.
type RunSeen struct {
	Seals     Fact[bool] `yaml:"seals,omitempty" doc:"is the raceway sealed where it passes between warm and cold" eg:"true"`
	Supports  Fact[bool] `yaml:"supports,omitempty" doc:"is it fastened as its kind of raceway asks" eg:"true"`
	Expansion Fact[bool] `yaml:"expansion_fitting,omitempty" doc:"plastic in the weather: is there an expansion fitting between its fixed ends" eg:"true"`
}

// EnclosureSeen is what eyes tell about a panel, a combiner or a switch.
type EnclosureSeen struct {
	Openings Fact[bool] `yaml:"openings,omitempty" doc:"are unused openings closed and knockouts filled by their fittings" eg:"true"`
}

// PanelSeen is what eyes tell about a panel that is there.
type PanelSeen struct {
	EnclosureSeen `yaml:",inline"`
	MeterListed   Fact[bool] `yaml:"ct_listed,omitempty" doc:"are the current transformers in it listed for mounting in this kind of panel" eg:"true"`
	MeterRoom     Fact[bool] `yaml:"ct_room,omitempty" doc:"do conductors, splices and current transformers fill no more than 75 % of its wiring space" eg:"true"`
	Reachable     Fact[bool] `yaml:"reachable,omitempty" doc:"can anyone reach it without a ladder, a key or moving things" eg:"true"`
	Lockable      Fact[bool] `yaml:"lockable,omitempty" doc:"can its PV breaker be locked open by a device that stays in place" eg:"true"`
	Initiator     Fact[bool] `yaml:"rapid_shutdown_initiator,omitempty" doc:"does its main, outside and in reach, start rapid shutdown" eg:"true"`
}

// BoxSeen is what eyes tell about a junction box.
type BoxSeen struct {
	WetSplices Fact[bool] `yaml:"wet_splices,omitempty" doc:"are its splices listed for wet places and the box for rain" eg:"true"`
}

// DisconnectSeen is what eyes tell about a switch.
type DisconnectSeen struct {
	EnclosureSeen `yaml:",inline"`
	Reachable     Fact[bool] `yaml:"reachable,omitempty" doc:"can anyone reach it without a ladder, a key or moving things" eg:"true"`
	Lockable      Fact[bool] `yaml:"lockable,omitempty" doc:"can it be locked open by a device that stays in place" eg:"true"`
	VisibleBlade  Fact[bool] `yaml:"visible_blade,omitempty" doc:"can its open blades be seen" eg:"true"`
}

// ArraySeen is what eyes tell about the array.
type ArraySeen struct {
	Bonding   Fact[bool] `yaml:"bonding,omitempty" doc:"are modules and rails bonded by parts listed for it, and the ground led off with the circuit" eg:"true"`
	Protected Fact[bool] `yaml:"ground_protected,omitempty" doc:"is a ground thinner than 6 AWG kept from damage" eg:"true"`
	Secured   Fact[bool] `yaml:"cable_secured,omitempty" doc:"is the trunk cable fastened and off the roof" eg:"true"`
}

// BuildingSeen is what eyes tell about a separate building.
type BuildingSeen struct {
	Disconnect Fact[bool] `yaml:"disconnect,omitempty" doc:"is there a disconnect where the feeder enters, in reach, with at most six handles together" eg:"true"`
	Neutral    Fact[bool] `yaml:"neutral_apart,omitempty" doc:"is the neutral kept apart from ground and case there" eg:"true"`
	Directory  Fact[bool] `yaml:"directory,omitempty" doc:"does a plaque at each building name the other's disconnects and sources" eg:"true"`
}

// Transformer is the utility's transformer and the way from it.
type Transformer struct {
	Rating    Fact[quantity.VoltAmperes] `yaml:"rating" doc:"nameplate of the transformer" eg:"25 kVA"`
	Impedance Fact[quantity.Percent]     `yaml:"impedance" doc:"nameplate impedance" eg:"2 %" range:"0 20"`
	Length    Fact[quantity.Feet]        `yaml:"length" doc:"service conductors from it to the service disconnect, one way" eg:"60 ft"`
}

// Electrode is the grounding electrode of a service or a separate building.
type Electrode struct {
	Kind     Fact[ElectrodeKind]   `yaml:"kind" doc:"what kind it is" eg:"rods"`
	Size     Fact[quantity.Size]   `yaml:"conductor" doc:"grounding electrode conductor" eg:"6 AWG"`
	Material Fact[tables.Material] `yaml:"material,omitempty" doc:"its metal" eg:"copper"`
}

package site

import (
	"legwork/job"
	"legwork/quantity"
	"legwork/working"
)

// Plant is the whole site as it is to be built.
type Plant struct {
	Job     *job.Document
	Decided job.Decisions // the decisions it was resolved with

	Edition   working.Fact[working.Edition]
	Occupancy working.Fact[job.Occupancy]
	System    working.Fact[job.System]
	Nominal   working.Fact[quantity.Volts] // between legs: 240 V or 208 V
	Hottest   working.Fact[quantity.Celsius]
	Coldest   working.Fact[quantity.Celsius]
	// RiseTarget is the project's limit from the service to the last unit. It
	// is no code limit; 2 % is common practice and marked as assumed.
	RiseTarget working.Fact[quantity.Percent]

	Service  Service
	Units    []*Unit // every unit of the grids, in the order of the document
	Branches []*Branch
	Runs     []*Run
	Buses    []*Bus // combiners first, then panels up to the service
	Sources  []*Source
	Nodes    []*Node
	Boxes    []*Box
	Switches []*Switch
	Array    Checked
}

// Service is what the utility delivers.
type Service struct {
	Rating         working.Fact[quantity.Amps]
	FaultCurrent   working.Fact[quantity.Amps]
	FaultKind      working.Fact[job.FaultKind]
	FaultBy        working.Fact[string]
	FaultOn        working.Fact[string]
	HighestVoltage working.Fact[quantity.Volts]
	LoadCalculated working.Fact[quantity.Amps]
	ToNeutral      working.Fact[quantity.Amps]
	UtilitySwitch  working.Fact[bool]
	VoltWatt       working.Fact[bool]
	Transformer    *Transformer // nil when nothing is stated
	Conductors     *Conductors  // nil when nothing is stated
	Panel          *Bus
}

// Source is a power source that was there before.
type Source struct {
	ID       string
	Kind     working.Fact[string]
	Current  working.Fact[quantity.Amps]
	Bus      *Bus
	Breaker  *Breaker
	Fastened working.Fact[bool] // its breaker is held by a fastener of its own
}

// Bus returns the bus with an id, nil if there is none.
func (p *Plant) Bus(id string) *Bus {
	for _, b := range p.Buses {
		if b.ID == id {
			return b
		}
	}
	return nil
}

// Run returns the run with an id, nil if there is none.
func (p *Plant) Run(id string) *Run {
	for _, r := range p.Runs {
		if r.ID == id {
			return r
		}
	}
	return nil
}

// Branch returns the branch with an id, nil if there is none.
func (p *Plant) Branch(id string) *Branch {
	for _, b := range p.Branches {
		if b.ID == id {
			return b
		}
	}
	return nil
}

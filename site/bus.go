package site

import (
	"fmt"
	"slices"
	"strings"

	"legwork/job"
	"legwork/quantity"
	"legwork/working"
)

// BusKind tells a panel from a combiner.
type BusKind string

// Kinds of buses.
const (
	PanelBus    BusKind = "panel"
	CombinerBus BusKind = "combiner"
)

// Breaker is an overcurrent device: on a bus, or the fuses of a disconnect.
type Breaker struct {
	Name     string
	Rating   working.Fact[quantity.Amps]
	Spaces   []int
	Poles    int
	New      bool
	Moved    bool               // an existing one that the plan puts elsewhere
	Fused    bool               // at feed-through lugs: a device stands there after all
	Lugs     bool               // feed-through lugs: no device of their own, at the end of the bar
	Listed   working.Fact[bool] // of a backfed one: for this panel
	LineLoad working.Fact[bool] // of a backfed one: marked LINE and LOAD
	Bus      *Bus
	Carries  *Bus // the bus that it feeds, for a feeder or output breaker
	Branch   *Branch
	Existing *Source
}

// Bus is a busbar with what protects it and what lands on it.
type Bus struct {
	ID, Name     string
	Kind         BusKind
	Building     string
	New          bool
	Rating       working.Fact[quantity.Amps]
	Main         working.Fact[quantity.Amps] // the panel's own main
	HasMain      bool                        // false for main lugs only
	Feed         working.Fact[job.Feed]
	MainBetween  []int
	Spaces       working.Fact[quantity.Count]
	BranchSpaces working.Fact[quantity.Count] // combiner: two-pole positions for branches
	Terminals    working.Fact[quantity.Celsius]
	Interrupting working.Fact[quantity.Amps]
	Series       working.Fact[quantity.Amps] // tested combination with the device ahead
	HasSeries    bool
	Breakers     []*Breaker
	Gateway      *Breaker // combiner: the breaker of meter and gateway
	Seen         Checked
	Entrance     Checked            // of a separate building
	Electrode    *Electrode         // of a separate building
	Up           *Tie               // towards the service; nil at the service
	NoBreaker    working.Fact[bool] // no listed breaker is made any more
	AsksBreaker  bool               // the document says whether breakers are made for it
	Tandem       []int              // spaces that take two one-pole breakers
	Change       *Change            // nil when the panel stays as it is
	Control      *Control           // the power control system that watches the bar; nil when none does
}

// Change is what the job does to a panel that is there.
type Change struct {
	Main, Panel                  bool // another main; a new panel
	BySum                        bool // judged by the sum of breakers
	Emergency, Surge, Electrodes working.Fact[bool]
}

// Control is a power control system.
type Control struct {
	ID             string
	SetPoint       working.Fact[quantity.Amps]
	Listed, Locked working.Fact[bool]
}

// Tie is how a bus is joined to the next one towards the service.
type Tie struct {
	Run    *Run
	Device *Breaker // the overcurrent device at the service end
	To     *Bus     // nil for a supply-side connection
	Supply *SupplyTap
}

// SupplyTap is a connection ahead of the service disconnect.
type SupplyTap struct {
	Connection *job.Connection
	Disconnect *job.Disconnect
	Length     working.Fact[quantity.Feet]
	Place      working.Fact[string]
	Terminals  working.Fact[quantity.Celsius] // of the tap connectors

	Outside, Limiters, Connectors, Consent working.Fact[bool]
	GroundAhead, Bonded, Raceway           working.Fact[bool]
	ServiceRated                           working.Fact[bool] // of the disconnect
	DisconnectOutside, Nearest             working.Fact[bool]
	Fuses                                  working.Fact[quantity.Amps]
}

// Protection is the device that protects the bus: its own main, or the device
// upstream where that is smaller or where there is no main.
func (b *Bus) Protection() working.Fact[quantity.Amps] {
	if !b.HasMain {
		if b.Up == nil || b.Up.Device == nil {
			return b.Main
		}
		return b.Up.Device.Rating
	}
	if b.Up != nil && b.Up.Device != nil && b.Main.Known && b.Up.Device.Rating.Known &&
		b.Up.Device.Rating.Value < b.Main.Value {
		return b.Up.Device.Rating
	}
	return b.Main
}

// Entries are the breakers through which sources reach the bus from below.
func (b *Bus) Entries() []*Breaker {
	var out []*Breaker
	for _, d := range b.Breakers {
		if d.Branch != nil || d.Existing != nil || d.Carries != nil && d.Carries.HasSource() {
			out = append(out, d)
		}
	}
	return out
}

// HasSource reports whether any source reaches the bus from below.
func (b *Bus) HasSource() bool { return len(b.Entries()) > 0 }

// Groups are the units of this job whose current can enter the bus.
func (b *Bus) Groups() []Group {
	var out []Group
	for _, d := range b.Entries() {
		switch {
		case d.Branch != nil:
			out = merge(out, d.Branch.Groups()...)
		case d.Carries != nil:
			out = merge(out, d.Carries.Groups()...)
		}
	}
	return out
}

// ExistingSources are the earlier sources whose current can enter the bus.
func (b *Bus) ExistingSources() []*Source {
	var out []*Source
	for _, d := range b.Entries() {
		if d.Existing != nil {
			out = append(out, d.Existing)
		}
		if d.Carries != nil {
			out = append(out, d.Carries.ExistingSources()...)
		}
	}
	return out
}

// AtEnd reports whether a breaker sits at an end of the busbar that a source may
// use: the end opposite the main, or either end of a center-fed bus. It is
// unknown while the feed or the number of spaces is.
func (b *Bus) AtEnd(d *Breaker) working.Fact[bool] {
	out := derived(false, "breaker of "+d.Name+" at the far end of the busbar")
	if d.Lugs { // they sit where the main does not
		out.Value = true
		return out
	}
	for _, unknown := range []struct {
		known bool
		ask   working.Missing
	}{
		{b.Feed.Known, b.Feed.Ask}, {b.Spaces.Known, b.Spaces.Ask},
		{len(d.Spaces) > 0, working.Missing{Path: b.ID + "/" + d.Name + "/spaces", What: "spaces of the breaker of " + d.Name, Find: decision.find}},
	} {
		if !unknown.known {
			return working.Fact[bool]{Means: out.Means, From: out.From, Ask: unknown.ask}
		}
	}
	last := int(b.Spaces.Value)
	low, high := slices.Min(d.Spaces), slices.Max(d.Spaces)
	top, bottom := low <= 2, high >= last-1
	switch b.Feed.Value {
	case job.FeedTop:
		out.Value = bottom
	case job.FeedBottom:
		out.Value = top
	case job.FeedCenter:
		out.Value = top || bottom
	}
	return out
}

// SpaceList prints the breaker's spaces: "38, 40".
func (d *Breaker) SpaceList() string {
	return strings.Trim(strings.ReplaceAll(fmt.Sprint(d.Spaces), " ", ", "), "[]")
}

// Leg tells which of a panel's legs, counted from 0, a space is on: the legs
// follow each other down each side. Common practice of panelboards.
func Leg(space, legs int) int { return (space - 1) / 2 % legs }

// Place is the breaker's part of a place id: its spaces, or its name while it
// has none.
func (d *Breaker) Place() string {
	if len(d.Spaces) == 0 {
		return strings.ReplaceAll(d.Name, " ", "-")
	}
	return strings.ReplaceAll(d.SpaceList(), ", ", "-")
}

package site

import (
	"legwork/job"
	"legwork/quantity"
	"legwork/working"
)

// Module is a module's nameplate.
type Module struct {
	ID            string
	Power         working.Fact[quantity.Watts]
	VoltageOpen   working.Fact[quantity.Volts]
	CurrentShort  working.Fact[quantity.Amps]
	VoltageTemp   working.Fact[quantity.Percent]
	Length, Width working.Fact[quantity.Feet]
}

// Inverter is a microinverter's nameplate and listing at this site's voltage.
type Inverter struct {
	ID             string
	Power          working.Fact[quantity.VoltAmperes]
	Current        working.Fact[quantity.Amps]  // rated continuous, at the site's nominal voltage
	UnitsPer20A    working.Fact[quantity.Count] // listing limit on a 20 A branch
	LargestBreaker working.Fact[quantity.Amps]
	InputVoltage   working.Fact[quantity.Volts]
	InputShort     working.Fact[quantity.Amps]
	ModulesPerUnit working.Fact[int]
	Neutral        working.Fact[bool]
	ArcFault       working.Fact[bool]
	Trunk          *Trunk
}

// Trunk is a trunk cable family.
type Trunk struct {
	ID                  string
	Size                working.Fact[quantity.Size]
	Material            working.Fact[Material]
	Rating              working.Fact[quantity.Amps]
	portrait, landscape working.Fact[quantity.Feet]
}

// Spacing is the distance between drops for an orientation.
func (t *Trunk) Spacing(o job.Orientation) working.Fact[quantity.Feet] {
	if o == job.Landscape {
		return t.landscape
	}
	return t.portrait
}

// Unit is one microinverter at its place on the roof, with the modules on it.
type Unit struct {
	Position  string   // of its first module, E-r1-c2; it names the unit
	Positions []string // of all its modules, from the left
	Plane     *job.Plane
	Module    *Module
	Inverter  *Inverter
	Branch    *Branch // nil while it is on none
}

// Branch is a microinverter branch circuit.
type Branch struct {
	ID      string
	Units   []*Unit // in the order of the trunk, from the junction box
	Feed    job.TrunkFeed
	From    string // junction box
	Bus     *Bus   // where it lands
	Breaker *Breaker
	Run     *Run // home run
	By      job.By
	jumpers map[string]quantity.Feet // by the unit before the jumper, or the junction box
}

// Groups counts the branch's units by model, in the order they first appear.
func (b *Branch) Groups() []Group {
	var out []Group
next:
	for _, u := range b.Units {
		for i := range out {
			if out[i].Inverter == u.Inverter {
				out[i].Count++
				continue next
			}
		}
		out = append(out, Group{Inverter: u.Inverter, Count: 1})
	}
	return out
}

// TrunkSegment is the trunk cable between two drops, or from the junction box
// to the first.
type TrunkSegment struct {
	To     *Unit
	Length working.Fact[quantity.Feet]
	Beyond []*Unit // the units whose current it carries
	Jumper bool
}

// Trunk returns the arms of the trunk: one for an end-fed branch, two for a
// center-fed one, the longer first. The cable from the junction box to the
// first drop of an arm is one spacing, unless a jumper after the box says more.
func (b *Branch) Trunk() [][]TrunkSegment {
	n := len(b.Units)
	if b.Feed != job.CenterFed || n < 2 {
		return [][]TrunkSegment{b.arm(b.Units)}
	}
	// The larger half runs on from the middle; the other runs back from it.
	small := n / 2
	back := make([]*Unit, small)
	for i, u := range b.Units[:small] {
		back[small-1-i] = u
	}
	return [][]TrunkSegment{b.arm(b.Units[small:]), b.arm(back)}
}

func (b *Branch) arm(units []*Unit) []TrunkSegment {
	out := make([]TrunkSegment, len(units))
	for i, u := range units {
		s := TrunkSegment{To: u, Beyond: units[i:]}
		s.Length = u.Inverter.Trunk.Spacing(u.Plane.Grid.Orientation)
		before := b.From
		l, ok := b.jumpers[b.From]
		if i > 0 {
			before = units[i-1].Position
			l, ok = b.jumper(units[i-1], u)
		}
		if ok {
			s.Length = derived(l, "jumper from "+before+" to "+u.Position)
			s.Jumper = true
		}
		out[i] = s
	}
	return out
}

// jumper finds the jumper between two neighbors, in either direction of travel.
func (b *Branch) jumper(x, y *Unit) (quantity.Feet, bool) {
	for i, u := range b.Units[:len(b.Units)-1] {
		next := b.Units[i+1]
		if u == x && next == y || u == y && next == x {
			l, ok := b.jumpers[u.Position]
			return l, ok
		}
	}
	return 0, false
}

// Group is a number of equal units.
type Group struct {
	Inverter *Inverter
	Count    int
}

// merge adds groups of equal models together.
func merge(a []Group, more ...Group) []Group {
	out := append([]Group(nil), a...)
next:
	for _, g := range more {
		for i := range out {
			if out[i].Inverter == g.Inverter {
				out[i].Count += g.Count
				continue next
			}
		}
		out = append(out, g)
	}
	return out
}

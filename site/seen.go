package site

import (
	"legwork/job"
	"legwork/quantity"
	"legwork/working"
)

// Checked are the facts about a place that only eyes can tell, by key of the
// document: "seals", "reachable".
type Checked map[string]working.Fact[bool]

// eyes is where such a fact is found.
func eyes(find, photo string) ask { return ask{find, photo} }

// Box is a junction box.
type Box struct {
	ID, Name string
	Volume   working.Fact[quantity.CubicInches]
	Clamps   working.Fact[bool] // cable clamps inside
	Seen     Checked
}

// Switch is a disconnect with its own enclosure.
type Switch struct {
	ID, Name     string
	Rating       working.Fact[quantity.Amps]
	Interrupting working.Fact[quantity.Amps]
	Initiator    working.Fact[bool] // of rapid shutdown
	Existing     bool
	Seen         Checked
}

// Transformer is the utility's transformer with the way to the service.
type Transformer struct {
	Rating    working.Fact[quantity.VoltAmperes]
	Impedance working.Fact[quantity.Percent]
	Length    working.Fact[quantity.Feet]
}

// Electrode is the grounding electrode of a separate building.
type Electrode struct {
	Kind     working.Fact[job.ElectrodeKind]
	Size     working.Fact[quantity.Size]
	Material working.Fact[Material]
}

// seen resolves what eyes tell, for every place of the document.
func (r *resolver) seen() {
	p := r.plant
	for i := range r.doc.Runs {
		d := &r.doc.Runs[i]
		at, s := "runs."+d.ID+".seen.", d.Seen
		p.Run(d.ID).Seen = Checked{
			"seals":             fact(s.Seals, at+"seals", "sealed between warm and cold", eyes("look at both ends and where it enters the building", "the seal")),
			"supports":          fact(s.Supports, at+"supports", "fastened as its kind asks", eyes("look along the run with a tape", "the run with its straps")),
			"expansion_fitting": fact(s.Expansion, at+"expansion_fitting", "expansion fitting between fixed ends", eyes("look along the plastic raceway", "the expansion fitting")),
		}
	}
	for i := range r.doc.Panels {
		d := &r.doc.Panels[i]
		at, s := "panels."+d.ID+".seen.", d.Seen
		b := p.Bus(d.ID)
		b.Seen = Checked{
			"openings":                 openings(s.EnclosureSeen, at),
			"ct_listed":                fact(s.MeterListed, at+"ct_listed", "current transformers listed for this kind of panel", eyes("instructions of the meter and the panel's label", "the listing mark")),
			"ct_room":                  fact(s.MeterRoom, at+"ct_room", "wiring space filled to 75 % at most", eyes("look with the dead front off and the panel proved dead", "the wiring space")),
			"reachable":                fact(s.Reachable, at+"reachable", "in reach of anyone", eyes("walk up to it", "the way to it")),
			"lockable":                 fact(s.Lockable, at+"lockable", "locked open by a device that stays in place", eyes("look at the breaker's lock", "the lock")),
			"rapid_shutdown_initiator": fact(s.Initiator, at+"rapid_shutdown_initiator", "its main, outside and in reach, starts rapid shutdown", eyes("look where the main hangs; decide it", "the main from outside")),
		}
		b.Series = fact(d.Series, "panels."+d.ID+".series_rating", "tested series combination marked on the "+b.Name, panelLabel)
		b.HasSeries = d.Series.Stated()
		e := "panels." + d.ID + ".electrode."
		el := d.Electrode
		if el == nil {
			el = &job.Electrode{}
		}
		electrode := eyes("look where the electrode conductor leaves the panel, and at its electrode", "electrode and conductor")
		b.Electrode = &Electrode{
			Kind:     fact(el.Kind, e+"kind", "kind of electrode", electrode),
			Size:     fact(el.Size, e+"conductor", "grounding electrode conductor", electrode),
			Material: fact(el.Material, e+"material", "metal of the grounding electrode conductor", electrode),
		}
		n := "panels." + d.ID + ".entrance."
		b.Entrance = Checked{
			"disconnect":    fact(d.Entrance.Disconnect, n+"disconnect", "disconnect where the feeder enters, in reach, at most six handles together", eyes("look where the feeder enters", "the disconnect")),
			"neutral_apart": fact(d.Entrance.Neutral, n+"neutral_apart", "neutral kept apart from ground and case", eyes("look at the bars with the panel proved dead", "neutral and ground bars")),
			"directory":     fact(d.Entrance.Directory, n+"directory", "plaque at each building", eyes("look at both buildings", "both plaques")),
		}
	}
	for i := range r.doc.Combiners {
		d := &r.doc.Combiners[i]
		p.Bus(d.ID).Seen = Checked{"openings": openings(d.Seen, "combiners."+d.ID+".seen.")}
	}
	for i := range r.doc.JunctionBoxes {
		d := &r.doc.JunctionBoxes[i]
		at := "junction_boxes." + d.ID + "."
		b := &Box{ID: d.ID, Name: d.Name.Value,
			Volume: fact(d.Volume, at+"volume", "room in the "+d.Name.Value, eyes("stamped in the box; else measure inside", "the stamp in the box")),
			Clamps: fact(d.Clamps, at+"inside_clamps", "cable clamps inside the "+d.Name.Value, eyes("look inside", "the open box")),
			Seen: Checked{"wet_splices": fact(d.Seen.WetSplices, at+"seen.wet_splices", "splices listed for wet places, box for rain",
				eyes("listing marks of splices and box", "splices before the lid goes on"))},
		}
		p.Boxes = append(p.Boxes, b)
	}
	for i := range r.doc.Disconnects {
		d := &r.doc.Disconnects[i]
		at := "disconnects." + d.ID + "."
		s := &Switch{ID: d.ID, Name: d.Name.Value, Existing: d.Existing.Value,
			Rating:       fact(d.Rating, at+"rating", "rating of the "+d.Name.Value, nameplate),
			Interrupting: fact(d.Interrupting, at+"interrupting", "fault-current rating of the "+d.Name.Value, nameplate),
			Initiator:    fact(d.Initiator, at+"rapid_shutdown_initiator", "does it start rapid shutdown", decision),
			Seen: Checked{
				"openings":      openings(d.Seen.EnclosureSeen, at+"seen."),
				"reachable":     fact(d.Seen.Reachable, at+"seen.reachable", "in reach of anyone", eyes("walk up to it", "the way to it")),
				"lockable":      fact(d.Seen.Lockable, at+"seen.lockable", "locked open by a device that stays in place", eyes("look at its handle", "the handle with the lock")),
				"visible_blade": fact(d.Seen.VisibleBlade, at+"seen.visible_blade", "its open blades can be seen", nameplate),
				"outside":       fact(d.Outside, at+"outside", "hangs outside the building that it shuts down", eyes("look where it hangs", "the switch and the wall")),
			}}
		p.Switches = append(p.Switches, s)
	}
	a := r.doc.Array
	p.Array = Checked{
		"bonding":          fact(a.Bonding, "array.bonding", "bonded by parts listed for it, ground led off with the circuit", eyes("look under the modules before the last row", "clamps and ground lug")),
		"ground_protected": fact(a.Protected, "array.ground_protected", "a ground thinner than 6 AWG kept from damage", eyes("look under the modules", "the ground under the modules")),
		"cable_secured":    fact(a.Secured, "array.cable_secured", "trunk cable fastened and off the roof", eyes("look under the modules", "the trunk cable under a row")),
	}
}

func openings(s job.EnclosureSeen, at string) working.Fact[bool] {
	return fact(s.Openings, at+"openings", "unused openings closed, knockouts filled by their fittings", eyes("look at all sides", "each side of the enclosure"))
}

// supply resolves what the utility says beyond the fault current between legs.
func (r *resolver) supply() {
	d, s := r.doc.Service, &r.plant.Service
	s.ToNeutral = fact(d.ToNeutral, "service.fault_to_neutral", "available fault current from leg to neutral at the service", utility)
	s.UtilitySwitch = fact(d.UtilitySwitch, "service.utility_switch", "does the utility ask for a switch with visible blades", ask{"interconnection rules of the utility", ""})
	if t := d.Transformer; t != nil {
		plate := eyes("nameplate on pole or pad, seen from the ground; else ask the utility", "nameplate of the transformer")
		s.Transformer = &Transformer{
			Rating:    fact(t.Rating, "service.transformer.rating", "rating of the transformer", plate),
			Impedance: fact(t.Impedance, "service.transformer.impedance", "impedance of the transformer", plate),
			Length:    fact(t.Length, "service.transformer.length", "service conductors from the transformer", tape),
		}
	}
}

// Switch returns the switch with an id, nil if there is none.
func (p *Plant) Switch(id string) *Switch {
	for _, s := range p.Switches {
		if s.ID == id {
			return s
		}
	}
	return nil
}

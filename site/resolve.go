package site

import (
	"fmt"
	"strings"

	"legwork/job"
	"legwork/quantity"
	"legwork/working"
)

// riseTarget is the trade's usual limit for the voltage rise from the service
// to the last unit. Common practice; no code limit.
const riseTarget quantity.Percent = 2

// Resolve builds the plant from the facts of a document and a set of decisions:
// the document's own, or those that a plan has completed. The document has been
// parsed, so that every id it refers to exists; what is undecided stays unknown.
func Resolve(doc *job.Document, d job.Decisions) (*Plant, error) {
	r := &resolver{doc: doc, dec: d, plant: &Plant{Job: doc, Decided: d},
		modules: map[string]*Module{}, inverters: map[string]*Inverter{}, trunks: map[string]*Trunk{}}
	r.site()
	r.equipment()
	r.units()
	r.runs()
	r.buses()
	if err := r.branches(); err != nil {
		return nil, err
	}
	if err := r.connections(); err != nil {
		return nil, err
	}
	if err := r.feeders(); err != nil {
		return nil, err
	}
	r.controls()
	r.terminals()
	r.seen()
	r.supply()
	r.plant.join()
	return r.plant, nil
}

type resolver struct {
	doc       *job.Document
	dec       job.Decisions
	plant     *Plant
	modules   map[string]*Module
	inverters map[string]*Inverter
	trunks    map[string]*Trunk
}

func (r *resolver) site() {
	p, s, v := r.plant, r.doc.Site, r.doc.Service
	code := fact(s.Code, "site.code", "adopted edition of NFPA 70", department)
	p.Edition = working.Fact[working.Edition]{Value: working.Edition(code.Value), Known: code.Known, Means: code.Means, From: code.From, Ask: code.Ask}
	p.Occupancy = fact(s.Occupancy, "site.occupancy", "what the building is used for", ask{"look", ""})
	p.System = fact(v.System, "service.system", "service system", ask{"utility meter's label", "utility meter"})
	p.Nominal = nominal(p.System)
	p.Hottest = fact(s.Hottest, "site.hottest", "design high temperature", climate)
	p.Coldest = fact(s.Coldest, "site.coldest", "extreme low temperature", climate)
	p.RiseTarget = fact(s.RiseTarget, "site.rise_target", "project target for voltage rise", decision)
	if !s.RiseTarget.Known {
		p.RiseTarget = working.State(riseTarget, "project target for voltage rise",
			working.Origin{Kind: working.Assumed, Path: "site.rise_target", Mark: "common practice"})
	}
	p.Service = Service{
		Rating:         fact(v.Rating, "service.rating", "rating of the service disconnect", handle),
		FaultCurrent:   fact(v.FaultCurrent.Current, "service.fault_current.current", "available fault current at the service", utility),
		FaultKind:      fact(v.FaultCurrent.Kind, "service.fault_current.kind", "what the fault current is between", utility),
		FaultBy:        fact(v.FaultCurrent.By, "service.fault_current.by", "who gave the fault current", utility),
		FaultOn:        fact(v.FaultCurrent.On, "service.fault_current.on", "date of the fault current", utility),
		HighestVoltage: fact(v.HighestVoltage, "service.highest_voltage", "highest service voltage with no PV", voltmeter),
		LoadCalculated: fact(v.LoadCalculated, "service.load_calculated", "calculated load of the dwelling", ask{"dwelling load calculation", ""}),
		VoltWatt:       fact(v.VoltWatt, "service.volt_watt", "volt-watt in the grid profile", ask{"interconnection agreement", ""}),
	}
	if v.Conductors != nil {
		p.Service.Conductors = r.conductors(v.Conductors, "service.conductors", "")
	}
}

func nominal(s working.Fact[job.System]) working.Fact[quantity.Volts] {
	v := working.Fact[quantity.Volts]{Known: s.Known, Means: "nominal voltage between legs", From: s.From, Ask: s.Ask}
	switch s.Value {
	case job.SplitPhase:
		v.Value = 240
	case job.Wye208:
		v.Value = 208
	}
	return v
}

func (r *resolver) equipment() {
	e := r.doc.Equipment
	for i := range e.Modules {
		m := &e.Modules[i]
		at := "equipment.modules." + m.ID + "."
		r.modules[m.ID] = &Module{ID: m.ID,
			Power:        fact(m.Power, at+"power", "module power", nameplate),
			VoltageOpen:  fact(m.VoltageOpen, at+"voltage_open", "module open-circuit voltage", nameplate),
			CurrentShort: fact(m.CurrentShort, at+"current_short", "module short-circuit current", nameplate),
			VoltageTemp:  fact(m.VoltageTemp, at+"voltage_open_per_C", "change of open-circuit voltage per °C", nameplate),
			Length:       fact(m.Length, at+"length", "module length", nameplate),
			Width:        fact(m.Width, at+"width", "module width", nameplate),
		}
	}
	for i := range e.Trunks {
		t := &e.Trunks[i]
		at := "equipment.trunks." + t.ID + "."
		r.trunks[t.ID] = &Trunk{ID: t.ID,
			Size:      fact(t.Size, at+"size", "conductor of the trunk cable", nameplate),
			Material:  fact(t.Material, at+"material", "material of the trunk cable", nameplate),
			Rating:    fact(t.Rating, at+"rating", "largest breaker the trunk cable allows", nameplate),
			portrait:  fact(t.Portrait, at+"portrait", "spacing of drops", nameplate),
			landscape: fact(t.Landscape, at+"landscape", "spacing of drops", nameplate),
		}
	}
	wye := r.plant.System.Known && r.plant.System.Value == job.Wye208
	for i := range e.Inverters {
		v := &e.Inverters[i]
		at := "equipment.inverters." + v.ID + "."
		current, key := v.Current240, "current_240V"
		limit, limitKey := v.UnitsPer20A240, "units_per_20A_240V"
		if wye {
			current, key, limit, limitKey = v.Current208, "current_208V", v.UnitsPer20A208, "units_per_20A_208V"
		}
		amps := fact(current, at+key, "rated output current of one "+v.ID, nameplate)
		n := fact(limit, at+limitKey, "units that the listing allows on a 20 A branch", nameplate)
		if !r.plant.System.Known { // which of the two nameplate values counts is not known
			amps.Known, amps.Ask = false, r.plant.System.Ask
			n.Known, n.Ask = false, r.plant.System.Ask
		}
		r.inverters[v.ID] = &Inverter{ID: v.ID,
			Power:          fact(v.Power, at+"power", "rated output of one unit", nameplate),
			Current:        amps,
			UnitsPer20A:    working.Fact[quantity.Count]{Value: quantity.Count(n.Value), Known: n.Known, Means: n.Means, From: n.From, Ask: n.Ask},
			LargestBreaker: fact(v.LargestBreaker, at+"largest_breaker", "largest breaker the listing allows", nameplate),
			InputVoltage:   fact(v.InputVoltage, at+"input_voltage", "largest DC input voltage", nameplate),
			InputShort:     fact(v.InputShort, at+"input_short", "largest module short-circuit current", nameplate),
			ModulesPerUnit: fact(v.ModulesPerUnit, at+"modules_per_unit", "modules on one unit", nameplate),
			Neutral:        fact(v.Neutral, at+"neutral", "does the unit need a neutral", nameplate),
			ArcFault:       fact(v.ArcFault, at+"arc_fault", "does the listing include DC arc-fault protection", nameplate),
			Trunk:          r.trunks[v.Trunk],
		}
	}
}

func (r *resolver) conductors(c *job.Conductors, path string, by job.By) *Conductors {
	at := path + "."
	out := &Conductors{
		Size:       decidedOr(c.Size, by, at+"size", "conductor size"),
		Material:   decidedOr(c.Material, by, at+"material", "conductor material"),
		Insulation: decidedOr(c.Insulation, by, at+"insulation", "insulation"),
		Neutral:    decidedOr(c.Neutral, by, at+"neutral", "neutral conductor"),
		HasNeutral: c.Neutral.Stated(),
		Ground:     decidedOr(c.Ground, by, at+"ground", "equipment ground"),
		HasGround:  c.Ground.Stated(),
		Spares:     decidedOr(c.Spares, by, at+"spares", "spare conductors in the raceway"),
		HasSpares:  c.Spares.Stated(),
		Raceway:    decidedOr(c.Raceway, by, at+"raceway", "kind of raceway"),
		Trade:      decidedOr(c.Trade, by, at+"trade_size", "trade size of the raceway"),
		By:         by,
	}
	out.GroundMaterial = decidedOr(c.GroundMaterial, by, at+"ground_material", "material of the ground")
	if !c.GroundMaterial.Stated() { // left out: as the phase conductors
		out.GroundMaterial = out.Material
	}
	return out
}

// decidedOr is decided for a new run, and a fact read off the wire for an
// existing one.
func decidedOr[T any](f job.Fact[T], by job.By, path, means string) working.Fact[T] {
	if by == "" {
		return fact(f, path, means, wireMark)
	}
	return decided(f, by, path, means)
}

func (r *resolver) runs() {
	chosen := map[string]*job.RunDecision{}
	for i := range r.dec.Runs {
		chosen[r.dec.Runs[i].Run] = &r.dec.Runs[i]
	}
	for i := range r.doc.Runs {
		d := &r.doc.Runs[i]
		at := "runs." + d.ID + "."
		run := &Run{ID: d.ID, Name: d.ID, From: d.From, To: d.To, Existing: d.Existing,
			Length: fact(d.Length, at+"length", "length one way", tape)}
		if d.Name.Known {
			run.Name = d.Name.Value
		}
		for k := range d.Segments {
			s := &d.Segments[k]
			sat := fmt.Sprintf("%ssegments[%d].", at, k)
			run.Segments = append(run.Segments, &Segment{Index: k,
				Length:  fact(s.Length, sat+"length", "length of the segment", tape),
				Where:   fact(s.Where, sat+"where", "where the segment runs", tape),
				Ambient: fact(s.Ambient, sat+"ambient", "air temperature around the segment", climate),
				Height:  fact(s.Height, sat+"height", "height of the raceway above the roof", tape),
				Sun:     fact(s.Sun, sat+"sun", "is the segment in direct sun", ask{"look at noon", "the segment on the roof"}),
			})
		}
		switch {
		case d.Conductors != nil:
			run.Conductors = r.conductors(d.Conductors, at+"conductors", "")
		case chosen[d.ID] != nil:
			c := chosen[d.ID]
			run.Conductors = r.conductors(&c.Conductors, "decisions.runs."+d.ID+".conductors", c.By)
		default:
			run.Conductors = r.conductors(&job.Conductors{}, "decisions.runs."+d.ID+".conductors", job.Person)
		}
		r.plant.Runs = append(r.plant.Runs, run)
	}
}

func (r *resolver) buses() {
	types := map[string]*job.CombinerType{}
	for i := range r.doc.Equipment.Combiners {
		types[r.doc.Equipment.Combiners[i].ID] = &r.doc.Equipment.Combiners[i]
	}
	for i := range r.doc.Combiners {
		c := &r.doc.Combiners[i]
		t := types[c.Type]
		at := "equipment.combiners." + t.ID + "."
		n := fact(t.BranchSpaces, at+"branch_spaces", "two-pole positions for branches", nameplate)
		b := &Bus{ID: c.ID, Name: c.Name.Value, Kind: CombinerBus, New: true,
			Rating:       fact(t.Busbar, at+"busbar", "busbar rating of the combiner", nameplate),
			HasMain:      t.MainLugOnly.Known && !t.MainLugOnly.Value,
			BranchSpaces: working.Fact[quantity.Count]{Value: quantity.Count(n.Value), Known: n.Known, Means: n.Means, From: n.From, Ask: n.Ask},
			Series:       fact(t.Series, at+"series_rating", "tested series combination marked on the combiner", nameplate),
			HasSeries:    t.Series.Stated(),
			Terminals:    fact(t.Terminals, at+"terminals", "temperature mark of the combiner's terminals", terminalMark),
			Interrupting: fact(t.Interrupting, at+"interrupting", "fault-current rating of the combiner", nameplate),
			Main:         working.Fact[quantity.Amps]{Means: "device that protects the combiner's bus", From: working.Origin{Kind: working.Given, Path: "decisions.connections"}, Ask: working.Missing{Path: "decisions.connections", What: "device that protects the combiner's bus", Find: decision.find}},
		}
		if t.GatewayBreaker.Stated() {
			b.Gateway = &Breaker{Name: "gateway", Poles: 1, New: true, Bus: b,
				Rating: fact(t.GatewayBreaker, at+"gateway_breaker", "breaker of meter and gateway", nameplate)}
			b.Breakers = append(b.Breakers, b.Gateway)
		}
		r.plant.Buses = append(r.plant.Buses, b)
	}
	for i := range r.doc.Panels {
		r.plant.Buses = append(r.plant.Buses, r.panel(&r.doc.Panels[i]))
	}
	r.plant.Service.Panel = r.plant.Bus(r.doc.Service.Panel)
}

func (r *resolver) panel(d *job.Panel) *Bus {
	at := "panels." + d.ID + "."
	name := d.Name.Value
	if name == "" {
		name = d.ID
	}
	spaces := fact(d.Spaces, at+"spaces", "breaker spaces of the "+name, panelLooks)
	b := &Bus{ID: d.ID, Name: name, Kind: PanelBus, Building: d.Building.Value,
		Rating:       fact(d.Busbar, at+"busbar", "busbar rating of the "+name, panelLabel),
		Main:         fact(d.Main, at+"main", "rating of the main of the "+name, handle),
		HasMain:      !(d.MainLugOnly.Known && d.MainLugOnly.Value),
		Feed:         fact(d.Feed, at+"feed", "where the main feeds the busbar", panelLooks),
		MainBetween:  d.MainBetween,
		Spaces:       working.Fact[quantity.Count]{Value: quantity.Count(spaces.Value), Known: spaces.Known, Means: spaces.Means, From: spaces.From, Ask: spaces.Ask},
		Terminals:    fact(d.Terminals, at+"terminals", "temperature mark of the terminals in the "+name, terminalMark),
		Interrupting: fact(d.Interrupting, at+"interrupting", "interrupting rating of the breakers in the "+name, nameplate),
		NoBreaker:    fact(d.NoBreaker, at+"no_listed_breaker", "no listed breaker is made for the "+name, breakerLabel),
		AsksBreaker:  d.NoBreaker.Stated(),
		Tandem:       d.Tandem,
	}
	r.change(b)
	for k := range d.Breakers {
		e := &d.Breakers[k]
		br := &Breaker{Name: e.Name.Value, Spaces: e.Spaces, Poles: len(e.Spaces), Bus: b,
			Rating: fact(e.Rating, fmt.Sprintf("%sbreakers[%d].rating", at, k), "breaker of the "+e.Name.Value, handle)}
		for _, m := range r.dec.Moves {
			if m.Panel == d.ID && sameSpaces(m.From, e.Spaces) {
				br.Spaces, br.Moved = m.To, true
			}
		}
		b.Breakers = append(b.Breakers, br)
	}
	for _, s := range r.doc.Sources {
		if s.Panel != d.ID {
			continue
		}
		src := &Source{ID: s.ID, Bus: b,
			Kind:     fact(s.Kind, "sources."+s.ID+".kind", "kind of the existing source", nameplate),
			Current:  fact(s.Current, "sources."+s.ID+".current", "rated output current of the existing "+s.ID, nameplate),
			Fastened: fact(s.Fastened, "sources."+s.ID+".fastened", "fastener on the breaker of the existing "+s.ID, handle)}
		src.Breaker = b.at(s.Spaces)
		if src.Breaker == nil {
			src.Breaker = &Breaker{Name: s.ID, Spaces: s.Spaces, Poles: len(s.Spaces), Bus: b,
				Rating: fact(s.Breaker, "sources."+s.ID+".breaker", "breaker of the existing "+s.ID, handle)}
			b.Breakers = append(b.Breakers, src.Breaker)
		}
		src.Breaker.Existing = src
		r.plant.Sources = append(r.plant.Sources, src)
	}
	return b
}

// at returns the breaker in the given spaces, nil if there is none.
func (b *Bus) at(spaces []int) *Breaker {
	for _, d := range b.Breakers {
		if len(spaces) > 0 && sameSpaces(d.Spaces, spaces) {
			return d
		}
	}
	return nil
}

func sameSpaces(a, b []int) bool { return fmt.Sprint(a) == fmt.Sprint(b) }

func (r *resolver) branches() error {
	for i := range r.dec.Branches {
		d := &r.dec.Branches[i]
		at := "decisions.branches." + d.ID + "."
		br := &Branch{ID: d.ID, Feed: d.Feed, From: d.From, By: d.By, Bus: r.plant.Bus(d.Lands), jumpers: map[string]quantity.Feet{}}
		positions, err := job.ExpandUnits(d.Units)
		if err != nil {
			return fmt.Errorf("%sunits: %w", at, err)
		}
		for _, pos := range positions {
			u := r.unit(pos)
			switch {
			case u == nil:
				return fmt.Errorf("%sunits: no position %s; its plane has %s", at, pos, r.grid(pos))
			case len(br.Units) > 0 && br.Units[len(br.Units)-1] == u:
				continue // another module of the same unit
			case u.Branch != nil:
				return fmt.Errorf("%sunits: %s is on branch %s already", at, pos, u.Branch.ID)
			}
			u.Branch = br
			br.Units = append(br.Units, u)
		}
		for _, j := range d.Jumpers {
			if u := r.unit(j.After); u != nil {
				br.jumpers[u.Position] = j.Length
			} else {
				br.jumpers[j.After] = j.Length // from the junction box
			}
		}
		br.Breaker = &Breaker{Name: "branch " + d.ID, Spaces: d.Spaces, Poles: 2, New: true, Bus: br.Bus, Branch: br,
			Rating:   decided(d.Breaker, d.By, at+"breaker", "breaker of branch "+d.ID),
			Listed:   fact(d.Listed, at+"listed_for_panel", "breaker of branch "+d.ID+" listed for this panel", breakerLabel),
			LineLoad: fact(d.LineLoad, at+"marked_line_load", "breaker of branch "+d.ID+" marked LINE and LOAD", breakerLabel)}
		if br.Bus != nil {
			br.Bus.Breakers = append(br.Bus.Breakers, br.Breaker)
		}
		for _, run := range r.plant.Runs {
			if run.From == d.From && run.To == d.Lands {
				br.Run = run
				run.Circuits = append(run.Circuits, &Circuit{ID: d.ID, Kind: BranchCircuit, Legs: 2, CountsNeutral: run.Conductors.HasNeutral && r.legs() == 3, Branch: br, Device: br.Breaker})
				break
			}
		}
		r.plant.Branches = append(r.plant.Branches, br)
	}
	return nil
}

// legs is the number of line conductors of an output or a feeder.
func (r *resolver) legs() int {
	if r.plant.System.Value == job.Wye208 {
		return 3
	}
	return 2
}

func (r *resolver) grid(pos string) string {
	p, err := job.ParsePosition(pos)
	if err != nil {
		return "no such form"
	}
	var known []string
	for i := range r.doc.Planes {
		pl := &r.doc.Planes[i]
		if pl.ID == p.Plane {
			return fmt.Sprintf("%d rows and %d columns", pl.Grid.Rows, pl.Grid.Columns)
		}
		known = append(known, pl.ID)
	}
	return "no such plane; there is " + strings.Join(known, ", ")
}

func (r *resolver) connections() error {
	for i := range r.dec.Connections {
		c := &r.dec.Connections[i]
		at := "decisions.connections." + c.ID + "."
		from, run := r.plant.Bus(c.From), r.plant.Run(c.Run)
		if from == nil || run == nil {
			return fmt.Errorf("%s: no bus %q or no run %q", strings.TrimSuffix(at, "."), c.From, c.Run)
		}
		rating := decided(c.Breaker, c.By, at+"breaker", "PV breaker")
		if to := r.plant.Bus(c.Panel); c.Kind == job.FeedThrough && to != nil && !c.Breaker.Stated() {
			rating = to.Protection() // nothing at the lugs: the panel's main protects the conductors
		}
		tie := &Tie{Run: run, Device: &Breaker{Name: "PV", Spaces: c.Spaces, Poles: 2, New: true, Rating: rating, Carries: from,
			Listed:   fact(c.Listed, at+"listed_for_panel", "PV breaker listed for this panel", breakerLabel),
			LineLoad: fact(c.LineLoad, at+"marked_line_load", "PV breaker marked LINE and LOAD", breakerLabel)}}
		switch c.Kind {
		case job.SupplySide:
			tie.Supply = &SupplyTap{Connection: c,
				Length: fact(c.TapLength, at+"tap_length", "conductor from the tap to the fuses", tape),
				Place:  fact(c.TapPlace, at+"tap_place", "where the tap is made", ask{"look", "the place of the tap"})}
			tie.Supply.Terminals = fact(c.TapTerminals, at+"tap_terminals", "temperature mark of the tap connectors", terminalMark)
			tie.Supply.made(c.Tap, at+"tap.")
			for k := range r.doc.Disconnects {
				if d := &r.doc.Disconnects[k]; d.ID == c.Disconnect {
					tie.Supply.switched(d)
					tie.Device.Name = "fuses of the " + strings.ToLower(d.Name.Value)
					if !rating.Known {
						tie.Device.Rating = fact(d.Fuses, "disconnects."+d.ID+".fuses", "fuses of the PV disconnect", nameplate)
					}
				}
			}
		default:
			tie.To = r.plant.Bus(c.Panel)
			if tie.To != nil {
				tie.Device.Bus, tie.Device.Lugs = tie.To, c.Kind == job.FeedThrough
				tie.Device.Fused = c.Breaker.Stated()
				tie.To.Breakers = append(tie.To.Breakers, tie.Device)
			}
		}
		from.Up = tie
		run.Circuits = append(run.Circuits, &Circuit{ID: c.ID, Kind: OutputCircuit, Legs: r.legs(), Device: tie.Device, Carries: from})
	}
	return nil
}

func (r *resolver) feeders() error {
	for i := range r.doc.Panels {
		d := &r.doc.Panels[i]
		if d.FedFrom == nil {
			continue
		}
		b, up, run := r.plant.Bus(d.ID), r.plant.Bus(d.FedFrom.Panel), r.plant.Run(d.FedFrom.Run)
		if len(d.FedFrom.Spaces) == 0 {
			lugs := &Breaker{Name: "feed-through lugs", Lugs: true, Poles: 2, Bus: up, Carries: b, Rating: up.Protection()}
			up.Breakers = append(up.Breakers, lugs)
			b.Up = &Tie{Run: run, Device: lugs, To: up}
			run.Circuits = append(run.Circuits, &Circuit{ID: run.ID, Kind: FeederCircuit, Device: lugs, Carries: b})
			continue
		}
		spaces := d.FedFrom.Spaces
		for _, m := range r.dec.Moves {
			if m.Panel == d.FedFrom.Panel && sameSpaces(m.From, spaces) {
				spaces = m.To
			}
		}
		device := up.at(spaces)
		if device == nil {
			return fmt.Errorf("panels.%s.fed_from: no breaker in spaces %v of %s", d.ID, d.FedFrom.Spaces, up.ID)
		}
		device.Carries = b
		b.Up = &Tie{Run: run, Device: device, To: up}
		run.Circuits = append(run.Circuits, &Circuit{ID: run.ID, Kind: FeederCircuit, Legs: r.legs(), Device: device, Carries: b})
	}
	return nil
}

// terminals finds the temperature marks at both ends of every run.
func (r *resolver) terminals() {
	marks := map[string]working.Fact[quantity.Celsius]{}
	for i := range r.doc.JunctionBoxes {
		j := &r.doc.JunctionBoxes[i]
		marks[j.ID] = fact(j.Terminals, "junction_boxes."+j.ID+".terminals", "temperature mark of the splices in the junction box", terminalMark)
	}
	for i := range r.doc.Disconnects {
		d := &r.doc.Disconnects[i]
		marks[d.ID] = fact(d.Terminals, "disconnects."+d.ID+".terminals", "temperature mark of the "+d.Name.Value, terminalMark)
	}
	for _, b := range r.plant.Buses {
		marks[b.ID] = b.Terminals
	}
	for _, run := range r.plant.Runs {
		for i, end := range []string{run.From, run.To} {
			m, ok := marks[end]
			if tap := r.plant.tapOf(run); tap != nil && end == job.ServiceEnd {
				m, ok = tap.Terminals, true
			}
			if !ok {
				what := "temperature mark of the terminals at " + end
				m = working.Fact[quantity.Celsius]{Means: what, From: working.Origin{Kind: working.Given, Path: "runs." + run.ID}, Ask: working.Missing{Path: "runs." + run.ID, What: what, Find: terminalMark.find, Photo: terminalMark.photo}}
			}
			run.Terminals[i] = m
		}
	}
}

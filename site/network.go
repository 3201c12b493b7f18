package site

import (
	"fmt"

	"legwork/circuit"
	"legwork/job"
	"legwork/quantity"
	"legwork/tables"
	"legwork/working"
)

// NetworkOptions tells how the plant is taken as a circuit.
type NetworkOptions struct {
	// Volts is leg to leg at the source with no PV; the nominal voltage when zero.
	Volts quantity.Volts
	// PowerFactor of the units, negative when they absorb vars; unity when zero.
	PowerFactor quantity.Ratio
	Basis       circuit.Basis
	// Upstream is the way to the utility's transformer. Nil takes the point of
	// connection as an infinite source, as the convention of the rise does.
	Upstream *circuit.Upstream
	// Pairs gives the legs of each branch and older source on 208Y/120, by id.
	// Split phase has one pair.
	Pairs map[string]circuit.Pair
	// Loads hang on buses, whose ids name the nodes.
	Loads []circuit.Load
}

// Network is the plant as a circuit, with the nodes and sections of its graph:
// unit "S-r1-c2", splice "roof_box/A", bus "MP", "utility"; section "A/S-r1-c2",
// "home/A", "feeder", "service" (without impedance), and "upstream" when given.
//
// What nobody has stated is listed, and then there is no network. The document
// gives no length of the service conductors: they belong to Upstream. An older
// source sends out its rated current at unity power factor.
//
// The trunk cable lies in no conduit; its reactance is taken as in PVC.
func (p *Plant) Network(o NetworkOptions) (*circuit.Network, []working.Missing, error) {
	b := &networkBuilder{plant: p, options: o, net: &circuit.Network{
		Nominal: p.Nominal.Value, Source: "utility", Volts: o.Volts, Loads: o.Loads}}
	if o.PowerFactor == 0 {
		b.options.PowerFactor = 1
	}
	if need(b, p.System) && p.System.Value == job.Wye208 {
		b.net.System = circuit.Wye
	}
	if o.Volts == 0 {
		b.net.Volts = p.Nominal.Value
	}
	for _, n := range p.Nodes {
		if n.Up == nil {
			continue
		}
		if err := b.edge(n.Up); err != nil {
			return nil, nil, err
		}
	}
	for _, br := range p.Branches {
		if br.Bus == nil || br.Run == nil {
			b.ask("decisions.branches."+br.ID, "the way of branch "+br.ID+" to a panel")
		}
	}
	for _, s := range p.Sources {
		b.older(s)
	}
	if up := o.Upstream; up != nil {
		b.net.Sections = append(b.net.Sections, up.Section("upstream", "utility", "transformer", b.net.System))
		b.net.Source = "transformer"
	}
	if len(b.missing) > 0 {
		return nil, b.missing, nil
	}
	return b.net, nil, nil
}

type networkBuilder struct {
	plant   *Plant
	options NetworkOptions
	net     *circuit.Network
	missing []working.Missing
}

// need lists a fact that is unknown, once.
func need[T any](b *networkBuilder, f working.Fact[T]) bool {
	if !f.Known {
		b.list(f.Ask)
	}
	return f.Known
}

func (b *networkBuilder) ask(path, what string) {
	b.list(working.Missing{Path: path, What: what, Find: decision.find})
}

func (b *networkBuilder) list(m working.Missing) {
	for _, have := range b.missing {
		if have == m {
			return
		}
	}
	b.missing = append(b.missing, m)
}

func (b *networkBuilder) edge(e *Edge) error {
	switch e.Kind {
	case ServiceEdge:
		b.service(e)
		return nil
	case RunEdge:
		return b.run(e)
	}
	return b.trunk(e)
}

// older is a source that was there before.
func (b *networkBuilder) older(s *Source) {
	p, ok := b.pair(s.ID)
	if need(b, s.Current) && ok {
		b.net.Units = append(b.net.Units, circuit.Unit{ID: s.ID, Node: s.Bus.ID, Across: p,
			Power: complex(s.Current.Value.Float()*b.net.Nominal.Float(), 0), Current: s.Current.Value})
	}
}

// service joins a bus or a tap to the point of connection. Service conductors
// have no length in the document, so nothing lies between.
func (b *networkBuilder) service(e *Edge) {
	bus, id := e.From.Bus, e.ID
	switch {
	case bus == nil:
		id += "/" + e.From.ID
	case bus != b.plant.Service.Panel:
		path := "decisions.connections"
		if bus.Kind == PanelBus {
			path = "panels." + bus.ID + ".fed_from"
		}
		b.ask(path, "what joins the "+bus.Name+" to the service")
		return
	}
	b.net.Sections = append(b.net.Sections, circuit.Upstream{}.Section(id, e.From.ID, e.To.ID, b.net.System))
}

// pair is where a branch or an older source is connected.
func (b *networkBuilder) pair(id string) (circuit.Pair, bool) {
	if b.net.System == circuit.SplitPhase {
		return circuit.L1L2, true
	}
	p, ok := b.options.Pairs[id]
	if !ok {
		b.ask("decisions.branches."+id, "pair of legs of "+id)
	}
	return p, ok
}

// run is a home run with the two legs of its branch, or an output or feeder with
// all legs and the neutral that is pulled.
func (b *networkBuilder) run(e *Edge) error {
	r := e.Run
	c := r.Conductors
	known := need(b, r.Length)
	known = need(b, c.Size) && known
	known = need(b, c.Material) && known
	if b.options.Basis.Reactance {
		known = need(b, c.Raceway) && known
	}
	neutral := e.Branch == nil && c.HasNeutral
	if neutral {
		known = need(b, c.Neutral) && known
	}
	legs := b.net.System.Conductors()
	if e.Branch != nil {
		p, ok := b.pair(e.Branch.ID)
		known, legs = ok && known, p[:]
	}
	if !known {
		return nil
	}
	s := circuit.Section{ID: e.ID, From: e.From.ID, To: e.To.ID}
	for _, l := range legs {
		size := c.Size.Value
		if l == circuit.N {
			if !neutral {
				continue
			}
			size = c.Neutral.Value
		}
		z, err := b.options.Basis.Impedance(size, c.Material.Value, c.Raceway.Value.Row().Conduit, r.Length.Value)
		if err != nil {
			return fmt.Errorf("runs.%s: %w", r.ID, err)
		}
		s.Strands = append(s.Strands, circuit.Strand{Conductor: l, Ohms: z})
	}
	b.net.Sections = append(b.net.Sections, s)
	return nil
}

// trunk is the cable to a unit, and the unit itself.
func (b *networkBuilder) trunk(e *Edge) error {
	u := e.From.Unit
	t := u.Inverter.Trunk
	known := need(b, e.Trunk.Length)
	known = need(b, t.Size) && known
	known = need(b, t.Material) && known
	known = need(b, u.Inverter.Power) && known
	known = need(b, u.Inverter.Current) && known
	p, ok := b.pair(e.Branch.ID)
	if !ok || !known {
		return nil
	}
	z, err := b.options.Basis.Impedance(t.Size.Value, t.Material.Value, tables.InPVC, e.Trunk.Length.Value)
	if err != nil {
		return fmt.Errorf("equipment.trunks.%s: %w", t.ID, err)
	}
	power, err := circuit.Injection(u.Inverter.Power.Value, b.options.PowerFactor)
	if err != nil {
		return err
	}
	b.net.Sections = append(b.net.Sections, circuit.Section{ID: e.ID, From: e.From.ID, To: e.To.ID,
		Strands: []circuit.Strand{{Conductor: p[0], Ohms: z}, {Conductor: p[1], Ohms: z}}})
	b.net.Units = append(b.net.Units, circuit.Unit{ID: u.Position, Node: e.From.ID, Across: p,
		Power: power, Rated: u.Inverter.Power.Value, Current: u.Inverter.Current.Value})
	return nil
}

package main

import (
	"encoding/json"

	"legwork/circuit"
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// riseReport is the machine form, schema rise/1; see docs/formats/rise.md.
type riseReport struct {
	Schema      string            `json:"schema"`
	Job         string            `json:"job"`
	File        string            `json:"file"`
	Invented    bool              `json:"invented"`
	Basis       riseBasis         `json:"basis"`
	Rated       *riseState        `json:"rated"`
	Curtailment *riseCurtailment  `json:"curtailment"`
	Missing     []working.Missing `json:"missing"`
}

type riseBasis struct {
	Source      working.Term `json:"source"`
	Temperature working.Term `json:"temperature"`
	Reactance   bool         `json:"reactance"`
	PowerFactor float64      `json:"power_factor"`
	Upstream    working.Term `json:"upstream"`
	Assumed     []string     `json:"assumed"`
}

type riseState struct {
	Nodes     []riseNode    `json:"nodes"`
	Sections  []riseSection `json:"sections"`
	Units     []riseUnit    `json:"units"`
	Generated working.Term  `json:"generated"`
	Delivered working.Term  `json:"delivered"`
	Lost      working.Term  `json:"lost"`
	LostShare working.Term  `json:"lost_share"`
}

type riseNode struct {
	ID           string       `json:"id"`
	Volts        riseVolts    `json:"volts"`
	NeutralShift working.Term `json:"neutral_shift"`
}

type riseVolts []struct {
	pair  circuit.Pair
	volts quantity.Volts
}

type riseSection struct {
	ID      string       `json:"id"`
	From    string       `json:"from"`
	To      string       `json:"to"`
	Rise    riseVolts    `json:"rise"`
	Formula working.Term `json:"formula"`
	Lost    working.Term `json:"lost"`
}

type riseUnit struct {
	ID         string       `json:"id"`
	Branch     string       `json:"branch"`
	Volts      working.Term `json:"volts"`
	Rise       working.Term `json:"rise"`
	Formula    working.Term `json:"formula"`
	Difference working.Term `json:"difference"`
	Percent    working.Term `json:"percent"`
}

type riseCurtailment struct {
	Source    working.Term `json:"source"`
	VoltWatt  bool         `json:"volt_watt"`
	Curve     [][2]float64 `json:"curve"`
	Unit      string       `json:"unit"`
	Volts     working.Term `json:"volts"`
	UnitShare working.Term `json:"unit_share"`
	Share     working.Term `json:"share"`
}

// MarshalJSON writes volts by pair: {"L1-L2": {"value": 247.1, "unit": "V"}}.
func (r riseVolts) MarshalJSON() ([]byte, error) {
	out := map[string]working.Term{}
	for _, v := range r {
		out[v.pair.String()] = worked(v.volts)
	}
	return json.Marshal(out)
}

func worked(q quantity.Quantity) working.Term {
	return working.Of(q, "", working.Origin{Kind: working.Computed})
}

func stateOf(p *site.Plant, s *circuit.Solution, one circuit.OneLine) *riseState {
	out := &riseState{Nodes: []riseNode{}, Sections: []riseSection{}, Units: []riseUnit{},
		Generated: worked(quantity.Watts(real(s.Generated))), Delivered: worked(quantity.Watts(real(s.Delivered))),
		Lost: worked(quantity.Watts(real(s.Lost)))}
	if real(s.Generated) > 0 {
		out.LostShare = worked(quantity.Percent(100 * s.LossShare()))
	}
	for i := range s.Nodes {
		n := &s.Nodes[i]
		node := riseNode{ID: n.ID}
		for _, pair := range append(n.LegPairs(), n.NeutralPairs()...) {
			node.Volts = append(node.Volts, struct {
				pair  circuit.Pair
				volts quantity.Volts
			}{pair, n.Volts(pair)})
		}
		if n.Has[circuit.N] {
			node.NeutralShift = worked(n.NeutralShift())
		}
		out.Nodes = append(out.Nodes, node)
	}
	for i := range s.Sections {
		e := &s.Sections[i]
		section := riseSection{ID: e.Section.ID, From: e.Section.From, To: e.Section.To, Lost: worked(quantity.Watts(real(e.Lost)))}
		if v, ok := one.Sections[section.ID]; ok {
			section.Formula = worked(v)
		}
		for _, pair := range e.LegPairs() {
			section.Rise = append(section.Rise, struct {
				pair  circuit.Pair
				volts quantity.Volts
			}{pair, e.Rise(pair)})
		}
		out.Sections = append(out.Sections, section)
	}
	for _, u := range s.Units {
		rise, formula := s.Rise(u.Unit.Node, pointOfConnection, u.Unit.Across), one.Units[u.Unit.ID]
		unit := riseUnit{ID: u.Unit.ID, Volts: worked(u.Volts), Rise: worked(rise), Formula: worked(formula),
			Difference: worked(rise - formula), Percent: worked(quantity.Percent(100 * rise / p.Nominal.Value))}
		if n := p.Node(u.Unit.Node); n != nil && n.Unit != nil {
			unit.Branch = n.Unit.Branch.ID
		}
		out.Units = append(out.Units, unit)
	}
	return out
}

func curtailmentOf(p *site.Plant, c *circuit.Curtailment, curve circuit.VoltWatt) *riseCurtailment {
	top := c.Worst
	for _, u := range c.Solution.Units {
		if u.Volts > top.Volts {
			top = u
		}
	}
	out := &riseCurtailment{Source: p.Service.HighestVoltage.Term(), VoltWatt: len(curve) > 0, Curve: [][2]float64{},
		Unit: top.Unit.ID, Volts: worked(top.Volts),
		UnitShare: worked(quantity.Percent(100 * top.Share)), Share: worked(quantity.Percent(100 * c.Share))}
	for _, k := range curve {
		out.Curve = append(out.Curve, [2]float64{k.Volts.Float(), k.Power.Float()})
	}
	return out
}

package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"legwork/circuit"
	"legwork/plan"
	"legwork/quantity"
	"legwork/site"
	"legwork/where"
	"legwork/working"
)

// pointOfConnection is the node at which the rise begins; nothing lies between it
// and the service panel or the supply-side tap.
const pointOfConnection = "utility"

func riseCommand(env Env) *cobra.Command {
	var (
		asJSON bool
		pairs  []string
		source quantity.Volts
		loop   quantity.Ohms
		pf     float64
		basis  = circuit.Table8
	)
	c := &cobra.Command{
		Use:   "rise JOB",
		Short: "Voltage at every unit and bus, and the rise over every section",
		Long: "Solves the plant as an AC circuit, all units at rated power, and puts the reviewer's one-line formula beside it.\n" +
			"At the highest measured service voltage it tells what a volt-watt curve takes away. What nobody has decided is filled by the planner first.",
		Args: oneJob,
		RunE: func(c *cobra.Command, args []string) error {
			doc, err := readJob(env, args[0])
			if err != nil {
				return err
			}
			p, err := plan.Fill(doc)
			if err != nil {
				return where.Error{File: args[0], Came: err.Error()}
			}
			o := site.NetworkOptions{Volts: source, PowerFactor: quantity.Ratio(pf), Basis: basis}
			if c.Flags().Changed("upstream") {
				half := complex(loop.Float()/2, 0)
				o.Upstream = &circuit.Upstream{Leg: half, Neutral: half}
			}
			if o.Pairs, err = pairsOf(p.Plant, pairs); err != nil {
				return inputError{err}
			}
			report := riseReport{Schema: "rise/1", Job: doc.Name, File: args[0], Invented: doc.Invented, Missing: []working.Missing{}}
			report.Basis = basisOf(p.Plant, o)
			if err := report.solve(p.Plant, o); err != nil {
				return where.Error{File: args[0], Came: err.Error()}
			}
			if asJSON {
				err = writeJSON(env.Stdout, report)
			} else {
				err = writeRise(env.Stdout, title(doc), report)
			}
			if err != nil {
				return faultError{err}
			}
			return nil
		},
	}
	f := c.Flags()
	f.TextVar(&source, "voltage", quantity.Volts(0), "leg to leg at the source with no PV, such as \"246 V\" (default: nominal)")
	f.TextVar(&basis.Temperature, "temperature", basis.Temperature, "of the conductors, such as \"50 C\"")
	f.BoolVar(&basis.Reactance, "reactance", false, "with the reactance of chapter 9, table 9")
	f.Float64Var(&pf, "power-factor", 1, "of the units; negative when they absorb vars")
	f.TextVar(&loop, "upstream", quantity.Ohms(0), "resistance ahead of the service, both legs together, such as \"0.06 ohm\" (default: none)")
	f.StringSliceVar(&pairs, "pair", nil, "legs of a branch on 208Y/120, such as A=L1-L2")
	f.BoolVar(&asJSON, "json", false, "machine form, schema rise/1")
	return c
}

// pairsOf reads A=L1-L2 for branches and older sources.
func pairsOf(p *site.Plant, asked []string) (map[string]circuit.Pair, error) {
	var ids []string
	for _, b := range p.Branches {
		ids = append(ids, b.ID)
	}
	for _, s := range p.Sources {
		ids = append(ids, s.ID)
	}
	out := map[string]circuit.Pair{}
	for _, a := range asked {
		id, legs, _ := strings.Cut(a, "=")
		pair, err := circuit.ParsePair(legs)
		if err != nil {
			return nil, fmt.Errorf("--pair %s: %w", a, err)
		}
		if p.Branch(id) == nil && !strings.Contains(" "+strings.Join(ids, " ")+" ", " "+id+" ") {
			return nil, fmt.Errorf("--pair %s: no branch or older source %q; there is %s", a, id, strings.Join(ids, ", "))
		}
		out[id] = pair
	}
	return out, nil
}

func basisOf(p *site.Plant, o site.NetworkOptions) riseBasis {
	b := riseBasis{Temperature: worked(o.Basis.Temperature), Reactance: o.Basis.Reactance, PowerFactor: o.PowerFactor.Float(), Source: p.Nominal.Term()}
	if o.Volts != 0 {
		b.Source = worked(o.Volts)
	}
	if o.Upstream == nil {
		b.Assumed = append(b.Assumed, "the point of connection is an infinite source")
	} else {
		b.Upstream = worked(quantity.Ohms(2 * real(o.Upstream.Leg)))
	}
	b.Assumed = append(b.Assumed, "all units at rated power, no loads")
	if o.Basis.Reactance {
		b.Assumed = append(b.Assumed, "trunk cable has the reactance of conductors in PVC")
	}
	return b
}

// solve fills in the state at rated power and the curtailment.
func (r *riseReport) solve(p *site.Plant, o site.NetworkOptions) error {
	n, missing, err := p.Network(o)
	if err != nil {
		return err
	}
	if len(missing) > 0 {
		r.Missing = missing
		return nil
	}
	// The formula needs no fact that n did not have.
	plain := o
	plain.Basis = circuit.Table8
	formula, _, err := p.Network(plain)
	if err != nil {
		return err
	}
	one, err := formula.OneLine(pointOfConnection)
	if err != nil {
		return err
	}
	s, err := n.Solve()
	if err != nil {
		return err
	}
	r.Rated = stateOf(p, s, one)
	for _, f := range []struct {
		known bool
		ask   working.Missing
	}{{p.Service.HighestVoltage.Known, p.Service.HighestVoltage.Ask}, {p.Service.VoltWatt.Known, p.Service.VoltWatt.Ask}} {
		if !f.known {
			r.Missing = append(r.Missing, f.ask)
		}
	}
	if len(r.Missing) > 0 || len(n.Units) == 0 {
		return nil
	}
	var curve circuit.VoltWatt
	if p.Service.VoltWatt.Value {
		curve = circuit.DefaultVoltWatt()
	}
	c, err := n.Curtail(p.Service.HighestVoltage.Value, curve)
	if err != nil {
		return err
	}
	r.Curtailment = curtailmentOf(p, c, curve)
	return nil
}

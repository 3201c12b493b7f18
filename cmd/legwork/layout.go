package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"legwork/job"
	"legwork/plan"
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// layoutReport is a layout of branches in JSON.
type layoutReport struct {
	Name     string          `json:"name"`
	Cost     plan.Cents      `json:"cost"`
	Bound    plan.Cents      `json:"bound"`
	Gap      plan.Cents      `json:"gap"`
	Rise     working.Term    `json:"trunk_rise"`
	Cable    working.Term    `json:"cable"`
	Short    int             `json:"spaces_short"`
	Over     bool            `json:"over_rise_target"`
	Branches []stretchReport `json:"branches"`
}

type stretchReport struct {
	Units   []string       `json:"units"`
	Count   int            `json:"count"`
	Model   string         `json:"model"`
	Feed    job.TrunkFeed  `json:"feed"`
	From    string         `json:"from"`
	Run     string         `json:"run"`
	Jumpers []jumperReport `json:"jumpers"`
	Empty   int            `json:"empty_drops"`
	Cost    plan.Cents     `json:"cost"`
	Rise    working.Term   `json:"trunk_rise"`
	Cable   working.Term   `json:"cable"`
}

type jumperReport struct {
	After  string       `json:"after"`
	Length working.Term `json:"length"`
}

func reportLayout(l *plan.Layout) layoutReport {
	r := layoutReport{Name: l.Name, Cost: l.Cost, Bound: l.Bound, Gap: l.Gap(), Rise: figure(l.Rise), Cable: figure(l.Cable),
		Short: l.Short, Over: l.Over, Branches: []stretchReport{}}
	for _, s := range l.Branches {
		b := stretchReport{Units: s.Units, Count: s.Count, Model: s.Model, Feed: s.Feed, From: s.From, Run: s.Run,
			Jumpers: []jumperReport{}, Empty: s.Empty, Cost: s.Cost, Rise: figure(s.Rise), Cable: figure(s.Cable)}
		for _, j := range s.Jumpers {
			b.Jumpers = append(b.Jumpers, jumperReport{j.After, figure(j.Length)})
		}
		r.Branches = append(r.Branches, b)
	}
	return r
}

func figure(q quantity.Quantity) working.Term { return working.Of(q, "", working.Origin{}) }

// crowded lists the modules that lie where none can or may.
func crowded(p *plan.Plan) []site.Crowding {
	var out []site.Crowding
	for i := range p.Plant.Job.Planes {
		out = append(out, p.Plant.Field(&p.Plant.Job.Planes[i]).Crowded()...)
	}
	return out
}

// writeLayouts tells what the branches cost and how much a cheaper layout could
// save at most.
func writeLayouts(out io.Writer, p *plan.Plan) error {
	if len(p.Layouts) > 0 {
		l := p.Layouts[0]
		fmt.Fprintf(out, "\nbranches on the roof: %s by the table of prices; %s\n", l.Cost, promise(l))
		if l.Short > 0 {
			fmt.Fprintf(out, "  the landing lacks %d two-pole positions for them\n", l.Short)
		}
		if l.Over {
			fmt.Fprintf(out, "  no layout found keeps the voltage-rise target with these conductors, so it was left out of account\n")
		}
		w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
		if len(p.Layouts) > 1 {
			fmt.Fprintf(w, "  layout\tprice\tbranches\ttrunk rise\tcable\t\n")
			for _, l := range p.Layouts {
				fmt.Fprintf(w, "  %s\t%s\t%s\t%s\t%s\t\n", l.Name, l.Cost, counts(l), figure(l.Rise), figure(l.Cable))
			}
		}
		if err := w.Flush(); err != nil {
			return err
		}
	}
	if c := crowded(p); len(c) > 0 {
		fmt.Fprintf(out, "\nmodules where none can be, or none may be (setbacks are as the document states them; ask the fire department)\n")
		for _, x := range c {
			fmt.Fprintf(out, "  %s reaches over %s\n", x.Position, x.By)
		}
	}
	return nil
}

// promise says how good the cheapest layout is known to be.
func promise(l *plan.Layout) string {
	if l.Gap() == 0 {
		return "no layout costs less"
	}
	could := fmt.Sprintf("none can cost less than %s, so another could save %s at most (%s %%)", l.Bound, l.Gap(),
		quantity.Fixed(float64(l.Gap())/float64(l.Cost)*100, 1))
	if l.Proof == plan.EveryLine {
		return "the cheapest cut of one line over the roof; " + could
	}
	return "the cheapest that was found; " + could
}

// counts prints the units of each branch: "3 (11 + 11 + 10)".
func counts(l *plan.Layout) string {
	var n []string
	for _, s := range l.Branches {
		n = append(n, fmt.Sprint(s.Count))
	}
	return fmt.Sprintf("%d (%s)", len(l.Branches), strings.Join(n, " + "))
}

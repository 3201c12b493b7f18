package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"legwork/job"
	"legwork/plan"
	"legwork/rules"
	"legwork/site"
	"legwork/where"
	"legwork/working"
)

func planCommand(env Env) *cobra.Command {
	var write, asJSON bool
	var costs string
	var o plan.Options
	c := &cobra.Command{
		Use:   "plan JOB",
		Short: "Fill the decisions that are still open: branches and sizes",
		Long: "Chooses branches, breakers, conductors, grounds and raceways where nobody has decided, and names the rule that governed each.\n" +
			"Branches are the cheapest found by a table of prices (invented, until --costs names your own), with the least that any layout can cost.\n" +
			"With --write the tool's decisions are settled in the document; what a person decided and every comment stay as they are.",
		Args: oneJob,
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.Alternatives < 0 {
				return inputError{fmt.Errorf("--alternatives %d; write 0 or more", o.Alternatives)}
			}
			doc, err := readJob(env, args[0])
			if err != nil {
				return err
			}
			if costs != "" {
				if o.Costs, err = readCosts(env, costs); err != nil {
					return err
				}
			}
			o.Progress = func(p plan.Progress) {
				fmt.Fprintf(env.Stderr, "%d branches: %d orders of the planes tried, cheapest so far %s\n", p.Branches, p.Tried, p.Cost)
			}
			p, err := plan.FillWith(cmd.Context(), doc, o)
			if err != nil {
				return where.Error{File: args[0], Came: err.Error()}
			}
			if write {
				if err := settle(args[0], doc, p); err != nil {
					return err
				}
			}
			if asJSON {
				err = writeJSON(env.Stdout, planReport(p))
			} else {
				err = writePlan(env.Stdout, p)
			}
			if err != nil {
				return faultError{err}
			}
			if p.Plant.Edition.Known && rules.Worst(rules.Check(p.Plant, p.Plant.Edition.Value)) == working.Stop {
				return errStop
			}
			return nil
		},
	}
	c.Flags().BoolVar(&write, "write", false, "settle the tool's decisions in the document")
	c.Flags().BoolVar(&asJSON, "json", false, "machine form, schema plan/1")
	c.Flags().IntVar(&o.Alternatives, "alternatives", 0, "most layouts of branches to show beside the cheapest")
	c.Flags().StringVar(&costs, "costs", "", "table of prices to compare layouts by, CSV as in docs/formats/plan.md")
	return c
}

func readCosts(env Env, file string) (*plan.Costs, error) {
	b, err := env.ReadFile(file)
	if err != nil {
		return nil, where.Error{File: file, Came: plainFileError(err), Expected: "a table of prices"}
	}
	return plan.ReadCosts(file, bytes.NewReader(b))
}

// settle writes the tool's decisions into the document, through a neighbor file
// so that a cut of power leaves the old one or the new one.
func settle(file string, doc *job.Document, p *plan.Plan) error {
	settled, err := doc.Settle(p.Decisions)
	if err != nil {
		return err
	}
	tmp, err := os.CreateTemp(filepath.Dir(file), ".legwork-*")
	if err != nil {
		return faultError{err}
	}
	defer os.Remove(tmp.Name())
	_, err = tmp.Write(settled.Source)
	if err == nil {
		err = tmp.Sync()
	}
	if e := tmp.Close(); err == nil {
		err = e
	}
	if err == nil {
		if info, e := os.Stat(file); e == nil {
			err = os.Chmod(tmp.Name(), info.Mode().Perm())
		}
	}
	if err == nil {
		err = os.Rename(tmp.Name(), file)
	}
	if err != nil {
		return faultError{err}
	}
	return nil
}

type branchReport struct {
	ID      string   `json:"id"`
	Units   []string `json:"units"`
	Feed    string   `json:"feed"`
	Lands   string   `json:"lands"`
	Breaker any      `json:"breaker"`
	By      job.By   `json:"by"`
}

func planReport(p *plan.Plan) any {
	branches := []branchReport{}
	for _, b := range p.Plant.Branches {
		r := branchReport{ID: b.ID, Feed: string(b.Feed), By: b.By, Breaker: b.Breaker.Rating.Term(), Units: []string{}}
		for _, u := range b.Units {
			r.Units = append(r.Units, u.Position)
		}
		if b.Bus != nil {
			r.Lands = b.Bus.ID
		}
		branches = append(branches, r)
	}
	out := struct {
		Schema       string            `json:"schema"`
		Job          string            `json:"job"`
		Branches     []branchReport    `json:"branches"`
		Cost         *plan.Cents       `json:"cost"`
		Bound        *plan.Cents       `json:"bound"`
		Gap          *plan.Cents       `json:"gap"`
		Proof        plan.Proof        `json:"proof,omitempty"`
		Layout       *layoutReport     `json:"layout"`
		Alternatives []layoutReport    `json:"alternatives"`
		Crowded      []site.Crowding   `json:"crowded"`
		Choices      []plan.Choice     `json:"choices"`
		Missing      []working.Missing `json:"missing"`
	}{Schema: "plan/1", Job: p.Plant.Job.Name, Branches: branches, Alternatives: []layoutReport{}, Crowded: append([]site.Crowding{}, crowded(p)...),
		Choices: append([]plan.Choice{}, p.Choices...), Missing: append([]working.Missing{}, p.Open...)}
	for i, l := range p.Layouts {
		r := reportLayout(l)
		if i > 0 {
			out.Alternatives = append(out.Alternatives, r)
			continue
		}
		out.Cost, out.Bound, out.Gap, out.Proof, out.Layout = &r.Cost, &r.Bound, &r.Gap, l.Proof, &r
	}
	return out
}

func writePlan(out io.Writer, p *plan.Plan) error {
	fmt.Fprintf(out, "%s\n\n", title(p.Plant.Job))
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, b := range p.Plant.Branches {
		fmt.Fprintf(w, "branch %s\t%d units\t%s-fed\tbreaker %s\t%s\n", b.ID, len(b.Units), b.Feed, b.Breaker.Rating, unitSpan(b.Units))
	}
	for _, r := range p.Plant.Runs {
		c := r.Conductors
		fmt.Fprintf(w, "%s\t%s\t%s %s\tground %s\t%s %s\n", r.Name, r.Length, c.Size, c.Insulation, c.Ground, c.Trade, c.Raceway)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	if len(p.Choices) > 0 {
		fmt.Fprintf(out, "\nchosen by the tool\n")
		for _, c := range p.Choices {
			fmt.Fprintf(w, "  %s\t%s\t%s\t%s\n", strings.TrimPrefix(c.Path, "decisions."), c.Value, c.Rule, c.Why)
		}
		if err := w.Flush(); err != nil {
			return err
		}
	}
	if err := writeLayouts(out, p); err != nil {
		return err
	}
	if len(p.Open) > 0 {
		fmt.Fprintf(out, "\nnot decided, because these facts are missing\n")
		for _, m := range p.Open {
			fmt.Fprintf(out, "  %s (%s)\n", m.What, m.Path)
		}
	}
	return nil
}

// unitSpan says from where to where a branch goes.
func unitSpan(units []*site.Unit) string {
	switch len(units) {
	case 0:
		return "no units"
	case 1:
		return units[0].Position
	}
	return units[0].Position + " to " + units[len(units)-1].Position
}

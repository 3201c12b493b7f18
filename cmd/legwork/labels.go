package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"legwork/plan"
	"legwork/rules"
	"legwork/where"
	"legwork/working"
)

func labelsCommand(env Env) *cobra.Command {
	var (
		edition int
		asJSON  bool
	)
	c := &cobra.Command{
		Use:   "labels JOB",
		Short: "Every label the job needs, with its numbers and its place",
		Long: "Lists the labels and plaques of the adopted edition with this job's numbers filled in, where each goes, and which the edition knows but this job does not need.\n" +
			"Words in capitals are the code's own. Local rules may ask for more.",
		Args: oneJob,
		RunE: func(_ *cobra.Command, args []string) error {
			doc, err := readJob(env, args[0])
			if err != nil {
				return err
			}
			p, err := plan.Fill(doc)
			if err != nil {
				return where.Error{File: args[0], Came: err.Error()}
			}
			e := working.Edition(edition)
			if edition == 0 {
				if !p.Plant.Edition.Known {
					return where.Error{File: args[0], Path: "site.code", Came: "the adopted edition is not known", Expected: "one of " + editionList(), Try: "ask the building department, or use --edition"}
				}
				e = p.Plant.Edition.Value
			}
			need, not, err := rules.Labels(p.Plant, e)
			if err != nil {
				return inputError{err}
			}
			if asJSON {
				err = writeJSON(env.Stdout, struct {
					Schema   string           `json:"schema"`
					Job      string           `json:"job"`
					Invented bool             `json:"invented"`
					Edition  working.Edition  `json:"edition"`
					Labels   []rules.Label    `json:"labels"`
					Unneeded []rules.Unneeded `json:"not_needed"`
				}{"labels/1", doc.Name, doc.Invented, e, need, not})
			} else {
				err = writeLabels(env.Stdout, title(doc), e, need, not)
			}
			if err != nil {
				return faultError{err}
			}
			return nil
		},
	}
	c.Flags().IntVar(&edition, "edition", 0, "edition to go by (default: the adopted one)")
	c.Flags().BoolVar(&asJSON, "json", false, "machine form, schema labels/1")
	return c
}

func writeLabels(w io.Writer, job string, e working.Edition, need []rules.Label, not []rules.Unneeded) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\nlabels by NFPA 70, %d\n", job, e)
	for _, l := range need {
		fmt.Fprintf(&b, "\n%s\n  %s\n", l.Where, l.Text)
		var how []string
		for _, h := range []struct{ name, value string }{{"letters in inches", l.Letters}, {"color", l.Color}, {"reflective", l.Reflective}} {
			if h.value != "" {
				how = append(how, h.name+": "+h.value)
			}
		}
		how = append(how, l.Clause+", "+l.Mark)
		fmt.Fprintf(&b, "  %s\n", strings.Join(how, "; "))
		for _, m := range l.Missing {
			fmt.Fprintf(&b, "  missing: %s\n", m)
		}
		if l.Note != "" {
			fmt.Fprintf(&b, "  note: %s\n", l.Note)
		}
	}
	fmt.Fprintf(&b, "\nnot needed here\n")
	for _, n := range not {
		fmt.Fprintf(&b, "  %s (%s): %s\n", n.ID, n.Clause, n.Why)
	}
	b.WriteString("\nFor review under local code by a licensed person.\n")
	_, err := io.WriteString(w, b.String())
	return err
}

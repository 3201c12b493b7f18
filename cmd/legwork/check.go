package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"legwork/fixes"
	"legwork/job"
	"legwork/plan"
	"legwork/rules"
	"legwork/site"
	"legwork/where"
	"legwork/working"
)

// checkReport is the machine form of a check, schema check/1.
type checkReport struct {
	Schema   string            `json:"schema"`
	Job      string            `json:"job"`
	File     string            `json:"file"`
	Invented bool              `json:"invented"`
	Editions []editionReport   `json:"editions"`
	Findings []working.Finding `json:"findings"` // of all editions, each with its own
	Missing  []working.Missing `json:"missing"`
	Confirm  []working.Missing `json:"confirm"` // what eyes on site still have to confirm
}

type editionReport struct {
	Edition working.Edition         `json:"edition"`
	Verdict working.Verdict         `json:"verdict"`
	Counts  map[working.Verdict]int `json:"counts"`
	OnSite  int                     `json:"on_site"` // still to be confirmed on site, not in the counts
}

func checkCommand(env Env) *cobra.Command {
	var (
		editions        []int
		missing, strict bool
		all, cures      bool
		asJSON          bool
	)
	c := &cobra.Command{
		Use:   "check JOB",
		Short: "Judge a plan by the electrical code, with the arithmetic",
		Long: "Judges the plan of a job by every rule for the adopted edition. What nobody has decided yet is filled by the planner first.\n" +
			"Exit 1 means at least one stop (with --strict also a missing fact).",
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
			list, err := editionsOf(p.Plant, editions)
			if err != nil {
				return err
			}
			report := checkReport{Schema: "check/1", Job: doc.Name, File: args[0], Invented: doc.Invented, Missing: append([]working.Missing{}, p.Open...), Confirm: []working.Missing{}}
			worst, toConfirm := working.Verdict(""), false
			if len(editions) == 0 && !p.Plant.Edition.Known {
				worst = working.Ask
				report.Missing = addMissing(report.Missing, []working.Finding{{Missing: []working.Missing{p.Plant.Edition.Ask}}}, false)
			}
			for _, e := range list {
				found := rules.Check(p.Plant, e)
				if cures {
					if err := attachFixes(c.Context(), env, doc, p, e, found); err != nil {
						return err
					}
				}
				v := rules.Worst(found)
				worst = working.Worse(worst, v)
				report.Editions = append(report.Editions, editionReport{e, v, count(found), rules.Unconfirmed(found)})
				report.Findings = append(report.Findings, found...)
				report.Missing = addMissing(report.Missing, found, false)
				report.Confirm = addMissing(report.Confirm, found, true)
				toConfirm = toConfirm || rules.Unconfirmed(found) > 0
			}
			switch {
			case asJSON:
				err = writeJSON(env.Stdout, report)
			case missing:
				err = writeMissing(env.Stdout, report.Missing, report.Confirm)
			default:
				err = writeCheck(env.Stdout, p, report, all)
			}
			if err != nil {
				return faultError{err}
			}
			if worst == working.Stop || strict && (worst == working.Ask || toConfirm) {
				return errStop
			}
			return nil
		},
	}
	c.Flags().IntSliceVar(&editions, "edition", nil, "editions to judge by, such as 2020,2023 (default: the adopted one)")
	c.Flags().BoolVar(&missing, "missing", false, "only the facts still to be fetched on site")
	c.Flags().BoolVar(&all, "all", false, "show the calculation of what passes too")
	c.Flags().BoolVar(&strict, "strict", false, "exit 1 for a missing fact too")
	c.Flags().BoolVar(&cures, "fixes", false, "search what would cure each stop, the least work first (figures of work are invented)")
	c.Flags().BoolVar(&asJSON, "json", false, "machine form, schema check/1")
	return c
}

// attachFixes searches what cures the stops and says on the error stream how far
// a long search has come.
func attachFixes(ctx context.Context, env Env, doc *job.Document, p *plan.Plan, e working.Edition, found []working.Finding) error {
	r, err := fixes.Search(ctx, doc, p, e, fixes.Options{Progress: func(tried, found int) {
		if tried%1024 == 0 {
			fmt.Fprintf(env.Stderr, "%d changes tried, %d cure\n", tried, found)
		}
	}})
	if err != nil {
		return err
	}
	r.Attach(found)
	return nil
}

// oneJob asks for exactly one file.
func oneJob(c *cobra.Command, args []string) error {
	if len(args) != 1 {
		return inputError{fmt.Errorf("%s: %d files came, expected one job document", c.CommandPath(), len(args))}
	}
	return nil
}

// editionsOf is the list asked for, or the adopted edition. While nobody knows
// which is adopted, every edition that the rules cover judges, and the edition
// is one of the missing facts.
func editionsOf(p *site.Plant, asked []int) ([]working.Edition, error) {
	if len(asked) == 0 {
		if !p.Edition.Known {
			return rules.Editions(), nil
		}
		return []working.Edition{p.Edition.Value}, nil
	}
	var out []working.Edition
	for _, e := range asked {
		if !rules.Covers(working.Edition(e)) {
			return nil, inputError{fmt.Errorf("edition %d: no rule covers it; there is %s", e, editionList())}
		}
		out = append(out, working.Edition(e))
	}
	return out, nil
}

func editionList() string {
	var out []string
	for _, e := range rules.Editions() {
		out = append(out, strconv.Itoa(int(e)))
	}
	return strings.Join(out, ", ")
}

func count(fs []working.Finding) map[working.Verdict]int {
	out := map[working.Verdict]int{working.OK: 0, working.Look: 0, working.Ask: 0, working.Stop: 0}
	for _, f := range fs {
		if !f.NotCovered && !f.Unconfirmed() {
			out[f.Verdict]++
		}
	}
	return out
}

func addMissing(have []working.Missing, fs []working.Finding, onSite bool) []working.Missing {
	for _, f := range fs {
		if f.Unconfirmed() != onSite {
			continue
		}
	next:
		for _, m := range f.Missing {
			for _, h := range have {
				if h.Path == m.Path {
					continue next
				}
			}
			have = append(have, m)
		}
	}
	return have
}

func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

func writeMissing(w io.Writer, missing, confirm []working.Missing) error {
	if len(missing) == 0 {
		if _, err := fmt.Fprintln(w, "nothing is missing"); err != nil {
			return err
		}
	}
	if err := writeFacts(w, missing); err != nil || len(confirm) == 0 {
		return err
	}
	if _, err := fmt.Fprintf(w, "\nto confirm on site, once it is built: %d\n", len(confirm)); err != nil {
		return err
	}
	return writeFacts(w, confirm)
}

func writeFacts(w io.Writer, missing []working.Missing) error {
	for _, m := range missing {
		line := m.What + " (" + m.Path + ")"
		if m.Find != "" {
			line += "\n    " + m.Find
		}
		if m.Photo != "" {
			line += "\n    photo: " + m.Photo
		}
		if _, err := fmt.Fprintln(w, line); err != nil {
			return err
		}
	}
	return nil
}

func writeCheck(w io.Writer, p *plan.Plan, r checkReport, all bool) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", title(p.Plant.Job))
	if len(r.Editions) > 1 && !p.Plant.Edition.Known {
		fmt.Fprintf(&b, "\nask  the adopted edition is not known: %s; judged by each below\n", p.Plant.Edition.Ask.Find)
	}
	for _, e := range r.Editions {
		fmt.Fprintf(&b, "\nNFPA 70, %d: %d stop, %d ask, %d look, %d ok, %d to confirm on site\n", e.Edition,
			e.Counts[working.Stop], e.Counts[working.Ask], e.Counts[working.Look], e.Counts[working.OK], e.OnSite)
		for _, place := range placesOf(r.Findings) {
			fmt.Fprintf(&b, "\n%s\n", p.Plant.PlaceName(place))
			for _, f := range r.Findings {
				if f.Edition == e.Edition && site.PlaceRoot(f.Place) == place && !f.Unconfirmed() {
					if all || f.Verdict != working.OK && !f.NotCovered {
						b.WriteString(f.Text())
					} else {
						b.WriteString(f.Line())
					}
				}
			}
		}
	}
	writeConfirm(&b, p.Plant, r)
	if len(r.Editions) > 1 {
		if err := writeCompare(&b, p, r); err != nil {
			return err
		}
	}
	b.WriteString("\nFor review under local code by a licensed person.\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// writeConfirm lists what eyes on site have to confirm, each once, by place.
func writeConfirm(b *strings.Builder, p *site.Plant, r checkReport) {
	seen := map[string]bool{}
	for _, f := range r.Findings {
		if !f.Unconfirmed() || seen[f.ID()] {
			continue
		}
		if len(seen) == 0 {
			b.WriteString("\nto confirm on site\n")
		}
		seen[f.ID()] = true
		fmt.Fprintf(b, "  %s: %s  (%s, %s)\n", p.PlaceName(f.Place), f.Title, f.Rule, f.Clause)
	}
}

func title(doc *job.Document) string {
	if doc.Invented {
		return doc.Name + " (invented)"
	}
	return doc.Name
}

func placesOf(fs []working.Finding) []string {
	var out []string
	seen := map[string]bool{}
	for _, f := range fs {
		if root := site.PlaceRoot(f.Place); !seen[root] && !f.Unconfirmed() {
			seen[root] = true
			out = append(out, root)
		}
	}
	return out
}

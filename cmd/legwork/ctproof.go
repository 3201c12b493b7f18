package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"legwork/ctproof"
	"legwork/job"
	"legwork/meter"
	"legwork/plan"
	"legwork/site"
	"legwork/where"
)

// proofLine is the answer for one case, one line of JSON.
type proofLine struct {
	Case       string        `json:"case"`
	Grid       ctproof.Side  `json:"grid"`
	Production ctproof.Side  `json:"production"`
	Next       *ctproof.Next `json:"next"`
}

// proofReport is the machine form of one job's proof, schema ctproof/1.
type proofReport struct {
	Schema   string `json:"schema"`
	Job      string `json:"job"`
	File     string `json:"file"`
	Invented bool   `json:"invented"`
	proofLine
	RuledOut []ctproof.RuledOut `json:"ruled_out"`
	Refused  []ctproof.Refusal  `json:"refused"`
}

func ctproofCommand(env Env) *cobra.Command {
	var (
		asJSON bool
		cases  string
	)
	c := &cobra.Command{
		Use:   "ctproof JOB READINGS.csv",
		Short: "Find CT and voltage-lead mistakes from meter readings",
		Long: "Judges readings taken in named states of the site: what is wrong with the CTs, what the hand has to do, and which state to try next.\n" +
			"With --cases a table of many sites is judged without a job. The columns are documented in docs/formats/ctproof-readings.md.",
		Args: func(_ *cobra.Command, args []string) error {
			want := 2
			if cases != "" {
				want = 0
			}
			if len(args) != want {
				return inputError{fmt.Errorf("legwork ctproof: %d files came, expected a job document and its readings, or --cases FILE.csv alone", len(args))}
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if cases != "" {
				return proveCases(env, cases, asJSON)
			}
			return proveJob(env, args[0], args[1], asJSON)
		},
	}
	c.Flags().StringVar(&cases, "cases", "", "a table of readings of many sites; needs no job")
	c.Flags().BoolVar(&asJSON, "json", false, "machine form: one line a case with --cases, else schema ctproof/1")
	return c
}

// readReadings reads a table of readings.
func readReadings(env Env, file string) ([]ctproof.Case, error) {
	text, err := env.ReadFile(file)
	if err != nil {
		return nil, where.Error{File: file, Came: plainFileError(err), Expected: "a table of readings"}
	}
	return ctproof.ReadCSV(file, text)
}

// prove judges one case of a file.
func prove(file string, c ctproof.Case) (ctproof.Answer, error) {
	a, err := ctproof.Prove(c)
	if at, ok := err.(where.Error); ok {
		at.File = file
		return a, at
	}
	return a, err
}

func proveCases(env Env, file string, asJSON bool) error {
	cases, err := readReadings(env, file)
	if err != nil {
		return err
	}
	out := json.NewEncoder(env.Stdout)
	out.SetEscapeHTML(false)
	for _, c := range cases {
		a, err := prove(file, c)
		if err != nil {
			return err
		}
		if asJSON {
			err = out.Encode(proofLine{c.Name, a.Grid, a.Production, a.Next})
		} else {
			err = writeProof(env.Stdout, c.Name, a)
		}
		if err != nil {
			return faultError{err}
		}
	}
	return nil
}

func proveJob(env Env, jobFile, readings string, asJSON bool) error {
	doc, err := readJob(env, jobFile)
	if err != nil {
		return err
	}
	p, err := plan.Fill(doc)
	if err != nil {
		return where.Error{File: jobFile, Came: err.Error()}
	}
	cases, err := readReadings(env, readings)
	if err != nil {
		return err
	}
	if len(cases) != 1 {
		return where.Error{File: readings, Came: fmt.Sprintf("%d cases", len(cases)), Expected: "the readings of one site", Try: "legwork ctproof --cases judges many"}
	}
	c := cases[0]
	if err := matches(p.Plant, readings, c); err != nil {
		return err
	}
	c.Site.Rated = 0
	for _, ch := range doc.Meter.Channels {
		if ch.Measures.Value == "grid" && ch.Ratio.Known {
			c.Site.Rated = ch.Ratio.Value
		}
	}
	a, err := prove(readings, c)
	if err != nil {
		return err
	}
	if asJSON {
		r := proofReport{Schema: "ctproof/1", Job: doc.Name, File: jobFile, Invented: doc.Invented,
			proofLine: proofLine{c.Name, a.Grid, a.Production, a.Next}, RuledOut: a.RuledOut, Refused: a.Refused}
		if r.Refused == nil {
			r.Refused = []ctproof.Refusal{}
		}
		if r.RuledOut == nil {
			r.RuledOut = []ctproof.RuledOut{}
		}
		err = writeJSON(env.Stdout, r)
	} else {
		err = writeProof(env.Stdout, title(doc), a)
	}
	if err != nil {
		return faultError{err}
	}
	return nil
}

// matches holds the site of the readings against the plan: the proof asks whether
// the meter is as planned, so both must speak of the same plant.
func matches(p *site.Plant, file string, c ctproof.Case) error {
	fault := func(column, came, expected string) error {
		return where.Error{File: file, Line: c.Lines[0], Path: column, Came: came, Expected: expected + ", as in the job"}
	}
	systems := map[job.System]meter.System{job.SplitPhase: meter.Split, job.Wye208: meter.Wye}
	if p.System.Known && systems[p.System.Value] != c.Site.System {
		return fault("service", string(c.Site.System), string(systems[p.System.Value]))
	}
	if len(p.Branches) != c.Site.Branches {
		return fault("branches", fmt.Sprint(c.Site.Branches), fmt.Sprint(len(p.Branches)))
	}
	windows, grid := 0, 0
	for _, ch := range p.Job.Meter.Channels {
		switch ch.Measures.Value {
		case "production":
			windows++
		case "grid":
			grid++
		}
	}
	if windows+grid > 0 && windows != c.Site.Windows {
		return fault("arrangement", fmt.Sprintf("%d production windows", c.Site.Windows), fmt.Sprint(windows))
	}
	return nil
}

// verdictWords say how far the proof of a side has come.
var verdictWords = map[ctproof.Verdict]string{
	ctproof.Settled:       "settled",
	ctproof.Open:          "open: another state can tell",
	ctproof.CannotTell:    "cannot tell: no further state would, look with your eyes",
	ctproof.Contradiction: "contradiction: no wiring in our list gives these readings; look for something else",
}

// likely is the probability below which a class is not printed for people.
const likely = .01

func writeProof(w io.Writer, name string, a ctproof.Answer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", name)
	for _, s := range []struct {
		name string
		ctproof.Side
	}{{"Grid CTs", a.Grid}, {"Production CTs", a.Production}} {
		fmt.Fprintf(&b, "\n%s: %s\n", s.name, verdictWords[s.Verdict])
		for i, c := range s.Classes {
			if i > 0 && c.P < likely {
				break
			}
			lead := fmt.Sprintf("%5.1f %%", 100*c.P)
			for k, cure := range c.Cures {
				if k > 0 {
					lead, cure = "       ", "or "+cure
				}
				fmt.Fprintf(&b, "  %s  %s\n", lead, cure)
			}
			fmt.Fprintf(&b, "           (%s)\n", strings.Join(c.Faults, "; "))
		}
	}
	for _, r := range a.Refused {
		fmt.Fprintf(&b, "\nState %s was not used: %s\n", r.State, r.Why)
	}
	if a.Next != nil {
		fmt.Fprintf(&b, "\nNext: %s, about %.0f min. %s.\nCaution: %s.\n", a.Next.State, a.Next.Minutes, a.Next.Why, a.Next.Caution)
	}
	b.WriteString("\nProved are sign, leg, side and that each branch counts once; not accuracy. Opening a dead front is for a qualified person.\n\n")
	_, err := io.WriteString(w, b.String())
	return err
}

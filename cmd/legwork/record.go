package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"legwork/field"
	"legwork/plan"
	"legwork/where"
	"legwork/words"
	"legwork/working"
)

// recordActions are what record does with a job, by name.
const recordActions = "list, state, missing, append or procedure"

func recordCommand(env Env) *cobra.Command {
	var (
		events, lang string
		asJSON       bool
		add          appendFlags
	)
	c := &cobra.Command{
		Use:   "record JOB [list|state|missing|append|procedure]",
		Short: "What was done on site: the events beside a job, and what is still missing",
		Long: "The record is a file of events beside the job, JOB.events.jsonl, one a line, only ever added to.\n" +
			"list shows what was told, state how far each step is, missing what is still wanted, procedure the steps to read on site.\n" +
			"append takes one body, from flags or as JSON on standard input, and gives it id and clock;\n" +
			"with --whole it takes whole events as phones send them, one a line.",
		Example: "  legwork record oak.yaml append --kind note --set by=Ana --set text=\"dog in the yard\"\n" +
			"  legwork record oak.yaml append --kind measurement --set step=service-voltage --set reading=L1-N --set by=Ana \\\n" +
			"    --value \"120.4 V\" --instrument \"meter 7\" --calibrated 2026-01-10",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) > 2 {
				return inputError{fmt.Errorf("%s: %d arguments came, expected a job document and one of %s", c.CommandPath(), len(args), recordActions)}
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			action := "state"
			if len(args) == 2 {
				action = args[1]
			}
			doc, err := readJob(env, args[0])
			if err != nil {
				return err
			}
			p, err := plan.Fill(doc)
			if err != nil {
				return where.Error{File: args[0], Came: err.Error()}
			}
			procedure := field.Generate(p.Plant)
			if action == "procedure" {
				return printProcedure(env.Stdout, procedure, lang)
			}
			job, err := jobID(env, args[0], doc.ID)
			if err != nil {
				return err
			}
			file := recordFile{name: events, job: job}
			if events == "" {
				file.name = strings.TrimSuffix(args[0], ".yaml") + ".events.jsonl"
			}
			if action == "append" {
				return add.run(env, file)
			}
			r, err := readRecord(env, file, procedure)
			if err != nil {
				return err
			}
			r.Name, r.Job = doc.Name, job
			return r.show(env, action, asJSON)
		},
	}
	c.Flags().StringVar(&events, "events", "", "file of events (default: JOB.events.jsonl beside the job)")
	c.Flags().StringVar(&lang, "lang", "en", "language of the procedure: "+strings.Join(words.Languages, " or "))
	c.Flags().BoolVar(&asJSON, "json", false, "machine form, schema record/1")
	add.register(c.Flags())
	return c
}

func printProcedure(w io.Writer, p field.Procedure, lang string) error {
	err := p.Print(w, func(t field.Text) (string, error) { return words.Embedded().Say(lang, t.Key, t.Slots) })
	if err != nil {
		return inputError{err}
	}
	return nil
}

// recordReport is the machine form of a record, schema record/1.
type recordReport struct {
	Schema    string           `json:"schema"`
	Name      string           `json:"name"`
	Job       field.ID         `json:"job"`
	File      string           `json:"file"`
	Cut       string           `json:"cut,omitempty"` // a last line cut short in writing
	Entries   []recordEntry    `json:"entries"`
	Steps     []recordStep     `json:"steps"`
	Next      string           `json:"next"`
	Conflicts []recordConflict `json:"conflicts"`
	Orphans   []field.Event    `json:"orphans"`
	Faults    []recordFault    `json:"faults"`
}

type recordEntry struct {
	ID          field.ID        `json:"id"`
	HLC         string          `json:"hlc"`
	Device      field.ID        `json:"device"`
	Kind        field.Kind      `json:"kind"`
	Body        json.RawMessage `json:"body"` // null when withdrawn or disputed
	Withdrawn   bool            `json:"withdrawn"`
	Disputed    bool            `json:"disputed"`
	Corrections []field.ID      `json:"corrections"`
	SaidBy      field.ID        `json:"said_by"`
}

type recordStep struct {
	ID       string                     `json:"id"`
	Phase    field.Phase                `json:"phase"`
	Place    string                     `json:"place"`
	Title    string                     `json:"title"`
	Hold     bool                       `json:"hold"`
	Status   field.Status               `json:"status"`
	Verdict  working.Verdict            `json:"verdict"`
	Readings map[string]working.Verdict `json:"readings"`
	Patterns []string                   `json:"patterns"`
	Missing  []recordLack               `json:"missing"`
}

type recordLack struct {
	What   string `json:"what"`
	ID     string `json:"id,omitempty"`
	Detail string `json:"detail,omitempty"`
}

type recordConflict struct {
	ID     field.ID      `json:"id"`
	Events []field.Event `json:"events"`
}

type recordFault struct {
	Event field.Event `json:"event"`
	Error string      `json:"error"`
}

// readRecord folds the file and holds it against the procedure.
func readRecord(env Env, file recordFile, p field.Procedure) (*recordReport, error) {
	events, cut, err := file.read(env)
	if err != nil {
		return nil, err
	}
	s, err := field.Fold(events)
	if err != nil {
		return nil, err
	}
	r := &recordReport{Schema: "record/1", File: file.name, Cut: string(cut), Entries: []recordEntry{}, Steps: []recordStep{},
		Conflicts: []recordConflict{}, Orphans: append([]field.Event{}, s.Orphans...), Faults: []recordFault{}}
	for _, e := range s.Entries {
		r.Entries = append(r.Entries, recordEntry{e.Event.ID, e.Event.HLC.String(), e.Event.Device, e.Event.Kind, e.Told,
			e.Withdrawn, e.Disputed, append([]field.ID{}, e.Corrections...), e.By.ID})
	}
	for _, c := range s.Conflicts {
		r.Conflicts = append(r.Conflicts, recordConflict{c.ID, c.Events})
	}
	for _, f := range s.Faults {
		r.Faults = append(r.Faults, recordFault{f.Event, f.Err.Error()})
	}
	progress := s.Against(p)
	if next := progress.Next(); next != nil {
		r.Next = next.Step.ID
	}
	for _, t := range progress.Steps {
		title, err := words.Embedded().Say("en", t.Step.Title.Key, t.Step.Title.Slots)
		if err != nil {
			return nil, faultError{err}
		}
		step := recordStep{ID: t.Step.ID, Phase: t.Step.Phase, Place: t.Step.Place, Title: title, Hold: t.Step.Hold != nil,
			Status: t.Status, Verdict: t.Judgment.Verdict, Readings: t.Judgment.Readings, Patterns: []string{}, Missing: []recordLack{}}
		for _, p := range t.Judgment.Patterns {
			step.Patterns = append(step.Patterns, p.ID)
		}
		for _, m := range t.Missing {
			step.Missing = append(step.Missing, recordLack(m))
		}
		r.Steps = append(r.Steps, step)
	}
	return r, nil
}

// show prints the part of the record that was asked for. What is wrong with the
// record itself is said on standard error, whatever was asked.
func (r *recordReport) show(env Env, action string, asJSON bool) error {
	var lines func(io.Writer)
	switch action {
	case "list":
		lines = r.list
	case "state":
		lines = r.state
	case "missing":
		lines = r.missing
	default:
		return inputError{fmt.Errorf("record: %q came, expected %s", action, recordActions)}
	}
	r.complain(env.Stderr)
	if asJSON {
		if err := writeJSON(env.Stdout, r); err != nil {
			return faultError{err}
		}
		return nil
	}
	w := tabwriter.NewWriter(env.Stdout, 0, 0, 2, ' ', 0)
	lines(w)
	if err := w.Flush(); err != nil {
		return faultError{err}
	}
	return nil
}

func (r *recordReport) complain(w io.Writer) {
	if r.Cut != "" {
		fmt.Fprintf(w, "%s: the last line was cut short in writing and does not count: %q\n", r.File, r.Cut)
	}
	for _, c := range r.Conflicts {
		fmt.Fprintf(w, "event %s: %d stories of one id, all kept; none counts until a correction settles it\n", c.ID, len(c.Events))
	}
	for _, e := range r.Orphans {
		fmt.Fprintf(w, "event %s: corrects an event that has not arrived or cannot be read\n", e.ID)
	}
	for _, f := range r.Faults {
		fmt.Fprintf(w, "event %s: kept, counts for nothing: %s\n", f.Event.ID, f.Error)
	}
}

func (r *recordReport) list(w io.Writer) {
	for _, e := range r.Entries {
		told := string(e.Body)
		switch {
		case e.Disputed:
			told = "disputed"
		case e.Withdrawn:
			told = "withdrawn"
		case len(e.Corrections) > 0:
			told += " (corrected)"
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", e.HLC, e.ID, e.Kind, told)
	}
}

func (r *recordReport) state(w io.Writer) {
	for _, s := range r.Steps {
		hold := ""
		if s.Hold {
			hold = "hold"
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", s.ID, hold, s.Status, strings.Join(s.Patterns, ", "))
	}
	if r.Next != "" {
		fmt.Fprintf(w, "\nnext: %s\n", r.Next)
	}
}

func (r *recordReport) missing(w io.Writer) {
	for _, s := range r.Steps {
		for _, m := range s.Missing {
			fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", s.ID, m.What, m.ID, m.Detail)
		}
	}
}

package plan

import (
	"fmt"
	"slices"

	"legwork/job"
	"legwork/rules"
	"legwork/site"
	"legwork/working"
)

// Choice is one decision of the tool.
type Choice struct {
	Path  string `json:"path"`           // decisions.runs.home
	Value string `json:"value"`          // "10 AWG copper THWN-2"
	Rule  string `json:"rule,omitempty"` // the rule that governed, by id
	Why   string `json:"why"`
}

// Plan is the document's decisions, completed.
type Plan struct {
	Decisions job.Decisions
	Plant     *site.Plant
	Choices   []Choice
	Open      []working.Missing // what kept something undecided
}

// Fill completes the decisions of a document. An error means that decisions
// already in the document contradict its facts.
func Fill(doc *job.Document) (*Plan, error) {
	f := &filler{doc: doc, dec: clone(doc.Decisions)}
	if err := f.resolve(); err != nil {
		return nil, err
	}
	for _, step := range []func() error{f.branches, f.connection, f.runs} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return &Plan{Decisions: f.dec, Plant: f.plant, Choices: f.choices, Open: f.open}, nil
}

// clone copies the lists, so that filling never writes into the document.
func clone(d job.Decisions) job.Decisions {
	d.Branches = slices.Clone(d.Branches)
	d.Runs = slices.Clone(d.Runs)
	d.Connections = slices.Clone(d.Connections)
	d.Moves = slices.Clone(d.Moves)
	return d
}

type filler struct {
	doc     *job.Document
	dec     job.Decisions
	plant   *site.Plant
	choices []Choice
	open    []working.Missing
}

func (f *filler) resolve() error {
	p, err := site.Resolve(f.doc, f.dec)
	if err != nil {
		return err
	}
	f.plant = p
	return nil
}

func (f *filler) chose(path, value, rule, why string, args ...any) {
	f.choices = append(f.choices, Choice{Path: path, Value: value, Rule: rule, Why: fmt.Sprintf(why, args...)})
}

func (f *filler) lacks(m ...working.Missing) {
	for _, x := range m {
		if !slices.ContainsFunc(f.open, func(o working.Missing) bool { return o.Path == x.Path }) {
			f.open = append(f.open, x)
		}
	}
}

// judge runs rules on the plan so far and returns the worst verdict at a place
// with the finding that gave it.
func (f *filler) judge(place string, which ...*rules.Rule) (working.Verdict, working.Finding) {
	var worst working.Finding
	for _, r := range which {
		for _, found := range r.Check(f.plant, f.plant.Edition.Value) {
			if found.Place == place && working.Worse(worst.Verdict, found.Verdict) != worst.Verdict {
				worst = found
			}
		}
	}
	return worst.Verdict, worst
}

// known wraps a value that the tool chose.
func known[T any](v T) job.Fact[T] { return job.Fact[T]{Value: v, Known: true} }

package plan

import (
	"context"
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
	// Layouts are the ways to string the units that were open: the chosen one, then
	// the alternatives asked for. Empty where no unit was open.
	Layouts []*Layout
}

// Options are what a plan may be asked for.
type Options struct {
	Alternatives int            // layouts beside the cheapest
	Costs        *Costs         // nil takes the invented ones
	Progress     func(Progress) // told while a large roof is searched; may be nil
}

func (o Options) costs() *Costs {
	if o.Costs != nil {
		return o.Costs
	}
	return InventedCosts()
}

// Fill completes the decisions of a document. An error means that decisions
// already in the document contradict its facts.
func Fill(doc *job.Document) (*Plan, error) {
	return FillWith(context.Background(), doc, Options{})
}

// FillWith is Fill with options. When the context ends, the search of a large
// roof stops at the best layout so far.
//
// Branches are first strung without regard to the voltage rise, for conductors
// can be raised. Where the thickest do not meet the target, they are strung once
// more within the rise that the other sections leave.
func FillWith(ctx context.Context, doc *job.Document, o Options) (*Plan, error) {
	first, err := fill(ctx, doc, o, nil)
	if err != nil {
		return nil, err
	}
	b := first.leftForTrunks()
	if b == nil {
		return first.plan(), nil
	}
	second, err := fill(ctx, doc, o, b)
	if err != nil {
		return nil, err
	}
	return second.plan(), nil
}

func fill(ctx context.Context, doc *job.Document, o Options, b *budget) (*filler, error) {
	f := &filler{doc: doc, dec: clone(doc.Decisions), options: o, budget: b}
	if err := f.resolve(); err != nil {
		return nil, err
	}
	if err := f.branches(ctx); err != nil {
		return nil, err
	}
	for _, step := range []func() error{f.connection, f.runs} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return f, nil
}

func (f *filler) plan() *Plan {
	return &Plan{Decisions: f.dec, Plant: f.plant, Choices: f.choices, Open: f.open, Layouts: f.layouts}
}

// budget is the rise that is left for trunks and home runs.
type budget struct {
	volts float64
	homes map[string]float64 // rise over a home run for one ampere, V, by id
}

// leftForTrunks finds what the sections beyond the home runs leave of the rise
// target, where a branch that the tool strung breaks it; nil where none does.
func (f *filler) leftForTrunks() *budget {
	if len(f.layouts) == 0 {
		return nil
	}
	b := &budget{volts: noBudget, homes: map[string]float64{}}
	broken := false
	for _, found := range rules.VoltageRise.Check(f.plant, f.plant.Edition.Value) {
		branch := f.plant.Branch(found.Place)
		if found.Test == nil || branch == nil || branch.Run == nil || !f.plant.Nominal.Known {
			continue
		}
		broken = broken || found.Verdict == working.Stop && branch.By == job.Tool
		sym := map[string]float64{}
		for _, s := range found.Steps {
			sym[s.Sym] = s.Result.Float()
		}
		target := f.plant.RiseTarget.Value.Float() / 100 * f.plant.Nominal.Value.Float()
		b.volts = min(b.volts, target-(sym["V_rise"]-sym["V_trunk"]-sym["V_home"]))
		b.homes[branch.Run.ID] = sym["V_home"] / sym["I_home"]
	}
	if !broken {
		return nil
	}
	return b
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
	options Options
	budget  *budget // nil while the rise is left to the conductors
	dec     job.Decisions
	plant   *site.Plant
	choices []Choice
	open    []working.Missing
	layouts []*Layout
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

// lacks notes missing facts, each once, and reports whether there is any.
func (f *filler) lacks(m ...working.Missing) bool {
	for _, x := range m {
		if !slices.ContainsFunc(f.open, func(o working.Missing) bool { return o.Path == x.Path }) {
			f.open = append(f.open, x)
		}
	}
	return len(m) > 0
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

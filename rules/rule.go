package rules

import (
	"slices"

	"legwork/site"
	"legwork/working"
)

// Rule is one rule.
type Rule struct {
	ID    string // as electricians name it, never by clause: clauses move
	Title string // what must hold
	Why   string // what goes wrong otherwise

	// Clauses by edition; an edition not listed is answered "not covered",
	// unless Basis says that the rule stands outside the code.
	Clauses working.Clauses
	// Only lists the editions that have the rule at all; empty for all of them.
	Only []working.Edition
	// Basis of a rule that is no clause: "nameplate", "project target".
	Basis string
	// Mark says how far the clauses can be trusted: "seen in part", "from
	// memory". Empty when the text was seen.
	Mark string

	// Stage tells when the rule can be answered: SiteStage is for what only eyes
	// on site confirm once it is built; such an ask is listed apart.
	Stage Stage

	// Gives lists the verdicts that the rule can give, worst last.
	Gives []working.Verdict

	// On is what the rule looks at.
	On Subject
}

// Stage is when a rule can be answered.
type Stage string

// Stages of a rule. The zero Stage is the plan.
const (
	PlanStage Stage = ""
	SiteStage Stage = "site"
)

// Subject walks the places that a rule applies to.
type Subject func(p *site.Plant, at func(place string, existing bool, check func(*working.Sheet) working.Verdict))

// Onto makes the subject of a rule from a list of things, a filter and a check.
func onto[T any](list func(*site.Plant) []T, place func(T) string, existing func(T) bool,
	applies func(*site.Plant, T) bool, check func(*site.Plant, T, *working.Sheet) working.Verdict) Subject {
	return func(p *site.Plant, at func(string, bool, func(*working.Sheet) working.Verdict)) {
		for _, x := range list(p) {
			if applies == nil || applies(p, x) {
				at(place(x), existing(x), func(w *working.Sheet) working.Verdict { return check(p, x, w) })
			}
		}
	}
}

// onBus is a rule about a busbar.
func onBus(applies func(*site.Plant, *site.Bus) bool, check func(*site.Plant, *site.Bus, *working.Sheet) working.Verdict) Subject {
	return onto(func(p *site.Plant) []*site.Bus { return p.Buses },
		func(b *site.Bus) string { return b.ID + "/bus" },
		func(b *site.Bus) bool { return len(b.ExistingSources()) > 0 && len(b.Groups()) == 0 },
		applies, check)
}

// onRun is a rule about the conductors of a run.
func onRun(applies func(*site.Plant, *site.Run) bool, check func(*site.Plant, *site.Run, *working.Sheet) working.Verdict) Subject {
	return onto(func(p *site.Plant) []*site.Run { return p.Runs },
		func(r *site.Run) string { return r.ID },
		func(r *site.Run) bool { return false },
		func(p *site.Plant, r *site.Run) bool {
			return len(r.Circuits) > 0 && (applies == nil || applies(p, r))
		}, check)
}

// onBranch is a rule about a branch circuit.
func onBranch(applies func(*site.Plant, *site.Branch) bool, check func(*site.Plant, *site.Branch, *working.Sheet) working.Verdict) Subject {
	return onto(func(p *site.Plant) []*site.Branch { return p.Branches },
		func(b *site.Branch) string { return b.ID },
		func(*site.Branch) bool { return false },
		applies, check)
}

// Clause is the rule's clause in an edition, and whether the edition is covered.
func (r *Rule) Clause(e working.Edition) (string, bool) {
	if c, ok := r.Clauses[e]; ok {
		return c, true
	}
	if r.Basis != "" {
		return r.Basis, true
	}
	return "", false
}

// Check judges a plant under an edition by one rule.
func (r *Rule) Check(p *site.Plant, e working.Edition) []working.Finding {
	if len(r.Only) > 0 && !slices.Contains(r.Only, e) {
		return nil
	}
	clause, covered := r.Clause(e)
	var out []working.Finding
	r.On(p, func(place string, existing bool, check func(*working.Sheet) working.Verdict) {
		f := working.Finding{Rule: r.ID, Title: r.Title, Place: place, Edition: e, Clause: clause, Existing: existing, OnSite: r.Stage == SiteStage, NotCovered: !covered}
		if covered {
			w := working.NewSheet(e)
			f.Verdict = check(w)
			f.Steps, f.Test, f.Missing, f.Notes = w.Steps(), w.Test(), w.Missing(), w.Notes()
			if f.Verdict != working.Ask {
				// A fact that was unknown but decided nothing is not asked for.
				f.Missing = nil
			}
		}
		out = append(out, f)
	})
	return out
}

// Check judges a plant by all rules under an edition. The order is that of the
// catalogue, then that of the plant.
func Check(p *site.Plant, e working.Edition) []working.Finding {
	var out []working.Finding
	for _, r := range All() {
		out = append(out, r.Check(p, e)...)
	}
	return out
}

// Worst is the worst verdict among findings; findings about what was there
// before and editions not covered do not count, nor does what is still to be
// confirmed on site (Unconfirmed counts that).
func Worst(fs []working.Finding) working.Verdict {
	var worst working.Verdict
	for _, f := range fs {
		if !f.NotCovered && !f.Existing && !f.Unconfirmed() {
			worst = working.Worse(worst, f.Verdict)
		}
	}
	return worst
}

// Unconfirmed counts what is still to be confirmed by eyes on site.
func Unconfirmed(fs []working.Finding) int {
	n := 0
	for _, f := range fs {
		if !f.NotCovered && f.Unconfirmed() {
			n++
		}
	}
	return n
}

// Find returns the rule with an id, nil if there is none.
func Find(id string) *Rule {
	all := All()
	if i := slices.IndexFunc(all, func(r *Rule) bool { return r.ID == id }); i >= 0 {
		return all[i]
	}
	return nil
}

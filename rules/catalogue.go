package rules

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"legwork/working"
)

// Editions lists the editions that any rule covers.
func Editions() []working.Edition {
	var out []working.Edition
	for _, r := range All() {
		for e := range r.Clauses {
			if !slices.Contains(out, e) {
				out = append(out, e)
			}
		}
	}
	slices.Sort(out)
	return out
}

// Covers reports whether any rule covers an edition.
func Covers(e working.Edition) bool { return slices.Contains(Editions(), e) }

// ClauseIn prints the clause of an edition, the basis outside the code, or "not
// covered".
func (r *Rule) ClauseIn(e working.Edition) string {
	if c, ok := r.Clause(e); ok {
		return c
	}
	if len(r.Only) > 0 {
		return "no such rule"
	}
	return "not covered"
}

// Text prints the rule for a terminal.
func (r *Rule) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n\n%s\n\n", r.ID, r.Title, r.Why)
	for _, e := range Editions() {
		fmt.Fprintf(&b, "%d  %s\n", e, r.ClauseIn(e))
	}
	fmt.Fprintf(&b, "source: %s\ncan say: %s\n", r.source(), r.verdicts())
	return b.String()
}

// Markdown prints the rule for docs/rules.
func (r *Rule) Markdown() string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\n**%s**\n\n%s\n\n| edition of NFPA 70 | clause |\n|---|---|\n", r.ID, r.Title, r.Why)
	for _, e := range Editions() {
		fmt.Fprintf(&b, "| %d | %s |\n", e, r.ClauseIn(e))
	}
	fmt.Fprintf(&b, "\nSource: %s. Can say: %s.\n", r.source(), r.verdicts())
	return b.String()
}

func (r *Rule) source() string {
	if r.Mark == "" {
		return "text or public quotation seen"
	}
	return r.Mark
}

func (r *Rule) verdicts() string {
	var out []string
	for _, v := range r.Gives {
		out = append(out, string(v))
	}
	return strings.Join(out, ", ")
}

// MarshalJSON writes the rule as rules/1 describes it.
func (r *Rule) MarshalJSON() ([]byte, error) {
	clauses := map[string]string{}
	for _, e := range Editions() {
		clauses[fmt.Sprint(e)] = r.ClauseIn(e)
	}
	return json.Marshal(struct {
		ID      string            `json:"id"`
		Title   string            `json:"title"`
		Why     string            `json:"why"`
		Clauses map[string]string `json:"clauses"`
		Source  string            `json:"source"`
		Gives   []working.Verdict `json:"gives"`
	}{r.ID, r.Title, r.Why, clauses, r.source(), r.Gives})
}

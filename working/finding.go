package working

import (
	"encoding/json"
	"math"

	"legwork/quantity"
)

// Finding is what one rule says about one place.
type Finding struct {
	Rule     string // "busbar-120"
	Title    string
	Place    string // path of ids along the line: "MP/bus"
	Verdict  Verdict
	Edition  Edition
	Clause   string
	Existing bool // about what was there before this job
	OnSite   bool // to be confirmed by eyes on site; no matter of the plan
	Steps    []Step
	Test     *Test
	Missing  []Missing
	Notes    []string
	Fixes    []Fix

	// NotCovered says that the rule knows no clause in this edition. It is no
	// verdict and never touches the exit code.
	NotCovered bool
}

// Fix is an edit, or several, that would cure a stop, with what it costs.
type Fix struct {
	Title       string    `json:"title"`
	Hours       float64   `json:"hours"`
	Material    float64   `json:"material_USD,omitempty"`
	Outage      bool      `json:"outage,omitempty"`       // the utility opens the service
	Permit      bool      `json:"permit,omitempty"`       // a permit of its own
	SecondVisit bool      `json:"second_visit,omitempty"` // not done in one visit
	Touches     []string  `json:"touches,omitempty"`      // places that it changes
	Margin      string    `json:"margin,omitempty"`       // of the finding, once cured
	Asks        []Missing `json:"asks,omitempty"`         // what would have to be found out first
	Notes       string    `json:"notes,omitempty"`
}

// Brings names what the fix needs beside hours and material.
func (x Fix) Brings() []string {
	var out []string
	for _, w := range []struct {
		does bool
		word string
	}{{x.Outage, "utility outage"}, {x.Permit, "permit"}, {x.SecondVisit, "second visit"}} {
		if w.does {
			out = append(out, w.word)
		}
	}
	return out
}

// ID is rule and place: "busbar-120@MP/bus".
func (f Finding) ID() string { return f.Rule + "@" + f.Place }

// Unconfirmed tells what eyes on site still have to confirm, which is no matter of
// the plan.
func (f Finding) Unconfirmed() bool { return f.OnSite && f.Verdict == Ask }

// figure is a number with its unit on the wire, null when unknown.
type figure struct {
	Value any           `json:"value"`
	Unit  quantity.Unit `json:"unit"`
}

func (t Term) figure() figure {
	switch {
	case !t.known:
		return figure{nil, t.unit}
	case t.text != "":
		return figure{t.text, ""}
	}
	return figure{quantity.Snap(t.value), t.unit}
}

// MarshalJSON writes a term as {"value", "unit"}, value null when unknown.
func (t Term) MarshalJSON() ([]byte, error) { return json.Marshal(t.figure()) }

// MarshalJSON writes a step as check/1 describes it.
func (s Step) MarshalJSON() ([]byte, error) {
	f := s.Result.figure()
	return json.Marshal(struct {
		Sym     string        `json:"sym"`
		Meaning string        `json:"meaning"`
		Expr    string        `json:"expr,omitempty"`
		Filled  string        `json:"filled,omitempty"`
		Value   any           `json:"value"`
		Unit    quantity.Unit `json:"unit"`
		From    Origin        `json:"from"`
	}{s.Sym, s.Meaning, s.Expr, s.Filled, f.Value, f.Unit, s.Result.from})
}

// MarshalJSON writes a test as {"left", "op", "right", "margin"}.
func (t Test) MarshalJSON() ([]byte, error) {
	var margin any
	if !math.IsNaN(t.Margin) {
		margin = figure{quantity.Snap(t.Margin), t.Right.unit}
	}
	return json.Marshal(struct {
		Left   Term   `json:"left"`
		Op     string `json:"op"`
		Right  Term   `json:"right"`
		Margin any    `json:"margin"`
		Hair   bool   `json:"hair,omitempty"`
	}{t.Left, t.Op, t.Right, margin, t.Hair})
}

// MarshalJSON writes a finding as check/1 describes it.
func (f Finding) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		ID         string    `json:"id"`
		Rule       string    `json:"rule"`
		Title      string    `json:"title"`
		Place      string    `json:"place"`
		Verdict    Verdict   `json:"verdict,omitempty"`
		Edition    Edition   `json:"edition"`
		Clause     string    `json:"clause,omitempty"`
		Existing   bool      `json:"existing"`
		OnSite     bool      `json:"on_site"`
		Steps      []Step    `json:"steps"`
		Test       *Test     `json:"test"`
		Missing    []Missing `json:"missing"`
		Notes      []string  `json:"notes"`
		Fixes      []Fix     `json:"fixes"`
		NotCovered bool      `json:"not_covered"`
	}{f.ID(), f.Rule, f.Title, f.Place, f.Verdict, f.Edition, f.Clause, f.Existing, f.OnSite,
		orEmpty(f.Steps), f.Test, orEmpty(f.Missing), orEmpty(f.Notes), orEmpty(f.Fixes), f.NotCovered})
}

func orEmpty[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}

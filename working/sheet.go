package working

import (
	"fmt"
	"math"

	"legwork/quantity"
)

// Verdict is the outcome of a comparison, from good to bad.
type Verdict string

// The four verdicts.
const (
	OK   Verdict = "ok"   // passes
	Look Verdict = "look" // legal but poor practice, or near the limit
	Ask  Verdict = "ask"  // a fact is missing
	Stop Verdict = "stop" // breaks a rule
)

var rank = map[Verdict]int{OK: 1, Look: 2, Ask: 3, Stop: 4}

// Worse returns the worse of two verdicts; the empty verdict is the best.
func Worse(a, b Verdict) Verdict {
	if rank[b] > rank[a] {
		return b
	}
	return a
}

// Step is one line of a calculation.
type Step struct {
	Sym     string
	Meaning string
	Expr    string // "I_main + 1.25 × I_src"; empty for a fact or a cell
	Filled  string // "200 + 1.25 × 48"
	Result  Term
}

// Test is the comparison that a finding rests on.
type Test struct {
	Left, Right Term
	Op          string  // "≤", "≥", "=", "is"
	Margin      float64 // to spare; negative when failed; NaN when unknown or not a number
	Hair        bool    // passed by less than one percent of the limit
}

// Sheet records one calculation. A Sheet belongs to one goroutine.
type Sheet struct {
	Edition Edition
	steps   []Step
	test    *Test
	notes   []string
	missing []Missing
}

// NewSheet starts a calculation under an edition.
func NewSheet(e Edition) *Sheet { return &Sheet{Edition: e} }

// Steps are the lines so far.
func (w *Sheet) Steps() []Step { return w.steps }

// Test is the comparison made, nil before.
func (w *Sheet) Test() *Test { return w.test }

// Notes are the remarks made with Note.
func (w *Sheet) Notes() []string { return w.notes }

// Missing lists every fact that was unknown when it was used.
func (w *Sheet) Missing() []Missing { return w.missing }

// Note adds a remark in words: a reading that is disputed, a hint.
func (w *Sheet) Note(format string, args ...any) {
	w.notes = append(w.notes, fmt.Sprintf(format, args...))
}

func (w *Sheet) record(sym string, t Term) Term {
	w.missing = mergeMissing(w.missing, t.missing)
	s := Step{Sym: sym, Meaning: t.means, Result: t}
	switch {
	case t.from.Kind != Computed:
	case t.sym != "": // a sum under a second name
		s.Expr, s.Filled = t.sym, t.number()
	default:
		s.Expr, s.Filled = t.expr, t.filled
	}
	t.sym, t.prec = sym, atom
	s.Result = t
	w.steps = append(w.steps, s)
	return t
}

// Fact names a stated value on the sheet.
func (w *Sheet) Fact(sym string, f Stater) Term { return w.record(sym, f.Term()) }

// Let names a computed value. The optional words say what it is.
func (w *Sheet) Let(sym string, t Term, means ...string) Term {
	if len(means) > 0 {
		t.means = means[0]
	}
	return w.record(sym, t)
}

// Lookup finds a table cell. It is called only when all its keys are known.
type Lookup func() (quantity.Quantity, Source, error)

// Cell names a value of a table. Unknown keys make it unknown; a cell that the
// table does not have becomes unknown too, with the table's own words.
func (w *Sheet) Cell(sym, means string, look Lookup, keys ...Term) Term {
	t := Term{means: means, known: true, from: Origin{Kind: Table}, prec: atom}
	for _, k := range keys {
		t.known = t.known && k.known
		t.missing = mergeMissing(t.missing, k.missing)
	}
	if !t.known {
		return w.record(sym, t)
	}
	q, src, err := look()
	t.from = Origin{Kind: Table, Path: src.Name, Clause: src.Clause(w.Edition), Mark: src.Mark}
	if err != nil {
		t.known = false
		t.missing = []Missing{{Path: "table " + src.Name, What: err.Error()}}
		return w.record(sym, t)
	}
	t.value, t.unit = q.Float(), q.Unit()
	return w.record(sym, t)
}

// hair is the part of a limit within which a pass is said to be one by a hair.
const hair = 0.01

// AtMost passes when left ≤ right. A hair's margin passes and is marked.
func (w *Sheet) AtMost(left, right Term) Verdict { return w.compare(left, right, "≤", 1) }

// AtLeast passes when left ≥ right.
func (w *Sheet) AtLeast(left, right Term) Verdict { return w.compare(left, right, "≥", -1) }

func (w *Sheet) compare(left, right Term, op string, sign float64) Verdict {
	t := &Test{Left: left, Right: right, Op: op, Margin: math.NaN()}
	w.test = t
	w.missing = mergeMissing(w.missing, mergeMissing(left.missing, right.missing))
	if !left.known || !right.known {
		return Ask
	}
	sameUnit(left, right, op)
	t.Margin = quantity.Snap(sign * (right.value - left.value))
	switch {
	case math.IsNaN(t.Margin):
		// A comparison with no number must never pass.
		panic(fmt.Sprintf("working: %s %s %s has no value", left.shownExpr(), op, right.shownExpr()))
	case quantity.Compare(left.value, right.value) == 0:
		t.Margin = 0
		t.Hair = true
		return OK
	case t.Margin < 0:
		return Stop
	}
	t.Hair = quantity.Compare(t.Margin, hair*math.Abs(right.value)) < 0
	return OK
}

// CloseIsLook lowers a pass to Look when less than least is to spare: for limits
// whose measured side is no better known than that.
func (w *Sheet) CloseIsLook(v Verdict, least quantity.Quantity) Verdict {
	if v == OK && w.test != nil && quantity.Compare(w.test.Margin, least.Float()) < 0 {
		return Look
	}
	return v
}

// NearIsLook lowers a pass by a hair to Look: for limits that a tape measure's
// error or a warm day could cross.
func (w *Sheet) NearIsLook(v Verdict) Verdict {
	if v == OK && w.test != nil && w.test.Hair {
		return Look
	}
	return v
}

// Is passes when the text or the yes-or-no of left equals want.
func (w *Sheet) Is(left Term, want string) Verdict {
	right := Term{text: want, known: true, prec: atom, from: Origin{Kind: Computed}}
	w.test = &Test{Left: left, Right: right, Op: "is", Margin: math.NaN()}
	w.missing = mergeMissing(w.missing, left.missing)
	switch {
	case !left.known:
		return Ask
	case left.text == want:
		return OK
	}
	return Stop
}

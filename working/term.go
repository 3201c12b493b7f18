package working

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwork/quantity"
)

// Binding strength of a term's expression, for parentheses.
const (
	sum = iota
	product
	atom
)

// Term is a value in a calculation. The zero Term is unknown.
type Term struct {
	sym, means   string
	value        float64
	unit         quantity.Unit
	text         string // set instead of a number for sizes, materials, yes and no
	known        bool
	from         Origin
	missing      []Missing
	expr, filled string
	prec         int
}

// Num is a plain number in a formula, such as the 1.25 of continuous current.
func Num(v float64) Term {
	s := quantity.Trim(v, 6)
	return Term{value: v, known: true, expr: s, filled: s, prec: atom, from: Origin{Kind: Computed}}
}

// Of is a quantity stated by the formula itself, such as a limit in the clause.
func Of(q quantity.Quantity, means string, from Origin) Term {
	return Term{value: q.Float(), unit: q.Unit(), means: means, known: true, from: from, prec: atom}
}

// Term returns t itself, so that a Term is a Stater too.
func (t Term) Term() Term { return t }

// Known reports whether the value is known.
func (t Term) Known() bool { return t.known }

// Float is the value in its base unit; NaN when unknown.
func (t Term) Float() float64 {
	if !t.known {
		return math.NaN()
	}
	return t.value
}

// Unit is the base unit of the value.
func (t Term) Unit() quantity.Unit { return t.unit }

// Sym is the term's symbol, once named on a sheet.
func (t Term) Sym() string { return t.sym }

// Means says what the term is, in trade words.
func (t Term) Means() string { return t.means }

// From is the origin.
func (t Term) From() Origin { return t.from }

// Missing lists the facts that keep the term unknown.
func (t Term) Missing() []Missing { return t.missing }

// String prints value and unit: "24.32 A", "10 AWG", "?".
func (t Term) String() string {
	if !t.known {
		return "?"
	}
	if t.text != "" {
		return t.text
	}
	return Figure(t.value, t.unit)
}

// Figure prints a value in its base unit with the digits usual for it.
func Figure(v float64, u quantity.Unit) string { return u.Figure(v) }

// Places is how many decimals a unit is printed with.
func Places(u quantity.Unit) int { return u.Places() }

func (t Term) shownExpr() string {
	switch {
	case t.sym != "":
		return t.sym
	case t.expr != "":
		return t.expr
	}
	return t.number()
}

func (t Term) shownFilled() string {
	if t.sym != "" || t.filled == "" {
		return t.number()
	}
	return t.filled
}

func (t Term) number() string {
	switch {
	case !t.known:
		return "?"
	case t.text != "":
		return t.text
	}
	return quantity.Trim(t.value, Places(t.unit))
}

func (t Term) strength() int {
	if t.sym != "" {
		return atom
	}
	return t.prec
}

func wrap(s string, weak bool) string {
	if weak {
		return "(" + s + ")"
	}
	return s
}

func join(a, b Term, op string, prec int, tight bool) Term {
	wa, wb := a.strength() < prec, b.strength() < prec || tight && b.strength() == prec
	return Term{
		known:   a.known && b.known,
		from:    Origin{Kind: Computed},
		missing: mergeMissing(a.missing, b.missing),
		expr:    wrap(a.shownExpr(), wa) + op + wrap(b.shownExpr(), wb || negative(b.shownExpr())),
		filled:  wrap(a.shownFilled(), wa) + op + wrap(b.shownFilled(), wb || negative(b.shownFilled())),
		prec:    prec,
	}
}

// negative says that s starts with a sign, which cannot follow an operator.
func negative(s string) bool { return strings.HasPrefix(s, "-") }

// mergeMissing joins two lists, each fact once. A table may miss several cells.
func mergeMissing(a, b []Missing) []Missing {
	out := slices.Clone(a)
	for _, m := range b {
		if !slices.ContainsFunc(out, func(o Missing) bool { return o.Path == m.Path && o.What == m.What }) {
			out = append(out, m)
		}
	}
	return out
}

// sameUnit is the unit of two terms that are added or compared. An unknown term
// may not know its unit either: a cell that was never looked up.
func sameUnit(a, b Term, op string) quantity.Unit {
	switch {
	case a.unit == b.unit:
	case !a.known:
		return b.unit
	case !b.known:
		return a.unit
	default:
		panic(fmt.Sprintf("working: %s %s %s: units %q and %q", a.shownExpr(), op, b.shownExpr(), a.unit, b.unit))
	}
	return a.unit
}

// Plus adds two terms of one unit.
func (t Term) Plus(o Term) Term {
	r := join(t, o, " + ", sum, false)
	r.unit, r.value = sameUnit(t, o, "+"), t.value+o.value
	return r
}

// Minus subtracts a term of the same unit.
func (t Term) Minus(o Term) Term {
	r := join(t, o, " − ", sum, true)
	r.unit, r.value = sameUnit(t, o, "−"), t.value-o.value
	return r
}

// Times multiplies by a plain number, written in front: 1.25 × I.
func (t Term) Times(f float64) Term { return Num(f).By(t) }

// products are the pairs of units that the trade multiplies.
var products = map[[2]quantity.Unit]struct {
	unit  quantity.Unit
	scale float64
}{
	{"A", "Ω"}:      {"V", 1},
	{"V", "A"}:      {"VA", 1},
	{"Ω/kft", "ft"}: {"Ω", 1e-3},
}

// By multiplies two terms. Resistance per 1000 ft times feet gives ohms, and
// the shown expression carries the division by 1000.
func (t Term) By(o Term) Term {
	r := join(t, o, " × ", product, false)
	r.value = t.value * o.value
	switch {
	case t.unit == "":
		r.unit = o.unit
	case o.unit == "":
		r.unit = t.unit
	default:
		p, ok := products[[2]quantity.Unit{t.unit, o.unit}]
		if !ok {
			p, ok = products[[2]quantity.Unit{o.unit, t.unit}]
		}
		if !ok && r.known {
			panic(fmt.Sprintf("working: no product of %q and %q", t.unit, o.unit))
		}
		r.unit, r.value = p.unit, r.value*p.scale
		if p.scale == 1e-3 {
			r.expr += " / 1000"
			r.filled += " / 1000"
		}
	}
	return r
}

// Over divides: by a plain number the unit stays, by the same unit a ratio is
// left. By zero the answer is unknown, and another value is asked for.
func (t Term) Over(o Term) Term {
	r := join(t, o, " / ", product, true)
	switch {
	case o.unit == "":
		r.unit = t.unit
	case t.unit != o.unit && r.known:
		panic(fmt.Sprintf("working: no quotient of %q and %q", t.unit, o.unit))
	}
	if o.known && o.value == 0 {
		what := o.means
		if what == "" {
			what = o.shownExpr()
		}
		r.known = false
		r.missing = mergeMissing(r.missing, []Missing{{Path: o.from.Path, What: what + ", other than zero"}})
		return r
	}
	r.value = t.value / o.value
	return r
}

// PercentOf gives t as a percentage of whole, which has the same unit.
func (t Term) PercentOf(whole Term) Term {
	sameUnit(t, whole, "in % of")
	r := t.Over(whole)
	r.value *= 100
	r.unit = "%"
	r.expr += " × 100 %"
	r.filled += " × 100 %"
	return r
}

// Needs makes t unknown while another term is, without using its value: the
// other decides which formula applies.
func (t Term) Needs(o Term) Term {
	t.known = t.known && o.known
	t.missing = mergeMissing(t.missing, o.missing)
	return t
}

// Floor drops the fraction.
func (t Term) Floor() Term {
	r := t.call("floor")
	r.value = math.Floor(quantity.Snap(t.value))
	return r
}

func (t Term) call(name string, others ...Term) Term {
	r := t
	r.sym, r.means, r.prec = "", "", atom
	r.from = Origin{Kind: Computed}
	r.expr, r.filled = name+"("+t.shownExpr(), name+"("+t.shownFilled()
	for _, o := range others {
		r.expr += ", " + o.shownExpr()
		r.filled += ", " + o.shownFilled()
		r.known = r.known && o.known
		r.missing = mergeMissing(r.missing, o.missing)
	}
	r.expr += ")"
	r.filled += ")"
	return r
}

// Least is the smallest of terms of one unit; unknown when any is.
func Least(first Term, more ...Term) Term { return extreme("min", -1, first, more) }

// Greatest is the largest of terms of one unit; unknown when any is.
func Greatest(first Term, more ...Term) Term { return extreme("max", 1, first, more) }

func extreme(name string, sign int, first Term, more []Term) Term {
	r := first.call(name, more...)
	for _, o := range more {
		r.unit = sameUnit(r, o, name)
		if quantity.Compare(o.value, r.value) == sign {
			r.value = o.value
		}
	}
	return r
}

// Sum adds terms of one unit and keeps them apart in the shown expression. An
// empty sum is zero of unit u.
func Sum(u quantity.Unit, terms ...Term) Term {
	if len(terms) == 0 {
		t := Num(0)
		t.unit = u
		return t
	}
	r := terms[0]
	for _, t := range terms[1:] {
		r = r.Plus(t)
	}
	return r
}

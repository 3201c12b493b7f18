package rules

import (
	"fmt"

	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// relieved is the segment whose ampacity counts: the next better one where the
// worst stretch is no longer than 10 ft and than 10 % of the rest, else the worst.
// It is worked out only where the worst does not give enough. The term is unknown
// while the lengths are.
//
// Source: NFPA 70, 310.15(A)(2), exception (2017), 310.14(A)(2), exception (2020,
// 2023): whichever is less.
func relieved(w *working.Sheet, r *site.Run, worst *site.Segment, enough working.Term) (*site.Segment, working.Term) {
	none := working.Num(1)
	low, known := ampacityAt(w.Edition, r.Conductors, worst)
	n := r.CurrentCarrying()
	if !known || !enough.Known() || !n.Known {
		return worst, none
	}
	f, err := tables.BundlingFactor(int(n.Value))
	if err != nil || quantity.Compare(low*f.Float(), enough.Float()) >= 0 {
		return worst, none
	}
	var next *site.Segment
	var above float64
	for _, s := range r.Segments {
		a, ok := ampacityAt(w.Edition, r.Conductors, s)
		if ok && quantity.Compare(a, low) > 0 && (next == nil || a < above) {
			next, above = s, a
		}
	}
	if next == nil {
		return worst, none
	}
	var short, rest []working.Term
	for i, s := range r.Segments {
		l := w.Fact(fmt.Sprintf("L%s", subscript(i)), s.Length)
		if a, _ := ampacityAt(w.Edition, r.Conductors, s); quantity.Compare(a, low) > 0 {
			rest = append(rest, l)
		} else {
			short = append(short, l)
		}
	}
	stretch := w.Let("L_low", working.Sum("ft", short...), "stretch of the lowest ampacity")
	limit := w.Let("L_pass", working.Least(working.Of(quantity.Feet(10), "", working.Origin{}), working.Sum("ft", rest...).Times(0.1)), "that may be passed over: 10 ft, and 10 % of the rest")
	switch {
	case !limit.Known() || !stretch.Known():
		return worst, limit.Needs(stretch)
	case quantity.Compare(stretch.Float(), limit.Float()) <= 0:
		w.Note("the stretch of the lowest ampacity is short enough to be passed over (10 ft or 10 %%, whichever is less)")
		return next, none
	}
	w.Note("the relief for short stretches (10 ft or 10 %%) does not apply: %s of %s", stretch, working.Figure(stretch.Float()+working.Sum("ft", rest...).Float(), "ft"))
	return worst, none
}

// sharing is the factor for conductors that share the raceway. Up to 24 in of
// raceway needs none.
func sharing(w *working.Sheet, r *site.Run) working.Term {
	carrying := r.CurrentCarrying()
	n := w.Fact("n_c", carrying)
	if !carrying.Known || carrying.Value <= 3 {
		return w.Cell("f_N", "factor for conductors sharing the raceway", tables.BundlingFactorOf(int(carrying.Value)), n)
	}
	l := w.Fact("L", r.Length)
	if nipple(r) {
		w.Note("no adjustment for neighbors: the raceway is not longer than 24 in")
		return w.Let("f_N", working.Num(1).Needs(l).Needs(n), "raceway not longer than 24 in")
	}
	return w.Cell("f_N", "factor for conductors sharing the raceway", tables.BundlingFactorOf(int(carrying.Value)), n, l)
}

// nipple tells a raceway of up to 24 in between enclosures.
func nipple(r *site.Run) bool {
	return r.Length.Known && quantity.Compare(r.Length.Value.Float(), tables.Nipple.Float()) <= 0
}

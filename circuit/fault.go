package circuit

import (
	"math"

	"legwork/quantity"
	"legwork/working"
)

// Fault current by the point-to-point method: from the transformer, or from the
// utility's figure at the service, run by run to the device in question.
//
// Source: the customary point-to-point method (table fault-current-method).
// Assumes a bolted fault and an infinite primary; what units add is left out, as
// electronics limit it to about their rating.

// FaultLoop is the way the current takes through a run.
type FaultLoop int

// A fault between two legs or from leg to neutral takes the run twice. A fault
// of three legs on 208Y/120 takes it √3 times (common practice).
const (
	LegToLeg FaultLoop = iota
	LegToNeutral
	ThreeLegs
)

func (l FaultLoop) times() float64 {
	if l == ThreeLegs {
		return math.Sqrt(3)
	}
	return 2
}

// TransformerFault is the current of a fault between the legs at the terminals of
// a single-phase transformer.
//
//	I_LL = S / E_LL · 100 / (%Z · 0.9)
//
//	0.9  listed transformers of 25 kVA and more may be 10 % below the impedance
//	     of the nameplate
//
// Source: point-to-point method, steps 1 to 3.
func TransformerFault(w *working.Sheet, sym string, full, percentZ working.Term) working.Term {
	m := w.Let("M_t", working.Of(quantity.Percent(100), "", working.Origin{}).Over(percentZ.Times(0.9)), "impedance multiplier")
	return w.Let(sym, full.By(m), "fault at the transformer, leg to leg")
}

// FaultToNeutral is the current from leg to neutral at the terminals of a
// center-tapped transformer: 1.5 times the one between the legs (customary; 1.33
// to 1.67 occur). Farther down the neutral's own run is followed with RunFault.
func FaultToNeutral(w *working.Sheet, sym string, legToLeg working.Term) working.Term {
	return w.Let(sym, legToLeg.Times(1.5), "fault at the transformer, leg to neutral")
}

// RunFault is the current at the far end of a run.
//
//	z = 1000 / C
//	f = 2 · I · z · L / 1000 / (n · E)
//	I_end = I · 1 / (1 + f)
//
//	I  fault current at the near end, A
//	C  conductor constant              tables.FaultConstantOf
//	L  length one way, ft
//	n  conductors in parallel for each leg
//	E  leg to leg, or leg to neutral for a fault to neutral, V
//
// f is the method's 2·L·I / (C·n·E).
func RunFault(w *working.Sheet, sym, means string, loop FaultLoop, i, c, l working.Term, n int, e working.Term) working.Term {
	z := w.Let(sym+" z", working.Of(quantity.OhmsPerKFt(1000), "", working.Origin{}).Over(c), "impedance of one conductor")
	f := w.Let(sym+" f", working.Num(loop.times()).By(i).By(z.By(l)).Over(working.Num(float64(n)).By(e)), "run factor")
	m := w.Let(sym+" M", working.Num(1).Over(working.Num(1).Plus(f)), "run multiplier")
	return w.Let(sym, i.By(m), means)
}

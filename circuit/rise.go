package circuit

import (
	"legwork/quantity"
	"legwork/working"
)

// RunRise is the rise over a two-wire run.
//
//	V = 2 · I · R · L / 1000
//
//	I  current, A
//	R  resistance of one conductor at 75 °C, Ω/kft
//	L  length one way, ft
//
// Valid: unity power factor, both conductors of one size.
func RunRise(w *working.Sheet, sym, means string, i, r, l working.Term) working.Term {
	return w.Let(sym, working.Num(2).By(i).By(r.By(l)), means)
}

// Stretch is a piece of trunk cable and the number of units whose current it
// carries.
type Stretch struct {
	Beyond int
	Length working.Term
}

// TrunkRise is the rise along a trunk of equal units, from the feed point to the
// last unit.
//
//	V = 2 · I_u · R · Σ(n_k · d_k) / 1000
//
//	I_u  rated current of one unit, A
//	R    resistance of one trunk conductor at 75 °C, Ω/kft
//	n_k  units beyond stretch k
//	d_k  length of stretch k, ft
//
// With n equal spacings d the sum is d · n(n+1)/2.
func TrunkRise(w *working.Sheet, sym, means string, unit, r working.Term, stretches []Stretch) working.Term {
	m := Moment(stretches)
	m = w.Let(sym+" Σ", m, "units beyond each stretch times its length, added up")
	return w.Let(sym, working.Num(2).By(unit).By(r.By(m)), means)
}

// Moment adds up units beyond times length. Stretches of one length that follow
// each other are taken together, so that ten drops read as one product.
func Moment(stretches []Stretch) working.Term {
	var terms []working.Term
	for i := 0; i < len(stretches); {
		units, length := stretches[i].Beyond, stretches[i].Length
		j := i + 1 // a stretch of unknown length is like none, not even itself
		for ; j < len(stretches) && sameLength(stretches[j].Length, length); j++ {
			units += stretches[j].Beyond
		}
		terms = append(terms, length.Times(float64(units)))
		i = j
	}
	return working.Sum(quantity.Feet(0).Unit(), terms...)
}

func sameLength(a, b working.Term) bool {
	return a.Known() && b.Known() && quantity.Compare(a.Float(), b.Float()) == 0
}

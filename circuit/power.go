package circuit

import (
	"fmt"
	"math"

	"legwork/quantity"
)

// Injection is the power of a unit of rated apparent power at a power factor:
//
//	S = S_r · (pf + j·√(1 − pf²))
//
// A negative power factor absorbs vars, as fixed power-factor settings against a
// high voltage do; ±1 is unity. The apparent power stays at the rating, so the
// watts fall.
func Injection(rated quantity.VoltAmperes, pf quantity.Ratio) (complex128, error) {
	p := math.Abs(pf.Float())
	if !(p > 0 && p <= 1) {
		return 0, fmt.Errorf("power factor: %g came, expected more than 0 and at most 1, negative when it absorbs vars", pf.Float())
	}
	q := math.Sqrt(1 - p*p)
	if pf < 0 {
		q = -q
	}
	return complex(rated.Float()*p, rated.Float()*q), nil
}

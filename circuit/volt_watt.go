package circuit

import (
	"fmt"

	"legwork/quantity"
)

// VoltWatt is a curve of allowed power by voltage, piecewise linear, level
// before its first and after its last point. It limits watts and vars together,
// so a fixed power factor is kept.
type VoltWatt []VoltWattPoint

// VoltWattPoint is a corner of the curve.
type VoltWattPoint struct {
	Volts quantity.Ratio // of nominal
	Power quantity.Ratio // of rated
}

// DefaultVoltWatt is the default droop: full power up to 1.06 of nominal, falling
// to 20 % at 1.10. A utility's profile replaces it.
//
// Source: IEEE 1547-2018, 5.4.2, category B default: the voltages are in table
// voltage-limits, seen; the 20 % is from memory.
func DefaultVoltWatt() VoltWatt {
	return VoltWatt{{1.06, 1}, {1.10, 0.2}}
}

// check refuses a curve that is none, or that rises with the voltage: it would
// have several solutions.
func (c VoltWatt) check() error {
	for i, p := range c {
		if !(p.Power >= 0 && p.Power <= 1) {
			return fmt.Errorf("volt-watt curve: power %g at %g, expected 0 to 1", p.Power, p.Volts)
		}
		if i > 0 && (!(p.Volts > c[i-1].Volts) || p.Power > c[i-1].Power) {
			return fmt.Errorf("volt-watt curve: (%g, %g) after (%g, %g), expected a higher voltage and no more power",
				p.Volts, p.Power, c[i-1].Volts, c[i-1].Power)
		}
	}
	return nil
}

// at returns the allowed share and its slope at a voltage in parts of nominal.
func (c VoltWatt) at(u float64) (share, slope float64) {
	if len(c) == 0 {
		return 1, 0
	}
	if u <= c[0].Volts.Float() {
		return c[0].Power.Float(), 0
	}
	for i := 1; i < len(c); i++ {
		a, b := c[i-1], c[i]
		if u < b.Volts.Float() {
			slope = (b.Power - a.Power).Float() / (b.Volts - a.Volts).Float()
			return a.Power.Float() + slope*(u-a.Volts.Float()), slope
		}
	}
	return c[len(c)-1].Power.Float(), 0
}

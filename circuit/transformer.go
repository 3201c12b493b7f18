package circuit

import (
	"fmt"
	"math"

	"legwork/quantity"
)

// Upstream is the impedance ahead of the service: the utility's transformer and,
// when it was estimated on site, the service conductors with it.
type Upstream struct {
	Leg     complex128 // Ω in each leg
	Neutral complex128 // Ω in the neutral; negative for a split-phase transformer
}

// Section puts the impedance between the source and the service.
func (z Upstream) Section(id, from, to string, s System) Section {
	out := Section{ID: id, From: from, To: to}
	for _, c := range s.Conductors() {
		ohms := z.Leg
		if c == N {
			ohms = z.Neutral
		}
		out.Strands = append(out.Strands, Strand{c, ohms})
	}
	return out
}

// Transformer is a nameplate.
type Transformer struct {
	Rated     quantity.VoltAmperes
	Impedance quantity.Percent
	XR        quantity.Ratio // reactance over resistance
}

// Upstream returns the impedance of a transformer at its secondary.
//
//	Z = E² / S · %Z / 100
//
// On split phase Z is leg to leg, half of it in each leg. One leg to neutral has
// Z/3, since its fault current is 1.5 times the one leg to leg; that leaves
// Z/3 − Z/2 for the neutral. On 208Y/120 Z is in each leg.
//
// Source: point-to-point method, step 3 (1.5 is customary, 1.33 to 1.67 occur).
func (t Transformer) Upstream(s System, nominal quantity.Volts) (Upstream, error) {
	if !(t.Rated > 0 && t.Impedance > 0 && t.XR >= 0) {
		return Upstream{}, fmt.Errorf("transformer: %g VA, %g %%, X/R %g came, expected rating and impedance above zero and X/R not below",
			t.Rated.Float(), t.Impedance.Float(), t.XR.Float())
	}
	size := nominal.Float() * nominal.Float() / t.Rated.Float() * t.Impedance.Float() / 100
	r := size / math.Hypot(1, t.XR.Float())
	z := complex(r, r*t.XR.Float())
	if s == Wye {
		return Upstream{Leg: z}, nil
	}
	return Upstream{Leg: z / 2, Neutral: z/3 - z/2}, nil
}

// Reading is a state of the plant as measured at the service.
type Reading struct {
	Volts  quantity.Volts // leg to leg
	Export quantity.Amps  // in each leg, positive toward the utility
}

// Estimate is what two readings say about the way to the utility.
type Estimate struct {
	Open quantity.Volts // leg to leg with no current
	Loop quantity.Ohms  // both legs together
	Off  quantity.Ohms  // how far Loop may be off by the meter's last digit
}

// EstimateUpstream works the resistance ahead of the service out of two readings
// that follow each other, PV on and off say, with the load unchanged.
//
//	R = (V₂ − V₁) / (I₂ − I₁)
//
// Assumes unity power factor: the reactance does not show. The error is that of
// two readings, each off by half the resolution.
//
// It is an error when the currents are too close for the meter to tell, or when
// more export comes with less voltage.
func EstimateUpstream(a, b Reading, resolution quantity.Volts) (Estimate, error) {
	if !(a.Volts > 0 && b.Volts > 0 && resolution > 0) {
		return Estimate{}, fmt.Errorf("two readings: %g V, %g V and a resolution of %g V came, expected all above zero",
			a.Volts.Float(), b.Volts.Float(), resolution.Float())
	}
	dv, di := (b.Volts - a.Volts).Float(), (b.Export - a.Export).Float()
	if di < 0 {
		dv, di = -dv, -di
	}
	switch {
	case di == 0:
		return Estimate{}, fmt.Errorf("two readings: both with %g A, expected two different currents", a.Export.Float())
	case math.Abs(dv) <= resolution.Float():
		return Estimate{}, fmt.Errorf("two readings: %.3g V apart, expected more than the meter's last digit of %.3g V; take them with more current between them",
			math.Abs(dv), resolution.Float())
	case dv < 0:
		return Estimate{}, fmt.Errorf("two readings: %.3g V less with %.3g A more export, expected more; did the load change, or is the sign of the current turned round?", -dv, di)
	}
	r := dv / di
	return Estimate{
		Open: a.Volts - quantity.Volts(r*a.Export.Float()),
		Loop: quantity.Ohms(r),
		Off:  quantity.Ohms(resolution.Float() / di),
	}, nil
}

// Upstream puts half of the loop in each leg. The neutral is not measured leg to
// leg; it is taken as one leg.
func (e Estimate) Upstream() Upstream {
	half := complex(e.Loop.Float()/2, 0)
	return Upstream{Leg: half, Neutral: half}
}

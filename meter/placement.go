package meter

import (
	"math"
	"math/cmplx"
)

// Pass is a conductor through a window: +1 along the arrow, −1 against it, 2
// when looped twice, 0.5 for one of two parallel conductors.
type Pass struct {
	Conductor
	Turns float64
}

// Placement is how one channel is wired: what passes its window, what the core
// and the ratio make of it, and the voltage that it refers to.
type Placement struct {
	Passes []Pass
	// Gain is the figure shown over the truth: 1 when the ratio is set right, 0
	// for a dead CT.
	Gain float64
	// Lead is the angle by which the secondary current runs ahead, in degrees;
	// an air gap in the core makes it large.
	Lead float64
	// Ref is the voltage reference; the zero Across is a lost voltage.
	Ref Across
}

// core is gain and lead as a factor of complex power: a current that runs ahead
// turns the power back.
func (p Placement) core() complex128 {
	return cmplx.Rect(p.Gain, -p.Lead*math.Pi/180)
}

// Response is the factor K by which a channel answers to a device:
//
//	K_j = g · e^(−jb) · Σ n_c·d_cj · V_ref / V_j
//
//	g, b   gain and phase lead                 Placement
//	n_c    signed turns of conductor c         Pass
//	d_cj   flow of device j in conductor c     Conductor.Flow
//	V_ref  the channel's voltage reference, V_j the voltage across the device
//
// Source: Kirchhoff's current law and S = V·I*; derived in the metering
// reference, section 1.
// Valid: sinusoidal, legs at their nominal angles.
func (p Placement) Response(sys System, s Device) complex128 {
	turns := 0.0
	for _, c := range p.Passes {
		turns += c.Turns * float64(c.Flow(s))
	}
	if turns == 0 || p.Gain == 0 {
		return 0
	}
	return p.core() * complex(turns, 0) * sys.Volts(p.Ref) / sys.Volts(s.Across)
}

// Figures is what a channel shows, without noise and rounding.
type Figures struct {
	V, A, W, VAR, PF float64
}

// Reads gives the figures of a channel for given currents, as complex RMS amps in
// each conductor's positive direction, and given node voltages, complex RMS volts.
//
//	S = V_ref · (g·e^(jb) · Σ n_c·I_c)*
//
// The power factor is 0 where there is no apparent power, and carries the sign of
// the watts.
//
// Source: definition of complex power; IEEE 1459, 3.1.1 (from memory).
func (p Placement) Reads(current func(Conductor) complex128, volts func(Node) complex128) Figures {
	var i complex128
	for _, c := range p.Passes {
		i += complex(c.Turns, 0) * current(c.Conductor)
	}
	i *= cmplx.Conj(p.core())
	v := volts(p.Ref.From) - volts(p.Ref.To)
	s := v * cmplx.Conj(i)
	f := Figures{V: cmplx.Abs(v), A: cmplx.Abs(i), W: real(s), VAR: imag(s)}
	if cmplx.Abs(s) > 0 {
		f.PF = f.W / cmplx.Abs(s)
	}
	return f
}

package meter

import (
	"math"
	"time"

	"legwork/quantity"
	"legwork/working"
)

// Source tells how a reading came in.
type Source string

// The three sources.
const (
	Typed Source = "typed" // read off a display by a person
	CSV   Source = "csv"   // from a file
	Live  Source = "live"  // sampled from a device
)

// Reading is what all channels showed in one named state of the site, such as
// "S1", a known load on L1 with PV off. Nothing was switched while it was taken.
type Reading struct {
	State    string
	When     time.Time // in UTC
	Source   Source
	Channels []Channel
}

// Channel finds a channel by its name.
func (r Reading) Channel(id string) (Channel, bool) {
	for _, c := range r.Channels {
		if c.ID == id {
			return c, true
		}
	}
	return Channel{}, false
}

// Channel is one CT with its voltage reference. Each figure may be unknown on
// its own: meters differ in what they show.
type Channel struct {
	ID  string // G1, G2, P1, P2
	V   Value[quantity.Volts]
	A   Value[quantity.Amps]
	W   Value[quantity.Watts] // signed, see the package comment
	VAR Value[Vars]
	PF  Value[quantity.Ratio]
}

// Tolerance is by how much watts may differ from volts times amps times power
// factor beyond what the last digits explain.
type Tolerance struct {
	Share quantity.Percent // of volts times amps: gain errors, and figures taken moments apart
	Floor quantity.Watts   // offset and noise
}

// UsualTolerance is twice a gain error of 0.5 % on volt-amperes and on watts,
// and an offset of 1.5 W with three times a noise of 1.5 W. It finds a figure
// mistyped by a digit, a mixed-up column and a wrong scale factor; it proves no
// accuracy. Judgement, no standard.
var UsualTolerance = Tolerance{Share: 1, Floor: 6}

// Consistency is the outcome of comparing a channel's figures with each other.
type Consistency struct {
	Verdict working.Verdict // OK, Look when they contradict, Ask when one is unknown
	Product quantity.Watts  // volts · amps · power factor, as sizes
	Off     quantity.Watts  // size of the watts less Product
	Allowed quantity.Watts  // how far Off may lie from zero
}

// Consistent compares the watts of a channel with its other figures:
//
//	|P| = V · I · |PF|
//
//	P   active power, W      W
//	V   volts, RMS           V
//	I   amps, RMS            A
//	PF  power factor         PF
//
// Half of each last digit is granted in full, worst case, then the tolerance.
// The signs are not compared: power factor has none on many meters.
//
// Source: definition of the power factor, IEEE 1459, 3.1.1 (from memory).
// Valid: any waveform, when all figures are of one moment.
func (c Channel) Consistent(tol Tolerance) Consistency {
	if !c.V.Known || !c.A.Known || !c.W.Known || !c.PF.Known {
		return Consistency{Verdict: working.Ask}
	}
	product := math.Abs(float64(c.V.Value) * float64(c.A.Value) * float64(c.PF.Value))
	vLow, vHigh := c.V.around()
	aLow, aHigh := c.A.around()
	pfLow, pfHigh := c.PF.around()
	wLow, wHigh := c.W.around()
	digits := math.Max(vHigh*aHigh*pfHigh-product, product-vLow*aLow*pfLow) + (wHigh-wLow)/2
	apparent := math.Abs(float64(c.V.Value) * float64(c.A.Value))
	out := Consistency{
		Verdict: working.OK,
		Product: quantity.Watts(product),
		Off:     quantity.Watts(math.Abs(float64(c.W.Value)) - product),
		Allowed: quantity.Watts(digits + float64(tol.Share)/100*apparent + float64(tol.Floor)),
	}
	if quantity.Compare(math.Abs(float64(out.Off)), float64(out.Allowed)) > 0 {
		out.Verdict = working.Look
	}
	return out
}

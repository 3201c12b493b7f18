package ctproof

import (
	"math"

	"legwork/meter"
)

// ref is what a channel's voltage reference is connected to.
type ref uint8

const (
	refLost ref = iota
	refL1
	refL2
	refBoth
)

// refs are the references of the channels of one side.
type refs [2]ref

func refsOf(channels []meter.Placement) refs {
	var out refs
	for i, p := range channels[:min(2, len(channels))] {
		switch {
		case p.Ref == meter.Across{}:
			out[i] = refLost
		case p.Ref.To != meter.N:
			out[i] = refBoth
		case p.Ref.From == meter.L1:
			out[i] = refL1
		default:
			out[i] = refL2
		}
	}
	return out
}

// Volts of the meter and the service, in V. A load of I amperes on one leg lowers
// that leg and raises the other, by I·(Zs + 2·Zn) between them.
//
// Source: metering reference, section 3 (leg-voltage signature; 0.085 ohm typical).
const (
	voltsNoise = .30 // of a difference in one state: meter, supply, small loads
	voltsJolt  = 1.5 // the same when a load of the house was switched
	joltChance = .08
	voltsApart = 1.2 // constant difference between two legs
	voltsGain  = .5  // constant difference between two channels on one leg
	wrongVolts = -15 // log-likelihood of a voltage that the reference cannot give
)

var loops = []float64{.03, .06, .09, .14, .22} // Zs + 2·Zn, ohm

// voltsLog is the log-likelihood of the voltages of two channels under their
// references, by the known loads of each state.
func voltsLog(r refs, channels int, states []State, ids [2]string, sys meter.System) float64 {
	log := 0.
	var diff, amps []float64
	for i := range states {
		var v [2]float64
		var known [2]bool
		for c := range channels {
			ch, ok := states[i].Channel(ids[c])
			if !ok || !ch.V.Known {
				continue
			}
			v[c], known[c] = float64(ch.V.Value), true
			if !possible(r[c], v[c], sys) {
				log += wrongVolts
			}
		}
		if known[0] && known[1] {
			diff = append(diff, v[0]-v[1])
			amps = append(amps, (float64(states[i].L1.W)-float64(states[i].L2.W))/120)
		}
	}
	sign, apart := 0., voltsApart
	switch {
	case channels < 2 || r[0] == refLost || r[1] == refLost || (r[0] == refBoth) != (r[1] == refBoth):
		return log
	case r[0] == r[1]:
		apart = voltsGain
	case r[0] == refL1:
		sign = -1
	default:
		sign = 1
	}
	if len(diff) < 2 {
		return log
	}
	return log + signature(diff, amps, sign, apart)
}

// possible says whether a reference can give a voltage: a leg 85 to 160 V, both
// legs above 170 V, a lost one below 60 V.
func possible(r ref, v float64, sys meter.System) bool {
	switch r {
	case refLost:
		return v < 60
	case refBoth:
		return v > 170
	}
	return v > 85 && v < 160
}

// signature integrates over the constant difference and the loop's impedance.
func signature(diff, amps []float64, sign, apart float64) float64 {
	mean := 0.
	for _, d := range diff {
		mean += d / float64(len(diff))
	}
	total := math.Inf(-1)
	const steps = 24
	for _, z := range loops {
		for k := -steps; k <= steps; k++ {
			offset := mean + 3*float64(k)/steps
			l := -offset * offset / apart / apart / 2
			for i, d := range diff {
				x := d - offset - sign*z*amps[i]
				calm := (1 - joltChance) / voltsNoise * math.Exp(-x*x/voltsNoise/voltsNoise/2)
				jolt := joltChance / voltsJolt * math.Exp(-x*x/voltsJolt/voltsJolt/2)
				l += math.Log(calm + jolt + 1e-6)
			}
			total = add(total, l)
		}
	}
	return total - math.Log(apart*float64(len(loops)))
}

package ctproof

import (
	"math"

	"legwork/meter"
)

// spread is a standard deviation by share of a CT's rated current: of the ratio,
// and of the phase in radians.
type spread struct{ share, ratio, phase float64 }

// classOne takes a limit as the half width of an even spread: limit / √3.
//
// Source: IEC 61869-2, table 201, class 1: ±1 % and 60 min at 100 %, 1.5 % and
// 90 min at 20 %, 3 % and 180 min at 5 % of rated current. Below 5 % the class
// promises nothing: doubled at 1 %, judgement.
var classOne = []spread{
	{.01, .06 / math.Sqrt(3), 6 * math.Pi / 180 / math.Sqrt(3)},
	{.05, .03 / math.Sqrt(3), 3 * math.Pi / 180 / math.Sqrt(3)},
	{.20, .015 / math.Sqrt(3), 1.5 * math.Pi / 180 / math.Sqrt(3)},
	{1.0, .01 / math.Sqrt(3), 1.0 * math.Pi / 180 / math.Sqrt(3)},
}

// classError interpolates the class over the logarithm of the current.
func classError(share float64) (ratio, phase float64) {
	c := classOne
	if share <= c[0].share {
		return c[0].ratio, c[0].phase
	}
	for i := 1; i < len(c); i++ {
		if share <= c[i].share {
			x := math.Log(share/c[i-1].share) / math.Log(c[i].share/c[i-1].share)
			return c[i-1].ratio + x*(c[i].ratio-c[i-1].ratio), c[i-1].phase + x*(c[i].phase-c[i-1].phase)
		}
	}
	return c[len(c)-1].ratio, c[len(c)-1].phase
}

// Floors of a reading at no current, standard deviations in W and var.
//
// Source: metering reference, section 4: ±5 to 20 W at no current is normal;
// section 3 works with 6 to 7 W and 9 to 10 var.
const (
	floorW   = 7
	floorVAR = 10
)

// phasePV is the angle in radians by which microinverters may stray from unity
// power factor, with the utility's volt-var curve off. Judgement: power factor
// 0.999 and better.
const phasePV = .03

// blind is the spread of a figure that the meter did not give.
const blind = 1e6

// measured is one channel's watts and vars in one state, with the covariance of
// their errors.
type measured struct {
	s          complex128
	size       float64
	ww, wq, qq float64
	known      bool
}

// measure takes a channel as the meter shows it. jaw widens ratio and phase where
// an open core is supposed, whose gap nobody knows.
func measure(c meter.Channel, rated, phaseMore float64) measured {
	m := measured{s: complex(float64(c.W.Value), float64(c.VAR.Value)), known: c.W.Known || c.VAR.Known}
	volts := float64(c.V.Value)
	if !c.V.Known || volts < 50 {
		volts = 120
	}
	m.size = math.Hypot(real(m.s), imag(m.s))
	ratio, phase := classError(m.size / volts / rated)
	m.cover(c, ratio, math.Hypot(phase, phaseMore))
	return m
}

// cover sets the covariance: an error of ratio lies along the power, one of phase
// across it; floor and resolution lie along the axes.
func (m *measured) cover(c meter.Channel, ratio, phase float64) {
	m.ww, m.wq, m.qq = 0, 0, 0
	if m.size > 0 {
		x, y := real(m.s)/m.size, imag(m.s)/m.size
		along, across := m.size*ratio, m.size*phase
		along, across = along*along, across*across
		m.ww = along*x*x + across*y*y
		m.wq = (along - across) * x * y
		m.qq = along*y*y + across*x*x
	}
	step := func(r float64) float64 { return r * r / 12 }
	m.ww += floorW*floorW + step(float64(c.W.Resolution))
	m.qq += floorVAR*floorVAR + step(float64(c.VAR.Resolution))
	if !c.W.Known {
		m.ww, m.wq = blind*blind, 0
	}
	if !c.VAR.Known {
		m.qq, m.wq = blind*blind, 0
	}
}

// slack widens the covariance for an open core: the gap is anywhere in the range.
func (m measured) slack(j jaw) measured {
	if j == shut || m.size == 0 {
		return m
	}
	x, y := real(m.s)/m.size, imag(m.s)/m.size
	along, across := m.size*j.ratio, m.size*j.phase
	along, across = along*along, across*across
	m.ww += along*x*x + across*y*y
	m.wq += (along - across) * x * y
	m.qq += along*y*y + across*x*x
	return m
}

// jaw is how far gain and phase of a supposed gap may lie from its middle.
type jaw struct{ ratio, phase float64 }

// Half the ranges of the metering reference, section 2, over √3: open, gain 0.6 to
// 0.85 and 25° to 50°; not latched, 0.95 to 0.99 and 5° to 16°.
var (
	shut       = jaw{}
	open       = jaw{.125 / math.Sqrt(3) / .72, 12.5 * math.Pi / 180 / math.Sqrt(3)}
	notLatched = jaw{.02 / math.Sqrt(3) / .96, 5.5 * math.Pi / 180 / math.Sqrt(3)}
)

package circuit

import (
	"fmt"

	"legwork/quantity"
)

// Curtailment is what a volt-watt curve takes away.
type Curtailment struct {
	Solution  *Solution
	Offered   quantity.Watts // by the units without the curve
	Delivered quantity.Watts // by the units with it
	Share     quantity.Ratio // delivered of offered
	Worst     UnitState      // the unit with the smallest share, of equals the first
}

// Curtail closes the loop: units push the voltage up, the curve takes power away
// as it rises, and both settle. Every unit is judged by the voltage at its own
// terminals. The voltage is that of the source with no PV.
func (n *Network) Curtail(volts quantity.Volts, curve VoltWatt) (*Curtailment, error) {
	if len(n.Units) == 0 {
		return nil, fmt.Errorf("curtailment: the network has no units")
	}
	s, err := n.At(volts).WithUnits(func(u Unit) Unit { u.Curve = curve; return u }).Solve()
	if err != nil {
		return nil, err
	}
	out := &Curtailment{Solution: s, Worst: s.Units[0]}
	for _, u := range s.Units {
		out.Offered += quantity.Watts(real(u.Unit.Power))
		out.Delivered += quantity.Watts(real(u.Power))
		if u.Share < out.Worst.Share {
			out.Worst = u
		}
	}
	out.Share = quantity.Ratio(out.Delivered / out.Offered)
	return out, nil
}

// Level is a number of hours at a share of the units' power.
type Level struct {
	Power quantity.Ratio
	Hours float64
}

// EnergyLost is the share of the units' energy that heats the wiring over a
// profile of power. It is less than at full power: the loss falls with the
// square of the current.
func (n *Network) EnergyLost(profile []Level) (quantity.Ratio, error) {
	var lost, made float64
	for _, l := range profile {
		if !(l.Power >= 0 && l.Hours >= 0) {
			return 0, fmt.Errorf("profile: %g of power for %g h came, expected neither below zero", l.Power.Float(), l.Hours)
		}
		s, err := n.WithUnits(func(u Unit) Unit {
			u.Rated = u.base() // the curve's base stays
			u.Power *= complex(l.Power.Float(), 0)
			return u
		}).Solve()
		if err != nil {
			return 0, err
		}
		lost += l.Hours * real(s.Lost)
		made += l.Hours * real(s.Generated)
	}
	if made == 0 {
		return 0, fmt.Errorf("profile: no energy in it")
	}
	return quantity.Ratio(lost / made), nil
}

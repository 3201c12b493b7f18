package fixes

import (
	"fmt"
	"slices"

	"legwork/job"
	"legwork/quantity"
	"legwork/tables"
)

// faultRatings are usual fault-current ratings of fused switches and breakers.
// Common practice.
var faultRatings = []quantity.Amps{10000, 22000, 25000, 42000, 65000, 100000}

// oneInch is a raceway that holds four conductors of 6 AWG and more; the fill
// rule checks it.
const oneInch = quantity.Trade1

// leastTap is the smallest device of a tap by the practice of 230.79(D).
const leastTap = 60

// supplySide takes a combiner's output from its panel to a fused disconnect ahead
// of the main, near the meter. What it states of the tap is what has to be built;
// the utility's consent and where the disconnect hangs stay to be found out.
func supplySide(c *Case) []Edit {
	var out []Edit
	for _, b := range c.fullPanels() {
		for i := range c.Decisions.Connections {
			o := c.Decisions.Connections[i]
			if o.Kind == job.SupplySide || o.Panel != b.ID || b != c.Plant.Service.Panel {
				continue
			}
			rating, ok := leastRating(c, c.Decisions.Branches, o.From)
			if !ok {
				continue
			}
			rating = max(rating, leastTap)
			if e, ok := tapEdit(c, o, rating); ok {
				out = append(out, e)
			}
		}
	}
	return out
}

func tapEdit(c *Case, o job.Connection, rating quantity.Amps) (Edit, bool) {
	size, ok := tapSize(rating)
	if !ok {
		return Edit{}, false
	}
	fault := job.Fact[quantity.Amps]{Open: true}
	if f := c.Plant.Service.FaultCurrent; f.Known {
		for _, r := range slices.Backward(faultRatings) {
			if r >= f.Value {
				fault = known(r)
			}
		}
	}
	id := "tap_switch"
	sw := job.Disconnect{ID: id, Name: known("PV disconnect"), Rating: known(rating), Fuses: known(rating), Interrupting: fault,
		ServiceRated: known(true), Terminals: known(quantity.Celsius(75))}
	return Edit{Title: fmt.Sprintf("supply side: %s fused disconnect ahead of the main, %s tap", amps(rating), size), Slot: "connection " + o.ID,
		Touches: []string{o.Run, "service"}, Takes: []Take{{"supply_side", 1}},
		Apply: func(x *Draft) {
			x.Doc.Disconnects = append(x.Doc.Disconnects, sw)
			for i := range x.Decisions.Connections {
				n := &x.Decisions.Connections[i]
				if n.ID != o.ID {
					continue
				}
				n.Kind, n.Panel, n.Spaces, n.Breaker, n.Disconnect = job.SupplySide, "", nil, job.Fact[quantity.Amps]{}, id
				n.TapTerminals = known(quantity.Celsius(75))
				n.TapLength = known(quantity.Feet(10))
				n.Tap = job.Tap{Limiters: known(false), Connectors: known(true), GroundAhead: known(false), Bonded: known(true), Raceway: known(true)}
			}
			for i := range x.Doc.Runs {
				if x.Doc.Runs[i].ID == o.Run {
					x.Doc.Runs[i].To = job.ServiceEnd
				}
			}
			if w := x.conductors(o.Run); w != nil {
				w.Size, w.Material, w.Neutral, w.Trade = known(size), known(tables.Copper), known(size), known(oneInch)
				if g, err := tables.EquipmentGround(rating, tables.Copper); err == nil {
					w.Ground = known(g)
				}
			}
		}}, true
}

// tapSize is the smallest copper, 6 AWG at least, that carries the device at 75 °C.
func tapSize(rating quantity.Amps) (quantity.Size, bool) {
	for s := quantity.AWG6; s <= quantity.KCMil500; s++ {
		if a, err := tables.Ampacity(s, tables.Copper, 75); err == nil && a >= rating {
			return s, true
		}
	}
	return quantity.NoSize, false
}

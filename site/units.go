package site

import (
	"slices"

	"legwork/job"
)

// units puts microinverters under the modules. A unit of several inputs takes
// neighbors of one row, from the left; where a row or a stretch between empty
// positions does not come out even, its last unit has inputs left over. While
// nobody knows how many modules a unit takes, each module has its own.
func (r *resolver) units() {
	for i := range r.doc.Planes {
		pl := &r.doc.Planes[i]
		inverter := r.inverters[pl.Inverter]
		inputs := 1
		if inverter.ModulesPerUnit.Known {
			inputs = inverter.ModulesPerUnit.Value
		}
		for row := 1; row <= pl.Grid.Rows; row++ {
			var u *Unit
			for col := 1; col <= pl.Grid.Columns; col++ {
				at := job.Position{Plane: pl.ID, Row: row, Col: col}.String()
				if slices.Contains(pl.Grid.Omit, at) {
					u = nil
					continue
				}
				if u == nil || len(u.Positions) == inputs {
					u = &Unit{Position: at, Plane: pl, Module: r.modules[pl.Module], Inverter: inverter}
					r.plant.Units = append(r.plant.Units, u)
				}
				u.Positions = append(u.Positions, at)
			}
		}
	}
}

// unit is the unit that serves a position, nil if there is none.
func (r *resolver) unit(at string) *Unit {
	for _, u := range r.plant.Units {
		if slices.Contains(u.Positions, at) {
			return u
		}
	}
	return nil
}

package rules

import (
	"legwork/job"
	"legwork/site"
	"legwork/working"
)

// RapidShutdown is the initiator of rapid shutdown.
var RapidShutdown = Rule{
	ID:    "rapid-shutdown",
	Title: "Rapid shutdown can be started outside, in reach",
	Why: "Firefighters start it before they go up: on a dwelling by the service disconnect, the PV disconnect or a " +
		"marked switch, outside the building that carries the array. Opening it takes the grid from the " +
		"microinverters, which stop within 30 s. A separate building has its own.",
	Clauses: working.Clauses{2017: "690.12(C)", 2020: "690.12(C)", 2023: "690.12(C)"},
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: func(p *site.Plant, at func(string, bool, func(*working.Sheet) working.Verdict)) {
		if p.Occupancy.Known && p.Occupancy.Value != job.Dwelling {
			return
		}
		seen := map[*site.Bus]bool{}
		for _, br := range p.Branches {
			b := buildingOf(p, br.Bus)
			if b == nil || seen[b] {
				continue
			}
			seen[b] = true
			at(b.ID+"/rapid-shutdown", false, func(w *working.Sheet) working.Verdict {
				return initiated(w, p, b)
			})
		}
	},
}

// buildingOf is the panel that stands for the building in which a bus is.
func buildingOf(p *site.Plant, b *site.Bus) *site.Bus {
	for b != nil && b.Kind == site.CombinerBus && b.Up != nil && b.Up.To != nil {
		b = b.Up.To
	}
	if b == nil || b.Building == "" {
		return p.Service.Panel
	}
	return b
}

// initiated judges the initiator that stands best: a marked switch, else the main
// of the building's panel.
func initiated(w *working.Sheet, p *site.Plant, b *site.Bus) working.Verdict {
	for _, s := range p.Switches {
		if s.Initiator.Known && s.Initiator.Value {
			w.Fact("initiator", s.Initiator)
			if v := w.Is(w.Fact("outside", s.Seen["outside"]), "yes"); v != working.OK {
				return v
			}
			return w.Is(w.Fact("in reach", s.Seen["reachable"]), "yes")
		}
	}
	for _, s := range p.Switches {
		if !s.Initiator.Known && !b.Seen["rapid_shutdown_initiator"].Known {
			return w.Is(w.Fact("initiator", s.Initiator), "yes")
		}
	}
	return w.Is(w.Fact("initiator", b.Seen["rapid_shutdown_initiator"]), "yes")
}

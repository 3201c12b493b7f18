package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// PVDisconnects is the number of disconnects that turn the plant off.
var PVDisconnects = Rule{
	ID:      "pv-disconnects",
	Title:   "At most six handles disconnect the PV system",
	Why:     "Who comes in an emergency must be able to turn it off with few movements, at one place.",
	Clauses: working.Clauses{2017: "690.13(D)", 2020: "690.13(C)", 2023: "690.13(C)"},
	Gives:   []working.Verdict{working.OK, working.Stop},
	On: func(p *site.Plant, at func(string, bool, func(*working.Sheet) working.Verdict)) {
		handles := len(pvSwitches(p))
		if handles == 0 {
			for _, b := range p.Buses {
				handles += len(pvBreakers(b))
			}
		}
		if handles == 0 {
			return
		}
		at(p.Service.Panel.ID+"/pv-disconnects", false, func(w *working.Sheet) working.Verdict {
			n := w.Fact("n", working.State(quantity.Count(handles), "handles of the PV disconnect", working.Origin{Kind: working.Computed}))
			return w.AtMost(n, working.Of(quantity.Count(6), "most handles", working.Origin{Kind: working.Table, Path: "690.13"}))
		})
	},
}

// pvSwitches are the switches that disconnect the plant; without any, the
// breakers at which it meets a panel do.
func pvSwitches(p *site.Plant) []*site.Switch {
	var out []*site.Switch
	for _, s := range p.Switches {
		if !s.Existing {
			out = append(out, s)
		}
	}
	return out
}

// placeOf is where on the line a switch stands: on the run that it interrupts,
// else at the service.
func placeOf(p *site.Plant, s *site.Switch) string {
	for _, b := range taps(p) {
		if b.Up.Supply.Disconnect.ID == s.ID {
			return b.Up.Run.ID + "/" + s.ID
		}
	}
	for _, r := range p.Runs {
		if r.From == s.ID || r.To == s.ID {
			return r.ID + "/" + s.ID
		}
	}
	return p.Service.Panel.ID + "/" + s.ID
}

// pvBreakers are the breakers of a panel at which the plant meets it.
func pvBreakers(b *site.Bus) []*site.Breaker {
	var out []*site.Breaker
	for _, d := range b.Breakers {
		if b.Kind == site.PanelBus && (d.Branch != nil || d.Carries != nil && d.Carries.Kind == site.CombinerBus && d.Carries.HasSource()) {
			out = append(out, d)
		}
	}
	return out
}

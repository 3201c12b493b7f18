package rules

import (
	"legwork/site"
	"legwork/working"
)

// UtilitySwitch is the switch that some utilities ask for.
var UtilitySwitch = Rule{
	ID:    "utility-switch",
	Title: "Switch with visible blades where the utility asks for one",
	Why:   "Some utilities want a switch that their crew can lock and see open. No matter of the code; a plant without it is not energized.",
	Basis: "interconnection rules of the utility",
	Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
	On: func(p *site.Plant, at func(string, bool, func(*working.Sheet) working.Verdict)) {
		if len(p.Branches) == 0 || p.Service.UtilitySwitch.Known && !p.Service.UtilitySwitch.Value {
			return
		}
		at(p.Service.Panel.ID+"/utility-switch", false, func(w *working.Sheet) working.Verdict {
			asked := w.Fact("asked for", p.Service.UtilitySwitch)
			if !asked.Known() {
				return w.Is(asked, "no")
			}
			for _, s := range pvSwitches(p) {
				if f := s.Seen["visible_blade"]; !f.Known || f.Value {
					return w.Is(w.Fact("visible blades", f), "yes")
				}
			}
			return w.Is(w.Fact("visible blades", working.State(false, "a switch with visible blades in the plan", working.Origin{Kind: working.Computed})), "yes")
		})
	},
}

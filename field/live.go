package field

import (
	"slices"

	"legwork/site"
)

// moduleLeads stay live whatever is opened.
func moduleLeads() Text { return say("live.module_leads") }

// ahead is what only the utility can make dead.
func (g *generator) ahead() []Text {
	out := []Text{say("live.line_side_of_main", "panel", g.serviceName())}
	if g.tap != nil {
		name, _ := g.switchName()
		out = append(out, say("live.tap", "name", name))
	}
	return out
}

// beforePower is what stays live while the new part is off and locked: the
// service, the panels that are not opened and locked, earlier sources, leads.
func (g *generator) beforePower() []Text {
	out := g.ahead()
	for _, b := range g.panels() {
		if b.Up != nil && b.Up.To != nil {
			out = append(out, say("live.feeder", "panel", b.Name, "up", b.Up.To.Name))
		}
		out = append(out, say("live.panel_unless_locked", "panel", b.Name))
	}
	out = append(out, g.sources()...)
	return append(out, moduleLeads())
}

// sources are the sources that were there before.
func (g *generator) sources() []Text {
	var out []Text
	for _, s := range g.plant.Sources {
		out = append(out, say("live.source", "source", s.ID, "panel", s.Bus.Name, "spaces", spaces(s.Breaker)))
	}
	return out
}

// withPower is what is live once the service main is closed and the first n
// devices of the chain behind it.
func (g *generator) withPower(n int) []Text {
	out := g.ahead()
	if g.service() != nil {
		out = append(out, say("live.panel", "panel", g.serviceName()))
	}
	for _, d := range g.chain[:n] {
		out = append(out, say("live.bus", "bus", d.feeds.Name))
	}
	if n < len(g.chain) {
		out = append(out, say("live.line_side_of", "device", g.deviceName(g.chain[n])))
	}
	out = append(out, g.sources()...)
	return append(dedupe(out), moduleLeads())
}

// withBranches is what is live with these branches closed.
func (g *generator) withBranches(closed []*site.Branch) []Text {
	out := g.withPower(len(g.chain))
	if len(closed) == 0 {
		return out
	}
	return append(out, say("live.trunks", "branches", list(branchIDs(closed))))
}

func dedupe(ts []Text) []Text {
	var out []Text
	for _, t := range ts {
		if !slices.ContainsFunc(out, func(o Text) bool { return o.Key == t.Key && equalSlots(o.Slots, t.Slots) }) {
			out = append(out, t)
		}
	}
	return out
}

func equalSlots(a, b map[string]string) bool {
	for k, v := range a {
		if b[k] != v {
			return false
		}
	}
	return len(a) == len(b)
}

// deviceName names a device by ids and figures only, which are no words.
func (g *generator) deviceName(d device) string {
	switch {
	case d.on == nil:
		return d.name
	case d.breaker == nil:
		return d.on.ID + "/main"
	}
	return d.on.ID + "/" + spaces(d.breaker)
}

// makeDead is the order of making the plant dead before a hand goes in, the
// reverse of the order of closing.
//
// Source: NFPA 70E, 120.5; the order from the PV side is common practice.
func (g *generator) makeDead() []Text {
	out := []Text{say("dead.branches")}
	for _, d := range slices.Backward(g.chain) {
		switch {
		case d.on == nil:
			out = append(out, say("dead.disconnect", "name", d.name))
		case d.breaker == nil:
			out = append(out, say("dead.main", "panel", d.on.Name))
		default:
			out = append(out, say("dead.breaker", "spaces", spaces(d.breaker), "panel", d.on.Name))
		}
	}
	for _, s := range g.plant.Sources {
		out = append(out, say("dead.source", "source", s.ID, "spaces", spaces(s.Breaker), "panel", s.Bus.Name))
	}
	if g.service() != nil {
		out = append(out, say("dead.service", "panel", g.serviceName()))
	}
	out = append(out, say("dead.lock"), say("dead.test"))
	if g.tap != nil {
		out = append(out, say("dead.tap"))
	}
	return append(out, say("dead.leads"))
}

// live is the protective equipment for work on or near live parts.
//
// Source: NFPA 70E, tables 130.7(C)(15)(a) and (c): panelboards of 240 V and
// below, up to 25 kA and 0.03 s; from memory.
func (g *generator) wearLive() []Text {
	out := []Text{say("wear.arc"), say("wear.rubber_gloves"), say("wear.meter")}
	if f := g.plant.Service.FaultCurrent; !f.Known || f.Value > 25000 {
		out = append(out, say("wear.fault_current", "current", f.String()))
	}
	return out
}

func wearHands() []Text { return []Text{say("wear.glasses"), say("wear.work_gloves")} }

func wearRoof() []Text {
	return []Text{say("wear.fall"), say("wear.glasses"), say("wear.work_gloves")}
}

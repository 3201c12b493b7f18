package rules

import (
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// BoxFill is the room in a junction box.
var BoxFill = Rule{
	ID:    "box-fill",
	Title: "Junction box large enough for its conductors",
	Why: "Crowded splices loosen and overheat. Each conductor that enters counts once, up to four grounds " +
		"together as one of the largest, inside clamps as one more. Conductors of 4 AWG and larger go by the " +
		"length of the box instead (314.28).",
	Clauses: working.Clauses{2017: "314.16(B)", 2020: "314.16(B)", 2023: "314.16(B)"},
	Mark:    "from memory",
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onto(func(p *site.Plant) []*site.Box { return p.Boxes },
		func(b *site.Box) string { return b.ID },
		func(*site.Box) bool { return false },
		func(p *site.Plant, b *site.Box) bool { return len(branchesFrom(p, b)) > 0 },
		func(p *site.Plant, b *site.Box, w *working.Sheet) working.Verdict {
			var parts []working.Term
			largest := working.Num(0)
			for _, br := range branchesFrom(p, b) {
				trunk := br.Units[0].Inverter.Trunk
				c := br.Run.Conductors
				t := w.Cell("V_trunk", "room for one trunk conductor", tables.BoxVolumeOf(trunk.Size.Value), w.Fact("trunk", trunk.Size))
				h := w.Cell("V_line", "room for one conductor of the "+br.Run.Name, tables.BoxVolumeOf(c.Size.Value), w.Fact("size", c.Size))
				parts = append(parts, t.Times(2), h.Times(2))
				if c.HasNeutral {
					parts = append(parts, w.Cell("V_N", "room for one neutral", tables.BoxVolumeOf(c.Neutral.Value), w.Fact("neutral", c.Neutral)).Times(2))
				}
				largest = greater(greater(largest, t), h)
			}
			ground := largest
			if c := branchesFrom(p, b)[0].Run.Conductors; c.HasGround {
				ground = w.Cell("V_G", "room for all grounds: one of the largest", tables.BoxVolumeOf(c.Ground.Value), w.Fact("ground", c.Ground))
			}
			parts = append(parts, ground)
			clamps := w.Fact("clamps", b.Clamps)
			if b.Clamps.Value {
				parts = append(parts, w.Let("V_clamps", largest, "room for the clamps: one of the largest"))
			}
			return w.AtMost(w.Let("V_sum", working.Sum("in³", parts...).Needs(clamps), "room needed"), w.Fact("V_box", b.Volume))
		}),
}

// branchesFrom lists the branches with a way on that start at a box.
func branchesFrom(p *site.Plant, b *site.Box) []*site.Branch {
	var out []*site.Branch
	for _, br := range p.Branches {
		if br.From == b.ID && br.Run != nil && len(br.Units) > 0 {
			out = append(out, br)
		}
	}
	return out
}

// greater is the greater of two rooms; unknown when either is.
func greater(a, b working.Term) working.Term {
	if !a.Known() || b.Known() && quantity.Compare(a.Float(), b.Float()) >= 0 {
		return a
	}
	return b
}

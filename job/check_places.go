package job

import (
	"fmt"
	"slices"
	"strconv"

	"legwork/quantity"
	"legwork/where"
)

// spaces checks that breakers sit in spaces that the panel has, and that two
// existing ones share a space only where tandem breakers go. A new breaker in a
// taken space is a finding of the rules, not a slip of the pen.
func (c *checker) spaces() {
	d := c.doc
	for i := range d.Panels {
		p := &d.Panels[i]
		holder := map[int]string{}
		for k := range p.Breakers {
			path := fmt.Sprintf("panels[%d].breakers[%d].spaces", i, k)
			c.within(path, p.Breakers[k].Spaces, p)
			for _, s := range p.Breakers[k].Spaces {
				if holder[s] != "" && !slices.Contains(p.Tandem, s) {
					c.fault(path, where.Error{Came: fmt.Sprintf("space %d is taken", s), Expected: "one breaker a space, or the space listed in tandem", Try: "the other is " + holder[s]})
				}
				holder[s] = fmt.Sprintf("panels[%d].breakers[%d]", i, k)
			}
		}
		if p.FedFrom != nil {
			path := fmt.Sprintf("panels[%d].fed_from.spaces", i)
			if up := d.panel(p.FedFrom.Panel); up != nil && len(p.FedFrom.Spaces) > 0 && !up.holds(p.FedFrom.Spaces) {
				c.fault(path, where.Error{Came: fmt.Sprintf("no breaker in spaces %v of %s", p.FedFrom.Spaces, up.ID), Expected: "the spaces of an existing breaker"})
			}
		}
		c.within(fmt.Sprintf("panels[%d].main_between", i), p.MainBetween, p)
		c.within(fmt.Sprintf("panels[%d].tandem", i), p.Tandem, p)
	}
	for i := range d.Sources {
		c.within(fmt.Sprintf("sources[%d].spaces", i), d.Sources[i].Spaces, d.panel(d.Sources[i].Panel))
	}
	for i := range d.Decisions.Branches {
		b := &d.Decisions.Branches[i]
		c.within(fmt.Sprintf("decisions.branches[%d].spaces", i), b.Spaces, d.panel(b.Lands))
	}
	for i := range d.Decisions.Connections {
		o := &d.Decisions.Connections[i]
		c.within(fmt.Sprintf("decisions.connections[%d].spaces", i), o.Spaces, d.panel(o.Panel))
	}
	for i := range d.Decisions.Moves {
		m := &d.Decisions.Moves[i]
		c.within(fmt.Sprintf("decisions.moves[%d].to", i), m.To, d.panel(m.Panel))
	}
}

// within checks a list of spaces against a panel; a combiner (no panel) numbers
// its spaces itself.
func (c *checker) within(path string, spaces []int, p *Panel) {
	for i, s := range spaces {
		switch {
		case s < 1:
			c.fault(path, where.Error{Came: fmt.Sprintf("space %d", s), Expected: "spaces counted from 1"})
		case p != nil && p.Spaces.Known && s > p.Spaces.Value:
			c.fault(path, where.Error{Came: fmt.Sprintf("space %d", s), Expected: fmt.Sprintf("1 to %d, the spaces of %s", p.Spaces.Value, p.ID)})
		case slices.Contains(spaces[:i], s):
			c.fault(path, where.Error{Came: fmt.Sprintf("space %d stands twice", s), Expected: "each space once"})
		}
	}
}

// positions checks every position that the document names, and that no module
// hangs on two branches or twice on one.
func (c *checker) positions() {
	omitted, modules := map[string]bool{}, 0
	for i := range c.doc.Planes {
		g := c.doc.Planes[i].Grid
		if modules += g.Rows * g.Columns; modules > maxModules {
			c.fault(fmt.Sprintf("planes[%d].grid", i), where.Error{Came: fmt.Sprintf("%d modules up to here", modules), Expected: fmt.Sprintf("at most %d in a job", maxModules)})
			return
		}
		c.breaks(i)
		for k, o := range c.doc.Planes[i].Grid.Omit {
			path := fmt.Sprintf("planes[%d].grid.omit[%d]", i, k)
			p, err := ParsePosition(o)
			if err == nil && p.Plane != c.doc.Planes[i].ID {
				err = where.Error{Came: o, Expected: "a position on plane " + c.doc.Planes[i].ID}
			}
			if c.on(path, []Position{p}, err) {
				omitted[o] = true
			}
		}
	}
	branch := map[string]string{}
	for i := range c.doc.Decisions.Branches {
		b := &c.doc.Decisions.Branches[i]
		for k, u := range b.Units {
			path := fmt.Sprintf("decisions.branches[%d].units[%d]", i, k)
			ps, err := ParseStretch(u)
			if !c.on(path, ps, err) {
				continue
			}
			for _, p := range ps {
				pos := p.String()
				switch {
				case omitted[pos]:
					c.fault(path, where.Error{Came: pos + " is left empty by the grid's omit", Expected: "a position with a module"})
				case branch[pos] != "":
					c.fault(path, where.Error{Came: fmt.Sprintf("%s is on branch %s already", pos, branch[pos]), Expected: "each position once"})
				}
				branch[pos] = b.ID
			}
		}
		for k, j := range b.Jumpers {
			if branch[j.After] != b.ID && j.After != b.From {
				c.fault(fmt.Sprintf("decisions.branches[%d].jumpers[%d].after", i, k), where.Error{Came: fmt.Sprintf("%q is not on branch %s", shorten(j.After), b.ID), Expected: "a position of the branch, or its junction box"})
			}
		}
	}
	seen := map[string]bool{}
	for i, s := range c.doc.Serials {
		path := fmt.Sprintf("serials[%d].at", i)
		p, err := ParsePosition(s.At)
		if c.on(path, []Position{p}, err) && seen[s.At] {
			c.fault(path, where.Error{Came: s.At + " has a serial number already", Expected: "each position once"})
		}
		seen[s.At] = true
	}
}

// breaks checks that each break of a grid lies between two columns or two rows.
func (c *checker) breaks(plane int) {
	g := c.doc.Planes[plane].Grid
	for k, b := range g.Breaks {
		row, after := b.Place()
		if after < 1 || row && after >= g.Rows || !row && after >= g.Columns {
			c.fault(fmt.Sprintf("planes[%d].grid.breaks[%d].after", plane, k), where.Error{Came: strconv.Quote(shorten(b.After)),
				Expected: fmt.Sprintf("c1 to c%d, or r1 to r%d", g.Columns-1, g.Rows-1)})
		}
	}
}

// maxModules is far more than a dwelling's roof carries; it keeps a slip of the
// keyboard from growing into minutes of work.
const maxModules = 2000

// on checks that positions lie on the grids of their planes.
func (c *checker) on(path string, ps []Position, err error) bool {
	if err != nil {
		e, _ := err.(where.Error) // what this package's own readers return
		c.fault(path, e)
		return false
	}
	for _, p := range ps {
		plane := c.planes[p.Plane]
		if plane == nil {
			c.refer(path, p.Plane, "plane", c.doc.planeIDs())
			return false
		}
		if g := plane.Grid; p.Row > g.Rows || p.Col > g.Columns {
			c.fault(path, where.Error{Came: "no position " + p.String(), Expected: fmt.Sprintf("%s-r1-c1 to %s-r%d-c%d", p.Plane, p.Plane, g.Rows, g.Columns)})
			return false
		}
	}
	return true
}

// sums checks that the known segments of a run make up its length.
func (c *checker) sums() {
	for i := range c.doc.Runs {
		r := &c.doc.Runs[i]
		sum, known := quantity.Feet(0), r.Length.Known && len(r.Segments) > 0
		for _, s := range r.Segments {
			sum, known = sum+s.Length.Value, known && s.Length.Known
		}
		if known && quantity.Compare(float64(sum), float64(r.Length.Value)) != 0 {
			c.fault(fmt.Sprintf("runs[%d].length", i), where.Error{
				Came:     "the run is " + quantity.Show(r.Length.Value, quantity.US) + " long, its segments " + quantity.Show(sum, quantity.US),
				Expected: "segments that add up to the length",
			})
		}
	}
}

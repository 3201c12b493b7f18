package job

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"legwork/where"
)

// ServiceEnd is the id that stands for the service conductors between the
// meter and the main: a supply-side output run ends there, a CT may sit there.
const ServiceEnd = "service"

// checker holds a document against itself: ids, references, positions, sums.
// Whether the code allows what it says is no matter of this package.
type checker struct {
	file   string
	root   *yaml.Node
	doc    *Document
	errs   where.Errors
	planes map[string]*Plane
}

// check finds what no single key can show. It runs on a document that decoded
// without a fault.
func check(file string, root *yaml.Node, doc *Document) where.Errors {
	c := &checker{file: file, root: root, doc: doc, planes: map[string]*Plane{}}
	for i := range doc.Planes {
		c.planes[doc.Planes[i].ID] = &doc.Planes[i]
	}
	c.ids()
	c.references()
	c.decisionReferences()
	c.spaces()
	c.positions()
	c.sums()
	return c.errs
}

func (c *checker) fault(path string, e where.Error) {
	e.Path, e.File = path, c.file
	if n := at(c.root, path); n != nil {
		e.Line, e.Col = n.Line, n.Column
	}
	c.errs = append(c.errs, e)
}

// at walks a path such as runs[0].segments[1].length; nil when nothing is there.
func at(n *yaml.Node, path string) *yaml.Node {
	for _, step := range steps(path) {
		if i, ok := step.index(); ok {
			if n == nil || n.Kind != yaml.SequenceNode || i >= len(n.Content) {
				return nil
			}
			n = n.Content[i]
		} else {
			n = child(n, string(step))
		}
	}
	return n
}

// step is one part of a path: a key, or an index in brackets.
type step string

func (s step) index() (int, bool) {
	inner, ok := strings.CutPrefix(string(s), "[")
	if !ok {
		return 0, false
	}
	i, err := strconv.Atoi(strings.TrimSuffix(inner, "]"))
	return i, err == nil && i >= 0
}

func steps(path string) []step {
	var out []step
	for _, part := range strings.Split(strings.ReplaceAll(path, "[", ".["), ".") {
		if part != "" {
			out = append(out, step(part))
		}
	}
	return out
}

// idForm keeps ids usable in paths (MP/bus), positions and file names.
var idForm = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9_.-]{0,39}$`)

// idsOf lists the ids of one kind.
func idsOf[T any](list []T, id func(*T) string) []string {
	out := make([]string, len(list))
	for i := range list {
		out[i] = id(&list[i])
	}
	return out
}

func (c *checker) ids() {
	d := c.doc
	// Ends of runs share one name space: a run's end names any of them.
	ends := map[string]string{ServiceEnd: "reserved for the service conductors"}
	c.unique("panels", d.panelIDs(), ends)
	c.unique("junction_boxes", d.boxIDs(), ends)
	c.unique("combiners", d.combinerIDs(), ends)
	c.unique("disconnects", d.disconnectIDs(), ends)
	c.unique("sources", idsOf(d.Sources, func(s *Source) string { return s.ID }), ends)
	c.unique("planes", d.planeIDs(), nil)
	c.unique("runs", d.runIDs(), nil)
	c.unique("site.amendments", idsOf(d.Site.Amendments, func(a *Amendment) string { return a.ID }), nil)
	c.unique("equipment.modules", idsOf(d.Equipment.Modules, func(m *Module) string { return m.ID }), nil)
	c.unique("equipment.inverters", idsOf(d.Equipment.Inverters, func(v *Inverter) string { return v.ID }), nil)
	c.unique("equipment.trunks", idsOf(d.Equipment.Trunks, func(t *Trunk) string { return t.ID }), nil)
	c.unique("equipment.combiners", idsOf(d.Equipment.Combiners, func(t *CombinerType) string { return t.ID }), nil)
	c.unique("equipment.terminations", idsOf(d.Equipment.Terminations, func(t *Termination) string { return t.ID }), nil)
	c.unique("meter.channels", idsOf(d.Meter.Channels, func(ch *Channel) string { return ch.ID }), nil)
	c.unique("decisions.branches", idsOf(d.Decisions.Branches, func(b *Branch) string { return b.ID }), nil)
	c.unique("decisions.connections", idsOf(d.Decisions.Connections, func(o *Connection) string { return o.ID }), nil)
	for i := range d.Planes {
		c.unique(fmt.Sprintf("planes[%d].obstructions", i), idsOf(d.Planes[i].Obstructions, func(o *Obstruction) string { return o.ID }), nil)
	}
	for i, id := range d.planeIDs() {
		if isBranchID(id) || planeLike.MatchString(id) {
			c.fault(fmt.Sprintf("planes[%d].id", i), where.Error{Came: strconv.Quote(id), Expected: "a name that cannot be taken for a branch or a position", Try: "call it S, E, W, N or porch"})
		}
	}
	for i := range d.Decisions.Branches {
		if id := d.Decisions.Branches[i].ID; !isBranchID(id) {
			c.fault(fmt.Sprintf("decisions.branches[%d].id", i), where.Error{Came: strconv.Quote(id), Expected: "one capital letter, but not N, E, S or W, which name planes"})
		}
	}
}

// planeLike is a plane's name that a position could not be read with.
var planeLike = regexp.MustCompile(`-r\d+(-c\d+)?$`)

// isBranchID: branches are single capital letters; the four points of the
// compass are left to planes.
func isBranchID(id string) bool {
	return len(id) == 1 && id >= "A" && id <= "Z" && !strings.Contains("NESW", id)
}

// unique checks the form of the ids of a list and that none stands twice, in the
// list or in others that share the names taken.
func (c *checker) unique(list string, ids []string, taken map[string]string) {
	if taken == nil {
		taken = map[string]string{}
	}
	for i, id := range ids {
		path := fmt.Sprintf("%s[%d].id", list, i)
		switch {
		case !idForm.MatchString(id):
			c.fault(path, where.Error{Came: strconv.Quote(shorten(id)), Expected: "an id of letters, digits, _ . and -, 40 at most"})
		case taken[id] != "":
			c.fault(path, where.Error{Came: fmt.Sprintf("id %q is taken", id), Expected: "each id once", Try: "the other is " + taken[id]})
		default:
			taken[id] = strings.TrimSuffix(path, ".id")
		}
	}
}

func (d *Document) panelIDs() []string { return idsOf(d.Panels, func(p *Panel) string { return p.ID }) }
func (d *Document) boxIDs() []string {
	return idsOf(d.JunctionBoxes, func(j *JunctionBox) string { return j.ID })
}
func (d *Document) combinerIDs() []string {
	return idsOf(d.Combiners, func(c *Combiner) string { return c.ID })
}
func (d *Document) disconnectIDs() []string {
	return idsOf(d.Disconnects, func(s *Disconnect) string { return s.ID })
}
func (d *Document) planeIDs() []string { return idsOf(d.Planes, func(p *Plane) string { return p.ID }) }
func (d *Document) runIDs() []string   { return idsOf(d.Runs, func(r *Run) string { return r.ID }) }

// refer checks that a reference names something that exists.
func (c *checker) refer(path, id, kind string, lists ...[]string) {
	there := slices.Concat(lists...)
	if slices.Contains(there, id) {
		return
	}
	e := where.Error{Came: fmt.Sprintf("no %s %q", kind, shorten(id)), Expected: "none can be named: the document has none"}
	if len(there) > 0 {
		e.Expected = "one of " + some(there)
	}
	c.fault(path, e)
}

// some lists what there is, cut short where nobody would read on.
func some(list []string) string {
	const most = 20
	if len(list) > most {
		return strings.Join(list[:most], ", ") + fmt.Sprintf(" and %d more", len(list)-most)
	}
	return strings.Join(list, ", ")
}

func (c *checker) references() {
	d := c.doc
	modules := idsOf(d.Equipment.Modules, func(m *Module) string { return m.ID })
	inverters := idsOf(d.Equipment.Inverters, func(v *Inverter) string { return v.ID })
	trunks := idsOf(d.Equipment.Trunks, func(t *Trunk) string { return t.ID })
	types := idsOf(d.Equipment.Combiners, func(t *CombinerType) string { return t.ID })
	sources := idsOf(d.Sources, func(s *Source) string { return s.ID })
	c.refer("service.panel", d.Service.Panel, "panel", d.panelIDs())
	for i := range d.Panels {
		if f := d.Panels[i].FedFrom; f != nil {
			path := fmt.Sprintf("panels[%d].fed_from", i)
			c.refer(path+".panel", f.Panel, "panel", d.panelIDs())
			c.refer(path+".run", f.Run, "run", d.runIDs())
		}
	}
	c.feeders()
	for i := range d.Sources {
		c.refer(fmt.Sprintf("sources[%d].panel", i), d.Sources[i].Panel, "panel", d.panelIDs())
	}
	for i := range d.Equipment.Inverters {
		c.refer(fmt.Sprintf("equipment.inverters[%d].trunk", i), d.Equipment.Inverters[i].Trunk, "trunk cable", trunks)
	}
	for i := range d.Planes {
		c.refer(fmt.Sprintf("planes[%d].module", i), d.Planes[i].Module, "module", modules)
		c.refer(fmt.Sprintf("planes[%d].inverter", i), d.Planes[i].Inverter, "inverter", inverters)
	}
	for i := range d.Combiners {
		c.refer(fmt.Sprintf("combiners[%d].type", i), d.Combiners[i].Type, "combiner model", types)
	}
	places := slices.Concat(d.boxIDs(), d.combinerIDs(), d.disconnectIDs(), d.panelIDs(), sources, []string{ServiceEnd})
	for i := range d.Runs {
		c.refer(fmt.Sprintf("runs[%d].from", i), d.Runs[i].From, "place", places)
		c.refer(fmt.Sprintf("runs[%d].to", i), d.Runs[i].To, "place", places)
	}
	for i := range d.Meter.Channels {
		if a := d.Meter.Channels[i].Around; a.Known {
			c.refer(fmt.Sprintf("meter.channels[%d].around", i), a.Value, "run or panel", d.runIDs(), d.panelIDs(), []string{ServiceEnd})
		}
	}
}

// feeders refuses a panel that is fed from itself, over whatever way round.
func (c *checker) feeders() {
	for i := range c.doc.Panels {
		p := &c.doc.Panels[i]
		for range c.doc.Panels {
			if p == nil || p.FedFrom == nil {
				break
			}
			p = c.doc.panel(p.FedFrom.Panel)
		}
		if p != nil && p.FedFrom != nil {
			c.fault(fmt.Sprintf("panels[%d].fed_from.panel", i), where.Error{Came: "a panel fed from itself", Expected: "feeders that lead to the service"})
		}
	}
}

func (c *checker) decisionReferences() {
	d := c.doc
	for i := range d.Decisions.Branches {
		b, path := &d.Decisions.Branches[i], fmt.Sprintf("decisions.branches[%d]", i)
		c.refer(path+".from", b.From, "junction box", d.boxIDs())
		c.refer(path+".lands", b.Lands, "combiner or panel", d.combinerIDs(), d.panelIDs())
	}
	decided := map[string]bool{}
	for i := range d.Decisions.Runs {
		r, path := &d.Decisions.Runs[i], fmt.Sprintf("decisions.runs[%d].run", i)
		c.refer(path, r.Run, "run", d.runIDs())
		if decided[r.Run] {
			c.fault(path, where.Error{Came: fmt.Sprintf("run %q is decided twice", r.Run), Expected: "each run once"})
		}
		decided[r.Run] = true
	}
	for i := range d.Decisions.Connections {
		o, path := &d.Decisions.Connections[i], fmt.Sprintf("decisions.connections[%d]", i)
		c.refer(path+".from", o.From, "combiner or panel", d.combinerIDs(), d.panelIDs())
		c.refer(path+".run", o.Run, "run", d.runIDs())
		if o.Kind == SupplySide {
			if o.Disconnect != "" {
				c.refer(path+".disconnect", o.Disconnect, "disconnect", d.disconnectIDs())
			}
		} else {
			c.refer(path+".panel", o.Panel, "panel", d.panelIDs())
		}
	}
	for i := range d.Decisions.Moves {
		m, path := &d.Decisions.Moves[i], fmt.Sprintf("decisions.moves[%d]", i)
		c.refer(path+".panel", m.Panel, "panel", d.panelIDs())
		if p := d.panel(m.Panel); p != nil && !p.holds(m.From) {
			c.fault(path+".from", where.Error{Came: fmt.Sprintf("no breaker in spaces %v of %s", m.From, m.Panel), Expected: "the spaces of an existing breaker"})
		}
	}
	changed := map[string]bool{}
	for i := range d.Decisions.Panels {
		id, path := d.Decisions.Panels[i].Panel, fmt.Sprintf("decisions.panels[%d].panel", i)
		c.refer(path, id, "panel", d.panelIDs())
		if changed[id] {
			c.fault(path, where.Error{Came: fmt.Sprintf("panel %q is decided twice", id), Expected: "each panel once"})
		}
		changed[id] = true
	}
	c.unique("decisions.controls", idsOf(d.Decisions.Controls, func(o *Control) string { return o.ID }), nil)
	for i := range d.Decisions.Controls {
		for k, id := range d.Decisions.Controls[i].Monitors {
			c.refer(fmt.Sprintf("decisions.controls[%d].monitors[%d]", i, k), id, "panel", d.panelIDs())
		}
	}
}

func (d *Document) panel(id string) *Panel {
	for i := range d.Panels {
		if d.Panels[i].ID == id {
			return &d.Panels[i]
		}
	}
	return nil
}

func (p *Panel) holds(spaces []int) bool {
	return slices.ContainsFunc(p.Breakers, func(b Breaker) bool { return slices.Equal(b.Spaces, spaces) })
}

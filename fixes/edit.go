package fixes

import (
	"slices"

	"legwork/job"
	"legwork/site"
	"legwork/working"
)

// Edit is one thing that an electrician would change.
type Edit struct {
	Title   string
	Slot    string   // what it settles; two edits of one slot exclude each other
	Touches []string // places
	Takes   []Take
	// Apply writes the edit into a copy of the job that shares nothing it writes.
	Apply func(*Draft)
}

// Take is an amount of a work of the table.
type Take struct {
	Work  string
	Count float64
}

// Draft is a copy of a job that edits may write into.
type Draft struct {
	Doc       *job.Document
	Decisions *job.Decisions
}

// Way proposes edits of one kind for what stops a plan.
type Way struct {
	Name    string
	Propose func(*Case) []Edit
}

// Case is a plan with its stops.
type Case struct {
	Doc       *job.Document
	Decisions job.Decisions
	Plant     *site.Plant
	Edition   working.Edition
	Stops     []working.Finding
	judge     func(...Edit) []working.Finding // the stops that edits leave
}

// stopsBy lists the stops of some rules.
func (c *Case) stopsBy(rules ...string) []working.Finding {
	var out []working.Finding
	for _, f := range c.Stops {
		if slices.Contains(rules, f.Rule) {
			out = append(out, f)
		}
	}
	return out
}

// left counts the stops of the rules that edits leave.
func (c *Case) left(rules []string, edits ...Edit) int {
	n := 0
	for _, f := range c.judge(edits...) {
		if slices.Contains(rules, f.Rule) {
			n++
		}
	}
	return n
}

// helps reports whether edits leave fewer stops of the rules than there are.
func (c *Case) helps(rules []string, edits ...Edit) bool {
	return c.left(rules, edits...) < len(c.stopsBy(rules...))
}

// Ways lists the ways in the order in which they are tried. It is the registry:
// a new way is a file and a line here.
func Ways() []Way {
	return []Way{
		{"move a breaker", moveBreaker},
		{"another breaker", otherBreaker},
		{"fewer units", fewerUnits},
		{"sum of breakers", sumOfBreakers},
		{"smaller main", smallerMain},
		{"raise the raceway", raiseRaceway},
		{"another insulation", otherInsulation},
		{"larger wire", largerWire},
		{"larger ground", largerGround},
		{"larger raceway", largerRaceway},
		{"power control", powerControl},
		{"supply side", supplySide},
		{"new panel", newPanel},
	}
}

// draft copies a job as far as edits write into it.
func draft(doc *job.Document, dec job.Decisions) *Draft {
	d := *doc
	d.Runs = slices.Clone(d.Runs)
	for i := range d.Runs {
		d.Runs[i].Segments = slices.Clone(d.Runs[i].Segments)
		if c := d.Runs[i].Conductors; c != nil {
			copied := *c
			d.Runs[i].Conductors = &copied
		}
	}
	d.Disconnects = slices.Clone(d.Disconnects)
	dec.Branches = slices.Clone(dec.Branches)
	dec.Runs = slices.Clone(dec.Runs)
	dec.Connections = slices.Clone(dec.Connections)
	dec.Moves = slices.Clone(dec.Moves)
	dec.Panels = slices.Clone(dec.Panels)
	dec.Controls = slices.Clone(dec.Controls)
	return &Draft{Doc: &d, Decisions: &dec}
}

// panel is the panel's change, added where there is none yet.
func (d *Draft) panel(id string) *job.PanelChange {
	for i := range d.Decisions.Panels {
		if d.Decisions.Panels[i].Panel == id {
			return &d.Decisions.Panels[i]
		}
	}
	d.Decisions.Panels = append(d.Decisions.Panels, job.PanelChange{Panel: id, Decided: job.Decided{By: job.Tool}})
	return &d.Decisions.Panels[len(d.Decisions.Panels)-1]
}

// conductors are those of a run: decided, or there before.
func (d *Draft) conductors(run string) *job.Conductors {
	for i := range d.Decisions.Runs {
		if d.Decisions.Runs[i].Run == run {
			return &d.Decisions.Runs[i].Conductors
		}
	}
	for i := range d.Doc.Runs {
		if d.Doc.Runs[i].ID == run && d.Doc.Runs[i].Conductors != nil {
			return d.Doc.Runs[i].Conductors
		}
	}
	return nil
}

// connection is the connection of a run, nil where there is none.
func (d *Draft) connection(run string) *job.Connection {
	for i := range d.Decisions.Connections {
		if d.Decisions.Connections[i].Run == run {
			return &d.Decisions.Connections[i]
		}
	}
	return nil
}

func known[T any](v T) job.Fact[T] { return job.Fact[T]{Value: v, Known: true} }

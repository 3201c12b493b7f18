package sheets

import (
	"fmt"
	"slices"

	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/frame"
	"legwork/scene/symbol"
	"legwork/site"
)

// diagram is the one-line diagram while it is drawn.
type diagram struct {
	in    *Input
	g     scene.Group
	lay   *arranged
	rows  []conductor
	tags  map[string]string // schedule row by key
	area  scene.Rect
	grid  float64 // x of the service conductors
	notes []string
}

// besideDiagram is what service, schedule and notes need at its right.
const besideDiagram = scheduleWide + 4

func drawOneLine(in *Input) ([]*scene.Scene, error) {
	p := in.paper("E-601", []frame.Key{
		{Sign: frame.ExistingLine, Text: "existing"},
		{Sign: frame.NewLine, Text: "new, by this job"},
		{Sign: frame.OthersLine, Text: "by others"},
		{Sign: frame.TagSign, Text: "row of the schedule"},
		{Sign: frame.GivenMark, Text: "given by a person"},
		{Sign: frame.ChosenMark, Text: "chosen or worked out"},
		{Sign: frame.AssumedMark, Text: "assumed, confirm"},
		{Sign: frame.VerdictShapes},
	},
		"Service conductors stay live with the main off, also inside the grid CTs.",
		"A PV breaker is live from both sides. Units start again by themselves.",
	)
	page, room, err := p.next()
	if err != nil {
		return nil, err
	}
	d := &diagram{in: in, rows: in.schedule(), area: room.Drawing}
	d.tags = tagOf(d.rows)
	beside := true
	lay, err := arrange(in.Plant, d.area.X, d.area.Y, d.area.W-besideDiagram-6, d.area.H)
	if err != nil { // the schedule goes to a page of its own
		beside = false
		if lay, err = arrange(in.Plant, d.area.X, d.area.Y, d.area.W-72, d.area.H); err != nil {
			return nil, err
		}
	}
	d.lay = lay
	right := scene.Rect{X: d.area.X + lay.wide + 8, Y: d.area.Y, H: d.area.H}
	right.W = d.area.X + d.area.W - right.X
	top := d.area.Y
	if beside {
		if right.W > 178 {
			right.X += right.W - 178
			right.W = 178
		}
		t, end := drawSchedule(scene.Point{X: right.X, Y: top}, d.rows, right.W)
		d.g.Add(t)
		top = end + 7
	}
	d.grid = right.X + right.W - 64
	d.service(top)
	d.roof()
	for _, s := range lay.tiers {
		if s.depth > 0 {
			d.box(s)
		}
	}
	if lay.service != nil {
		d.servicePanel(lay.service)
	}
	d.g.Layer = "diagram"
	page.Add(d.g)
	d.disconnectNotes()
	if beside {
		page.Add(d.notesAt(scene.Point{X: right.X, Y: top}, d.grid-right.X-9, d.serviceTop()-top-4))
		return p.pages, nil
	}
	if page, room, err = p.next(); err != nil {
		return nil, err
	}
	t, end := drawSchedule(scene.Point{X: room.Drawing.X, Y: room.Drawing.Y}, d.rows, 200)
	page.Add(t, d.notesAt(scene.Point{X: room.Drawing.X, Y: end + 10}, 150, room.Drawing.Y+room.Drawing.H-end-10))
	return p.pages, nil
}

func (d *diagram) serviceTop() float64 {
	if d.lay.service == nil {
		return d.area.Y + d.area.H
	}
	return d.lay.service.top
}

// note asks for a fact on the sheet, once.
func (d *diagram) note(format string, args ...any) {
	if s := fmt.Sprintf(format, args...); !slices.Contains(d.notes, s) {
		d.notes = append(d.notes, s)
	}
}

// notesAt lists what is not known, as far as the room goes.
func (d *diagram) notesAt(at scene.Point, width, high float64) scene.Group {
	g := scene.Group{Layer: "notes"}
	if len(d.notes) == 0 {
		return g
	}
	bottom := at.Y + high
	g.Add(scene.Text{At: at.Plus(0, scene.Body), Value: "Notes", Size: scene.Body, Face: font.Bold})
	at.Y += scene.Body + 2.4 + scene.Note
	for i, n := range d.notes {
		rows := scene.Wrap(n, scene.Note, font.Regular, width-5)
		if at.Y+scene.Leading(scene.Note)*float64(len(rows)-1) > bottom-scene.Leading(scene.Note) && i+1 < len(d.notes) {
			g.Add(scene.Text{At: at, Value: fmt.Sprintf("and %d more, see sheet G-001", len(d.notes)-i), Size: scene.Note})
			break
		}
		g.Add(scene.Text{At: at, Value: fmt.Sprint(i + 1), Size: scene.Note, Face: font.Bold})
		t, next := lines(at.Plus(5, 0), rows, scene.Note, font.Regular)
		g.Add(t)
		at.Y = next + 0.8
	}
	return g
}

// pen is heavy for new work.
func pen(isNew bool) scene.Stroke {
	if isNew {
		return scene.New
	}
	return scene.Existing
}

func (d *diagram) wire(pen scene.Stroke, points ...scene.Point) {
	d.g.Add(scene.Polyline{Points: points, Stroke: pen})
}

func (d *diagram) down(pen scene.Stroke, x, from, to float64) {
	if to > from {
		d.g.Add(scene.Line{A: scene.Point{X: x, Y: from}, B: scene.Point{X: x, Y: to}, Stroke: pen})
	}
}

// label sets rows beside a symbol, the first one bold; the middle of the first
// row is at the height of at.
func (d *diagram) label(at scene.Point, width float64, first []scene.Piece, more ...string) {
	y := at.Y + scene.Note/2
	for _, line := range fold(first, width) {
		d.g.Add(scene.Pieces(scene.Point{X: at.X, Y: y}, scene.Note, scene.Start, line...))
		y += scene.Leading(scene.Note)
	}
	for _, m := range more {
		if m == "" {
			continue
		}
		t, next := lines(scene.Point{X: at.X, Y: y}, wrapped(m, scene.Note, font.Regular, width, 3), scene.Note, font.Regular)
		d.g.Add(t)
		y = next
	}
}

// tag sets the schedule's number on the conductor at x.
func (d *diagram) tag(key string, at scene.Point) {
	if n := d.tags[key]; n != "" {
		d.g.Add(symbol.Tag(at, n))
	}
}

// poles of a breaker: "2-pole"; "poles ?" while its spaces are not known.
func poles(b *site.Breaker) string {
	if b.Poles == 0 {
		return "poles ?"
	}
	return fmt.Sprintf("%d-pole", b.Poles)
}

// rated is a breaker's rating as pieces: name, rating with its mark.
func rated(name string, b *site.Breaker) []scene.Piece {
	return []scene.Piece{bold(name + " "), fig(b.Rating, font.Bold)}
}

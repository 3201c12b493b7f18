package sheets

import (
	"fmt"
	"slices"
	"strings"

	"legwork/job"
	"legwork/quantity"
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

// roof draws the branches down to the buses.
func (d *diagram) roof() {
	var columns []*column
	for _, s := range d.lay.tiers {
		columns = append(columns, s.columns...)
	}
	columns = append(columns, d.lay.loose...)
	for _, c := range columns {
		d.branch(c)
	}
	if len(columns) == 0 {
		d.undecided()
	}
	for _, s := range d.lay.tiers {
		d.homeRuns(s)
	}
	d.junctions(columns)
	for _, c := range d.lay.loose {
		d.down(scene.New, c.x, d.lay.junction, d.lay.junction+8)
		d.g.Add(scene.Text{At: scene.Point{X: c.x, Y: d.lay.junction + 12}, Value: "?", Size: scene.Heading, Face: font.Bold, Anchor: scene.Middle})
		d.note("branch %s lands on no bus yet: decide it, or let the plan choose", c.branch.ID)
	}
}

// undecided stands for branches that nobody has chosen.
func (d *diagram) undecided() {
	at := scene.Rect{X: d.area.X, Y: d.lay.roof + roofHigh - 11, W: 30, H: 11, Stroke: scene.New.With(scene.Dashed), Fill: scene.Paper}
	d.g.Add(at, scene.Text{At: at.Middle().Plus(0, scene.Heading/2), Value: "?", Size: scene.Heading, Face: font.Bold, Anchor: scene.Middle})
	d.label(scene.Point{X: at.X, Y: at.Y - 9}, 80, []scene.Piece{bold(unitsOf(d.in.Plant))}, "branches not chosen yet")
	d.note("branches are not chosen yet")
	x := d.area.X + lineIn
	d.down(scene.New, x, at.Y+at.H, d.lay.junction)
	for i, j := range d.in.Plant.Job.JunctionBoxes {
		d.junction(j.ID, d.area.X+float64(i)*(d.lay.pitch+2), d.lay.pitch)
	}
}

func (d *diagram) branch(c *column) {
	b := c.branch
	wide := d.lay.pitch - 4
	g := scene.Group{ID: b.ID}
	var models []string
	for _, m := range b.Groups() {
		models = append(models, fmt.Sprintf("%d × %s", m.Count, m.Inverter.ID))
	}
	var planes []string
	for _, u := range b.Units {
		if !slices.Contains(planes, u.Plane.ID) {
			planes = append(planes, u.Plane.ID)
		}
	}
	word := "plane "
	if len(planes) > 1 {
		word = "planes "
	}
	amps := "? A"
	if f := d.in.found("branch-current", b.ID); f != nil && f.Test != nil && f.Test.Left.Known() {
		amps = f.Test.Left.String()
	}
	y := d.lay.roof + scene.Note
	for i, row := range []string{join(", ", models...), word + strings.Join(planes, ", "), amps + ", " + string(b.Feed) + "-fed"} {
		face := font.Regular
		if i == 0 {
			face = font.Bold
		}
		g.Add(scene.Text{At: scene.Point{X: c.left, Y: y}, Value: wrapped(row, scene.Note, face, wide, 1)[0], Size: scene.Note, Face: face})
		y += scene.Leading(scene.Note)
	}
	sample := scene.Rect{X: c.left, Y: d.lay.roof + roofHigh - 11, W: min(wide, 32) - symbol.InverterSide, H: 10}
	inverter := scene.Point{X: sample.X + sample.W + symbol.InverterSide/2, Y: sample.Y + 5}
	g.Add(symbol.Swatch(sample, b.ID, d.in.letterOf(b), scene.New), symbol.Inverter(inverter, scene.New))
	d.g.Add(g)
	d.down(scene.New, c.x, sample.Y+sample.H, d.lay.junction)
	if len(b.Units) > 0 && b.Units[0].Inverter.Trunk != nil {
		d.tag("trunk "+b.Units[0].Inverter.Trunk.ID, scene.Point{X: c.x, Y: (sample.Y + sample.H + d.lay.junction) / 2})
	}
}

// junctions draws the boxes over the conductors that enter them.
func (d *diagram) junctions(columns []*column) {
	var ids []string
	at := map[string][2]float64{}
	for _, c := range columns {
		id := c.branch.From
		span, seen := at[id]
		if !seen {
			ids = append(ids, id)
			span = [2]float64{c.left, c.left}
		}
		at[id] = [2]float64{min(span[0], c.left), max(span[1], c.left+d.lay.pitch-4)}
	}
	for _, id := range ids {
		d.junction(id, at[id][0], at[id][1]-at[id][0])
	}
}

// junction draws one box with its name.
func (d *diagram) junction(id string, x, wide float64) {
	name := "junction box ?"
	for _, j := range d.in.Plant.Job.JunctionBoxes {
		if j.ID == id {
			name = nameOr(j.Name.Value, id)
		}
	}
	r := scene.Rect{X: x, Y: d.lay.junction, W: wide, H: boxHigh, Stroke: scene.New, Fill: scene.Paper}
	g := scene.Group{ID: id}
	g.Add(r, symbol.JunctionBox(scene.Point{X: r.X + 3.5, Y: r.Y + r.H/2}, scene.Fine),
		scene.Text{At: scene.Point{X: r.X + 9, Y: r.Y + r.H/2 + scene.Note/2}, Size: scene.Note,
			Value: wrapped(name, scene.Note, font.Regular, r.W-11, 1)[0]})
	d.g.Add(g)
}

// homeRuns draws the conductors from the junction box to the stand's breakers:
// those of one raceway side by side, then each to its own.
func (d *diagram) homeRuns(s *stand) {
	from := d.lay.junction + boxHigh
	breaker := s.bar - breakerHigh + symbol.Reach
	for i := 0; i < len(s.columns); {
		j := i + 1
		for j < len(s.columns) && s.columns[j].branch.Run == s.columns[i].branch.Run {
			j++
		}
		same := s.columns[i:j]
		n := len(same)
		for k, c := range same {
			x := same[0].x + strand*float64(k)
			turn := s.top + titleHigh + strand*float64(n-1-k)
			if k == 0 {
				d.down(scene.New, x, from, breaker-symbol.Reach)
			} else {
				d.wire(scene.New, scene.Point{X: x, Y: from}, scene.Point{X: x, Y: turn}, scene.Point{X: c.x, Y: turn}, scene.Point{X: c.x, Y: breaker - symbol.Reach})
			}
			b := c.branch.Breaker
			d.g.Add(symbol.Breaker(scene.Point{X: c.x, Y: breaker}, scene.New))
			space := ""
			if len(b.Spaces) > 0 {
				space = "spaces " + b.SpaceList()
			}
			d.label(scene.Point{X: c.x + 4, Y: breaker - 1.6}, d.lay.pitch-6, rated(c.branch.ID, b), join(", ", poles(b), space))
		}
		if r := same[0].branch.Run; r != nil {
			x := same[0].x + strand*float64(n-1)
			y := from + (s.top-from)/2
			d.tag("run "+r.ID, scene.Point{X: x + 5.5, Y: y})
			rest := same[n-1].left + d.lay.pitch - (x + 10)
			if j == len(s.columns) {
				rest = s.x + s.w - (x + 12)
			}
			d.label(scene.Point{X: x + 10, Y: y - 2.2}, rest, []scene.Piece{say(clip(r.Name, 40) + ", "), shown(d.in, r.Length, font.Regular)}, warmest(r))
		} else {
			d.note("home run of branch %s is not in the document", same[0].branch.ID)
		}
		i = j
	}
}

// warmest names the hottest stretch of a run.
func warmest(r *site.Run) string {
	var hot *site.Segment
	for _, s := range r.Segments {
		if !s.Ambient.Known {
			return "air temperature ?"
		}
		if hot == nil || s.Ambient.Value > hot.Ambient.Value {
			hot = s
		}
	}
	if hot == nil {
		return ""
	}
	return fmt.Sprintf("hottest stretch: %s, %s", hot.Where, hot.Ambient)
}

// frameOf draws a box of the diagram with its name in the widest gap between
// the conductors that enter it.
func (d *diagram) frameOf(s *stand, w float64, enter []float64) {
	g := scene.Group{ID: s.bus.ID}
	g.Add(scene.Rect{X: s.x, Y: s.top, W: w, H: s.h, Stroke: pen(s.bus.New)})
	slices.Sort(enter)
	edges := append(append([]float64{s.x}, enter...), s.x+w)
	left, most := s.x, 0.0
	for i := 1; i < len(edges); i++ {
		if gap := edges[i] - edges[i-1]; gap > most {
			left, most = edges[i-1], gap
		}
	}
	left, most = left+4, most-8
	state := "existing"
	if s.bus.New {
		state = "new"
	}
	name := upper(clip(busName(s.bus), 80)) + ", " + state
	if s.bus.Building != "" {
		name += ", " + clip(s.bus.Building, 40)
	}
	size, _ := scene.FitText(name, scene.Body, font.Bold, most)
	g.Add(scene.Text{At: scene.Point{X: left, Y: s.top + 2 + scene.Body}, Value: wrapped(name, size, font.Bold, most, 1)[0], Size: size, Face: font.Bold})
	d.g.Add(g)
	about := []scene.Piece{say("bus "), fig(s.bus.Rating, font.Regular)}
	if !s.bus.HasMain {
		about = append(about, say(", main lugs"))
	}
	if s.bus.Kind == site.PanelBus {
		about = append(about, say(", "), fig(s.bus.Spaces, font.Regular), say(" spaces"))
	}
	about = append(about, say(", "), shown(d.in, s.bus.Interrupting, font.Regular), say(" interrupting"))
	if !s.bus.Interrupting.Known {
		d.note("interrupting rating of the breakers in the %s is ?: %s", clip(busName(s.bus), 40), s.bus.Interrupting.Ask.Find)
	}
	if folded := fold(about, most); len(folded) > 0 {
		d.g.Add(scene.Pieces(scene.Point{X: left, Y: s.top + 2 + scene.Body + 4.4}, scene.Note, scene.Start, folded[0]...))
	}
}

// entering are the x of the conductors that enter a stand from above.
func (s *stand) entering() []float64 {
	var out []float64
	for _, f := range s.feeders {
		out = append(out, f.out())
	}
	for i := 0; i < len(s.columns); i++ {
		first := s.columns[i]
		k := 0
		for i+1 < len(s.columns) && s.columns[i+1].branch.Run == first.branch.Run {
			i++
			k++
		}
		out = append(out, first.x, first.x+strand*float64(k))
	}
	return out
}

// box draws a combiner or a subpanel, and its way on.
func (d *diagram) box(s *stand) {
	d.frameOf(s, s.w, s.entering())
	b := s.bus
	heavy := pen(b.New)
	d.g.Add(symbol.Busbar(scene.Point{X: s.x + 4, Y: s.bar}, scene.Point{X: s.x + s.w - 4, Y: s.bar}))
	d.entries(s)
	x, y := s.out(), s.bar
	if b.HasMain {
		c := scene.Point{X: x, Y: y + symbol.Reach + 0.6}
		d.g.Add(symbol.Breaker(c, heavy))
		d.label(c.Plus(4, 0), 40, []scene.Piece{bold("main "), fig(b.Main, font.Bold), say(", 2-pole")})
		y += 2*symbol.Reach + 0.6
	}
	d.ctsOf(b.Up, x, s.top+s.h-6.5)
	d.down(d.way(b), x, y, s.top+s.h)
	left := s.x + 50
	d.arithmetic(s, scene.Point{X: left, Y: s.bar + 4.4}, s.x+s.w-34-left)
	d.below(s, scene.Point{X: s.x + s.w - 28, Y: s.bar})
	bars := scene.Point{X: left, Y: s.top + s.h - 4}
	if s.w > 140 {
		thick := scene.Stroke{Width: 1, Color: scene.Ink}
		d.g.Add(scene.Line{A: bars, B: bars.Plus(7, 0), Stroke: thick}, scene.Text{At: bars.Plus(9, 1.2), Value: "neutral bar, not bonded here", Size: scene.Note},
			scene.Line{A: bars.Plus(52, 0), B: bars.Plus(59, 0), Stroke: thick}, scene.Text{At: bars.Plus(61, 1.2), Value: "ground bar", Size: scene.Note})
	}
	d.onward(s)
}

// way is the pen of the circuit towards the service.
func (d *diagram) way(b *site.Bus) scene.Stroke {
	return pen(b.Up == nil || b.Up.Run == nil || !b.Up.Run.Existing)
}

// entries draws the breakers through which other buses feed a stand.
func (d *diagram) entries(s *stand) {
	for i, f := range s.feeders {
		device := f.bus.Up.Device
		c := scene.Point{X: f.out(), Y: s.bar - breakerHigh + symbol.Reach}
		d.g.Add(symbol.Breaker(c, pen(device.New)))
		d.down(d.way(f.bus), c.X, s.top, c.Y-symbol.Reach)
		d.down(pen(device.New), c.X, c.Y+symbol.Reach, s.bar)
		room := s.w - (c.X - s.x) - 6
		if i+1 < len(s.feeders) {
			room = s.feeders[i+1].out() - c.X - 6
		}
		state := ""
		if device.Moved {
			state = "moved"
		} else if !device.New {
			state = "existing"
		}
		where := "spaces ?"
		if len(device.Spaces) > 0 {
			where = "spaces " + device.SpaceList()
		}
		if f := d.in.found("busbar-end", s.bus.ID+"/"+device.Place()); f != nil && f.Test != nil && f.Test.Left.Known() {
			where += ", " + f.Test.Left.String()
		}
		d.label(c.Plus(4, -1.6), min(room, 96), rated(clip(device.Name, 30), device), join(", ", poles(device), where, state))
	}
	for _, c := range s.columns {
		d.down(scene.New, c.x, s.bar-breakerHigh+2*symbol.Reach, s.bar)
	}
}

// below draws what hangs on a combiner's or subpanel's bus: the gateway's
// breaker, or the breakers that are there.
func (d *diagram) below(s *stand, at scene.Point) {
	if g := s.bus.Gateway; g != nil {
		c := at.Plus(0, symbol.Reach)
		d.g.Add(symbol.Breaker(c, scene.New), scene.Rect{X: at.X - 4, Y: at.Y + 2*symbol.Reach, W: 27, H: 5, Stroke: scene.Existing, Fill: scene.Paper},
			scene.Text{At: at.Plus(9.5, 2*symbol.Reach+2.5+scene.Note/2), Value: "meter, gateway", Size: scene.Note, Anchor: scene.Middle})
		d.label(c.Plus(4, -1), 22, []scene.Piece{fig(g.Rating, font.Bold), say(" " + poles(g))})
		return
	}
	if names := loads(s.bus); len(names) > 0 {
		t, _ := lines(scene.Point{X: at.X - 6, Y: at.Y + 4.4}, wrapped("existing "+summed(names), scene.Note, font.Regular, 32, 4), scene.Note, font.Regular)
		d.g.Add(t)
	}
}

// loads are the breakers that were there and feed no bus of the diagram.
func loads(b *site.Bus) []*site.Breaker {
	var out []*site.Breaker
	for _, d := range b.Breakers {
		if d.Branch == nil && d.Carries == nil && d != b.Gateway && !d.New {
			out = append(out, d)
		}
	}
	return out
}

// summed words breakers by rating: "existing: 3 × 20 A 1-pole, 15 A 1-pole".
func summed(list []*site.Breaker) string {
	var kinds []string
	count := map[string]int{}
	for _, b := range list {
		k := strings.ReplaceAll(b.Rating.String()+" "+poles(b), " ", noBreak)
		if count[k]++; count[k] == 1 {
			kinds = append(kinds, k)
		}
	}
	for i, k := range kinds {
		kinds[i] = fmt.Sprint(count[k]) + noBreak + "×" + noBreak + k
	}
	return strings.Join(kinds, ", ")
}

// arithmetic writes the busbar's sum beside the bus, with its verdict.
func (d *diagram) arithmetic(s *stand, at scene.Point, width float64) {
	for i := range d.in.Findings {
		f := &d.in.Findings[i]
		if f.Place != s.bus.ID+"/bus" || !strings.HasPrefix(f.Rule, "busbar-") || f.Test == nil || f.NotCovered {
			continue
		}
		d.g.Add(symbol.Verdict(at.Plus(1.6, -scene.Note/2), 1.7, f.Verdict))
		said := sum(f, f.Test.Left) + " " + f.Test.Relation() + " " + sum(f, f.Test.Right)
		rows := scene.Wrap(said, scene.Note, font.Bold, width-5)
		t, y := lines(at.Plus(5, 0), rows, scene.Note, font.Bold)
		d.g.Add(t)
		t, at.Y = lines(scene.Point{X: at.X + 5, Y: y}, scene.Wrap(join(", ", f.Test.Spare(), f.Clause), scene.Note, font.Regular, width-5), scene.Note, font.Regular)
		d.g.Add(t)
	}
}

// ctsOf draws the CTs around the run by which a bus is tied.
func (d *diagram) ctsOf(tie *site.Tie, x, y float64) {
	if tie != nil && tie.Run != nil {
		d.cts(tie.Run.ID, x, y, "to the panel", 38)
	}
}

// cts draws the CTs that are meant to sit around a run or a panel's supply. An
// arrow that the document does not give is drawn as the meter counts positive,
// and marked as assumed.
func (d *diagram) cts(around string, x, y float64, way string, width float64) {
	var names []string
	arrow, said := "", true
	for _, c := range d.in.Plant.Job.Meter.Channels {
		if !c.Around.Known || c.Around.Value != around {
			continue
		}
		leg := "leg ?"
		if c.Leg.Known {
			leg = c.Leg.Value
		}
		names = append(names, c.ID+" on "+leg)
		said = said && c.Arrow.Known
		arrow = c.Arrow.Value
	}
	if len(names) == 0 {
		return
	}
	d.g.Add(symbol.CT(scene.Point{X: x, Y: y}, scene.New))
	piece := scene.Piece{Value: "arrow " + arrow, Mark: scene.Given}
	if !said {
		piece = scene.Piece{Value: "arrow " + way, Mark: scene.Assumed}
		d.note("direction of the CT arrows is ?: drawn as positive is counted, production when generating, grid when importing; confirm with readings")
	}
	d.label(scene.Point{X: x + 5, Y: y - 2}, width, []scene.Piece{say("CT " + strings.Join(names, ", "))})
	d.g.Add(scene.Pieces(scene.Point{X: x + 5, Y: y - 2 + scene.Note/2 + scene.Leading(scene.Note)}, scene.Note, scene.Start, piece))
}

// onward draws the way from a box to the next bus or to the tap.
func (d *diagram) onward(s *stand) {
	b, x, from := s.bus, s.out(), s.top+s.h
	switch {
	case b.Up == nil:
		d.down(scene.New.With(scene.Dashed), x, from, from+7)
		d.g.Add(scene.Text{At: scene.Point{X: x, Y: from + 11}, Value: "?", Size: scene.Heading, Face: font.Bold, Anchor: scene.Middle})
		d.label(scene.Point{X: x + 6, Y: from + 8}, 70, []scene.Piece{say("point of connection not decided")})
		d.note("point of connection of the %s is not decided", clip(busName(b), 40))
	case b.Up.Supply != nil:
		d.runLabel(b.Up.Run, x, from+7, s.w)
		d.tap(s, from)
	default:
		to := d.stand(b.Up.To)
		d.runLabel(b.Up.Run, x, from+(to.top-from)/2, s.w)
		d.down(d.way(b), x, from, to.top)
	}
}

func (d *diagram) stand(b *site.Bus) *stand {
	for _, s := range d.lay.tiers {
		if s.bus == b {
			return s
		}
	}
	return nil
}

// runLabel tags a run and says its length and what it carries.
func (d *diagram) runLabel(r *site.Run, x, y, width float64) {
	d.tag("run "+r.ID, scene.Point{X: x + 6, Y: y})
	carries := ""
	if f := d.in.found("conductor-carries", r.ID); f != nil && f.Test != nil && f.Test.Right.Known() {
		carries = "carries " + f.Test.Right.String()
		if t := d.in.found("terminals", r.ID); t != nil && t.Test != nil && t.Test.Right.Known() {
			carries += ", × 1.25 = " + t.Test.Right.String()
		}
	}
	d.label(scene.Point{X: x + 11, Y: y - 2.2}, min(width-22, 90), []scene.Piece{say(clip(r.Name, 40) + ", "), shown(d.in, r.Length, font.Regular)}, carries)
}

// tap draws the fused disconnect and the tap ahead of the main.
func (d *diagram) tap(s *stand, from float64) {
	tie, x := s.bus.Up, s.out()
	box := scene.Rect{X: s.x, Y: from + 14, W: min(s.w, 96), H: 25, Stroke: scene.New}
	d.down(scene.New, x, from, box.Y+1.6)
	c := scene.Point{X: x, Y: box.Y + 1.6 + symbol.Reach}
	d.g.Add(box, symbol.Switch(c, scene.New), symbol.Fuse(c.Plus(0, 2*symbol.Reach), scene.New))
	name, about, rating := "PV disconnect ?", "", scene.Piece{Value: "?", Face: font.Bold}
	if k := tie.Supply.Disconnect; k != nil {
		name = clip(nameOr(k.Name.Value, k.ID), 40)
		rating = scene.Piece{Value: d.amps(k.Rating), Face: font.Bold, Mark: given(k.Rating.Known)}
		rated := ""
		if k.ServiceRated.Known && k.ServiceRated.Value {
			rated = "service rated"
		}
		start := ""
		if k.Initiator.Known && k.Initiator.Value {
			start = "starts rapid shutdown"
		}
		about = join(", ", d.amps(k.Interrupting)+" interrupting", rated, start)
	} else {
		d.note("fused disconnect of the supply-side connection is not in the document")
	}
	d.label(scene.Point{X: x + 7, Y: box.Y + 4}, box.W-lineIn-10, []scene.Piece{bold(name + " "), rating, bold(", new")},
		about)
	d.label(scene.Point{X: x + 7, Y: c.Y + 2*symbol.Reach - 3}, 34, []scene.Piece{bold("fuses "), fig(tie.Device.Rating, font.Bold), say(", 2-pole")})
	neutral := scene.Point{X: box.X + box.W - 30, Y: box.Y + box.H - 12}
	d.bond(neutral, scene.New)
	y := box.Y + box.H + 4
	d.wire(scene.New, scene.Point{X: x, Y: c.Y + 3*symbol.Reach}, scene.Point{X: x, Y: y}, scene.Point{X: d.grid, Y: y})
	d.g.Add(symbol.Joint(scene.Point{X: d.grid, Y: y}))
	place := []scene.Piece{say("tap "), shown(d.in, tie.Supply.Length, font.Regular), say(" to the fuses, ")}
	place = append(place, scene.Piece{Value: clip(tie.Supply.Place.String(), 60), Mark: markOf(tie.Supply.Place.Term())})
	at := scene.Point{X: box.X + box.W + 5, Y: y - 3.4 - scene.Leading(scene.Note)*float64(len(fold(place, d.grid-box.X-box.W-8))-1)}
	d.label(at, d.grid-box.X-box.W-8, place)
}

// bond draws neutral bar, main bonding jumper and ground.
func (d *diagram) bond(at scene.Point, stroke scene.Stroke) {
	thick := scene.Stroke{Width: 1, Color: scene.Ink}
	ground := at.Plus(0, 6.4)
	d.g.Add(scene.Line{A: at.Plus(-4, 0), B: at.Plus(8, 0), Stroke: thick}, scene.Line{A: ground.Plus(-4, 0), B: ground.Plus(8, 0), Stroke: thick},
		symbol.BondingJumper(at, ground, stroke),
		scene.Text{At: at.Plus(10, 1.2), Value: "neutral", Size: scene.Note}, scene.Text{At: ground.Plus(10, 1.2), Value: "ground", Size: scene.Note})
}

func given(known bool) scene.Mark {
	if known {
		return scene.Given
	}
	return scene.Chosen
}

// amps is a current of the document in words.
func (d *diagram) amps(f job.Fact[quantity.Amps]) string {
	if !f.Known {
		return "?"
	}
	return quantity.Show(f.Value, d.in.system())
}

// disconnectNotes tells of disconnects that no circuit of the plant names.
func (d *diagram) disconnectNotes() {
	for _, k := range d.in.Plant.Job.Disconnects {
		used := slices.ContainsFunc(d.in.Plant.Buses, func(b *site.Bus) bool {
			return b.Up != nil && b.Up.Supply != nil && b.Up.Supply.Disconnect != nil && b.Up.Supply.Disconnect.ID == k.ID
		})
		if !used {
			d.note("%s, %s: where it sits in the circuit is ?", clip(nameOr(k.Name.Value, k.ID), 40), d.amps(k.Rating))
		}
	}
}

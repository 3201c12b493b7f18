package sheets

import (
	"fmt"
	"slices"
	"strings"

	"legwork/job"
	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/frame"
	"legwork/scene/symbol"
	"legwork/site"
	"legwork/working"
)

// drawCover is the first sheet: what is built, in sizes; then what is open,
// assumed, chosen and given.
func drawCover(in *Input) ([]*scene.Scene, error) {
	p := in.paper("G-001", []frame.Key{
		{Sign: frame.GivenMark, Text: "given by a person"},
		{Sign: frame.ChosenMark, Text: "chosen by the plan"},
		{Sign: frame.AssumedMark, Text: "assumed, confirm"},
		{Sign: frame.Words, Text: "? is not known yet"},
		{Sign: frame.VerdictShapes},
	})
	page, room, err := p.next()
	if err != nil {
		return nil, err
	}
	area := room.Drawing
	left := scene.Rect{X: area.X, Y: area.Y, W: 200, H: area.H}
	right := scene.Rect{X: area.X + 212, Y: area.Y, W: area.W - 212, H: area.H}
	c := cover{in: in}
	end := max(c.what(left), c.reference(right)) + 7
	page.Add(c.g)
	f := &flow{paper: p, number: 4, gutter: 8}
	f.begin(page, scene.Rect{X: area.X, Y: end, W: area.W, H: area.Y + area.H - end})
	for _, b := range in.register() {
		if err := f.add(b); err != nil {
			return nil, err
		}
	}
	return p.pages, nil
}

type cover struct {
	in *Input
	g  scene.Group
}

// row is a name and its value in a table of the cover.
type row struct {
	name  string
	value []scene.Piece
}

// rowsAt sets a table and returns its lower edge; values wrap to their column.
func (c *cover) rowsAt(at scene.Point, width, nameWide float64, rows []row) float64 {
	y := at.Y
	for _, r := range rows {
		base := y + 1.2 + scene.Note
		names := wrapped(r.name, scene.Note, font.Regular, nameWide-2, 2)
		t, _ := lines(scene.Point{X: at.X, Y: base}, names, scene.Note, font.Regular)
		c.g.Add(t)
		folded := fold(r.value, width-nameWide)
		for i, part := range folded {
			c.g.Add(scene.Pieces(scene.Point{X: at.X + nameWide, Y: base + scene.Leading(scene.Note)*float64(i)}, scene.Note, scene.Start, part...))
		}
		y = base + scene.Leading(scene.Note)*float64(max(len(names), len(folded))-1) + 1.7
		c.g.Add(scene.Line{A: scene.Point{X: at.X, Y: y}, B: scene.Point{X: at.X + width, Y: y}, Stroke: scene.Rule})
	}
	return y
}

// what says what is built and in which sizes.
func (c *cover) what(at scene.Rect) float64 {
	in, d := c.in, c.in.Plant.Job
	size, fits := scene.FitText(d.Name, 8, font.Bold, at.W)
	if !fits || size < 5 {
		size = 5
	}
	y := at.Y + size
	for _, l := range wrapped(d.Name, size, font.Bold, at.W, 3) {
		c.g.Add(scene.Text{At: scene.Point{X: at.X, Y: y}, Value: l, Size: size, Face: font.Bold})
		y += scene.Leading(size)
	}
	t, next := scene.Block(scene.Text{At: scene.Point{X: at.X, Y: y}, Value: clip(in.sentence(), 420), Size: scene.Heading}, at.W)
	c.g.Add(t)
	y = next.Y + 2
	c.g.Add(heading(scene.Point{X: at.X, Y: y}, "Sizes", at.W))
	return c.rowsAt(scene.Point{X: at.X, Y: y + headingHigh - 1}, at.W, 44, in.sizes())
}

// sentence is the job in a sentence or two.
func (in *Input) sentence() string {
	p := in.Plant
	said := "New photovoltaic system"
	if n := len(p.Units); n > 0 {
		said += " of " + plural(n, "microinverter", "microinverters")
	}
	if n := len(p.Branches); n > 0 {
		said += " on " + plural(n, "branch circuit", "branch circuits")
	} else {
		said += "; branch circuits are not chosen yet"
	}
	var ways []string
	for _, b := range p.Buses {
		if b == p.Service.Panel || !b.HasSource() && b.Up == nil {
			continue
		}
		switch {
		case b.Up == nil:
			ways = append(ways, "the "+busName(b)+" is not connected yet")
		case b.Up.Supply != nil:
			ways = append(ways, "from the "+busName(b)+" through fuses to a tap ahead of the main")
		case b.HasSource():
			ways = append(ways, "from the "+busName(b)+" to a breaker in the "+busName(b.Up.To))
		}
	}
	if len(ways) > 0 {
		said += "; " + listed(ways)
	}
	return said + "."
}

// sizes are the figures that a reviewer looks for first.
func (in *Input) sizes() []row {
	p, t := in.Plant, in.totals()
	rows := []row{
		{"Units", []scene.Piece{bold(nameOr(strings.Join(t.parts, "; "), "?"))}},
		{"Modules", []scene.Piece{bold(nameOr(strings.Join(t.modules, "; "), "?")), say(", "), bold(t.dc), say(" DC")}},
		{"AC rating", []scene.Piece{bold(t.ac), say(", "), bold(t.current), say(" at "), fig(p.Nominal, font.Regular)}},
	}
	for _, b := range p.Branches {
		lands := "?"
		if b.Bus != nil {
			lands = clip(busName(b.Bus), 40)
		}
		rows = append(rows, row{"Branch " + b.ID, []scene.Piece{bold(plural(len(b.Units), "unit", "units")), say(", breaker "), fig(b.Breaker.Rating, font.Bold), say(", " + poles(b.Breaker) + ", in the " + lands)}})
	}
	for _, r := range p.Runs {
		wires, ground, raceway := in.conductors(r.Conductors, 2*len(r.Circuits))
		v := slices.Concat(wires...)
		if len(wires) > 1 {
			v = slices.Concat(wires[0], []scene.Piece{say(", ")}, wires[1])
		}
		v = slices.Concat(v, []scene.Piece{say(", ground ")}, ground, []scene.Piece{say(", ")}, raceway, []scene.Piece{say(", "), shown(in, r.Length, font.Regular)})
		if r.Existing {
			v = append(v, say(", existing"))
		}
		rows = append(rows, row{upper(clip(r.Name, 50)), v})
	}
	for _, b := range p.Buses {
		if b.Up == nil {
			continue
		}
		where := "ahead of the main"
		if b.Up.To != nil {
			where = "in the " + clip(busName(b.Up.To), 40)
			if len(b.Up.Device.Spaces) > 0 {
				where += ", spaces " + b.Up.Device.SpaceList()
			}
		}
		rows = append(rows, row{deviceName(b.Up.Device), []scene.Piece{fig(b.Up.Device.Rating, font.Bold), say(", 2-pole, " + where)}})
	}
	for _, b := range p.Buses {
		v := []scene.Piece{say("bus "), fig(b.Rating, font.Bold)}
		if b.HasMain {
			v = append(v, say(", main "), fig(b.Main, font.Bold))
		} else {
			v = append(v, say(", main lugs"))
		}
		if g := b.Gateway; g != nil {
			v = append(v, say(", gateway breaker "), fig(g.Rating, font.Regular))
		}
		rows = append(rows, row{upper(clip(busName(b), 50)), v})
	}
	s := p.Service
	return append(rows, row{"Service", []scene.Piece{fig(p.System, font.Bold), say(", "), fig(s.Rating, font.Bold), say(", fault current "), shown(in, s.FaultCurrent, font.Regular), say(", highest voltage "), fig(s.HighestVoltage, font.Regular)}})
}

// reference is the index, the code, the result and the revisions.
func (c *cover) reference(at scene.Rect) float64 {
	in := c.in
	x, y := at.X, at.Y
	begin := func(name string) {
		c.g.Add(heading(scene.Point{X: x, Y: y}, name, at.W))
		y += headingHigh
	}
	begin("Sheets")
	for _, e := range in.index {
		g := scene.Group{Link: scene.SheetLink + e.Number}
		pages := fmt.Sprintf("sheet %d", e.first)
		if e.pages > 1 {
			pages = fmt.Sprintf("sheets %d to %d", e.first, e.first+e.pages-1)
		}
		base := scene.Point{X: x, Y: y + 1 + scene.Body}
		g.Add(scene.Text{At: base, Value: e.Number, Size: scene.Body, Face: font.Bold, Color: scene.Blue},
			scene.Text{At: base.Plus(20, 0), Value: e.Title, Size: scene.Body},
			scene.Text{At: base.Plus(at.W, 0), Value: pages, Size: scene.Note, Anchor: scene.End})
		c.g.Add(g)
		y += scene.Leading(scene.Body) + 1
	}
	y += 4
	begin("Code and place")
	s := in.Plant.Job.Site
	rows := []row{
		{"Edition", []scene.Piece{say("NFPA 70, "), fig(in.Plant.Edition, font.Bold)}},
		{"Address", []scene.Piece{say(wrapped(orAsk(s.Address), scene.Note, font.Regular, at.W-28, 1)[0])}},
		{"Climate", []scene.Piece{say(clip(orAsk(s.Climate), 40) + ", coldest "), fig(in.Plant.Coldest, font.Regular), say(", hottest "), fig(in.Plant.Hottest, font.Regular)}},
		{"Use", []scene.Piece{fig(in.Plant.Occupancy, font.Regular)}},
	}
	if len(s.Amendments) == 0 {
		rows = append(rows, row{"Amendments", []scene.Piece{say("none in the job document")}})
	}
	for _, a := range s.Amendments {
		rows = append(rows, amendment(a))
	}
	y = c.rowsAt(scene.Point{X: x, Y: y - 1}, at.W, 26, rows) + 4
	begin("Result of the calculations")
	y = c.result(scene.Point{X: x, Y: y}) + 3
	begin("Revisions")
	y = c.rowsAt(scene.Point{X: x, Y: y - 1}, at.W, 44, []row{
		{"Revision", []scene.Piece{say("date, by")}},
		{nameOr(in.Revision, "?"), []scene.Piece{say(in.Date)}},
		{" ", nil}, {" ", nil},
	})
	return y
}

// deviceName is "PV breaker", "Fuses of the PV disconnect".
func deviceName(b *site.Breaker) string {
	name := upper(clip(b.Name, 50))
	if strings.HasPrefix(b.Name, "fuses") {
		return name
	}
	return name + " breaker"
}

func amendment(a job.Amendment) row {
	return row{clip(a.ID, 24), []scene.Piece{{Value: clip(orAsk(a.Text), 62), Mark: given(a.Text.Known)}, say(", " + clip(orAsk(a.Basis), 62))}}
}

// result counts the verdicts, worst first, each with its shape.
func (c *cover) result(at scene.Point) float64 {
	if c.in.Edition == 0 {
		c.g.Add(symbol.Verdict(at.Plus(2, 2.2), 1.9, working.Ask), scene.Text{At: at.Plus(7, 2.2+scene.Note/2), Size: scene.Note,
			Value: "nothing is judged: the adopted edition is " + c.in.Plant.Edition.String()})
		return at.Y + 5.5
	}
	x := at.X
	for _, v := range []working.Verdict{working.Stop, working.Ask, working.Look, working.OK} {
		n := 0
		for _, f := range c.in.Findings {
			if !f.NotCovered && f.Verdict == v {
				n++
			}
		}
		c.g.Add(symbol.Verdict(scene.Point{X: x + 2, Y: at.Y + 2.2}, 1.9, v),
			scene.Text{At: scene.Point{X: x + 6, Y: at.Y + 2.2 + scene.Body/2}, Value: fmt.Sprintf("%d %s", n, v), Size: scene.Body, Face: font.Bold})
		x += 26
	}
	y := at.Y + 7
	for _, f := range c.in.Findings {
		if f.Verdict == working.Stop && !f.NotCovered {
			rows := wrapped(upper(c.in.Plant.PlaceName(f.Place))+": "+f.Title, scene.Note, font.Regular, 97, 2)
			c.g.Add(symbol.Verdict(scene.Point{X: at.X + 2, Y: y + scene.Note/2}, 1.6, working.Stop))
			t, next := lines(scene.Point{X: at.X + 6, Y: y + scene.Note}, rows, scene.Note, font.Regular)
			c.g.Add(t)
			y = next - scene.Note + 0.4
		}
	}
	return y
}

// register lists what is missing, assumed, chosen and given.
func (in *Input) register() []block {
	var out []block
	group := func(title string, v working.Verdict, rows [][2]string, mark scene.Mark, none string) {
		if len(rows) == 0 && none == "" {
			return
		}
		var b block
		b.gap = 5
		high := headingHigh + 1
		b.add(high, func(at scene.Point, width float64) scene.Group { return heading(at, title, width) })
		if len(rows) == 0 {
			rows, mark = [][2]string{{none, ""}}, scene.Chosen
		}
		for _, r := range rows {
			b.strips = append(b.strips, registered(r[0], r[1], v, mark))
		}
		again := b.strips[0]
		again.draw = func(at scene.Point, width float64) scene.Group { return heading(at, title+", continued", width) }
		b.again = &again
		out = append(out, b)
	}
	var asked, assumed, decided, seen, chosen [][2]string
	for _, m := range in.missing() {
		asked = append(asked, [2]string{join(": ", m.What, m.Find), ""})
	}
	known := map[string]bool{}
	for _, f := range in.Findings {
		for _, s := range f.Steps {
			from := s.Result.From()
			if known[from.Path] || !s.Result.Known() || from.Path == "" {
				continue
			}
			r := [2]string{s.Meaning, signed(s.Result.String())}
			switch {
			case from.Kind == working.Assumed:
				assumed = append(assumed, r)
			case from.Kind == working.Given && strings.HasPrefix(from.Path, "decisions."):
				r[0] += in.ofRun(strings.TrimPrefix(from.Path, "decisions."))
				decided = append(decided, r)
			case from.Kind == working.Given:
				r[0] += in.ofRun(from.Path)
				seen = append(seen, r)
			default:
				continue
			}
			known[from.Path] = true
		}
	}
	for _, c := range in.Choices {
		value := c.Value
		if spaces, is := strings.CutPrefix(value, "["); is { // brackets mean "assumed" here
			value = strings.ReplaceAll(strings.TrimSuffix(spaces, "]"), " ", ", ")
		}
		chosen = append(chosen, [2]string{in.choiceName(c.Path) + ": " + c.Why, value})
	}
	none := "nothing that the calculations need"
	if in.Edition == 0 {
		none = ""
	}
	group("Still to be answered", working.Ask, asked, scene.Chosen, none)
	group("Assumed", "", assumed, scene.Assumed, "")
	group("Chosen by the plan", "", chosen, scene.Chosen, "")
	group("Decided by a person", "", decided, scene.Given, "")
	group("Given by a person", "", seen, scene.Given, "")
	return out
}

// ofRun names the run that a path of the document is about: ", home run".
func (in *Input) ofRun(path string) string {
	rest, is := strings.CutPrefix(path, "runs.")
	id, _, _ := strings.Cut(rest, ".")
	if r := in.Plant.Run(id); is && r != nil {
		return ", " + clip(r.Name, 30)
	}
	return ""
}

// choiceName is the place of a choice in words.
func (in *Input) choiceName(path string) string {
	parts := strings.Split(path, ".")
	if len(parts) < 4 {
		return path
	}
	name := in.Plant.PlaceName(parts[2])
	if parts[1] == "connections" {
		name = "point of connection"
	}
	return name + ", " + strings.ReplaceAll(parts[3], "_", " ")
}

// missing is every fact that is asked for on a sheet, once.
func (in *Input) missing() []working.Missing {
	var out []working.Missing
	add := func(known bool, m working.Missing) {
		if !known && !slices.ContainsFunc(out, func(o working.Missing) bool { return o.Path == m.Path }) {
			out = append(out, m)
		}
	}
	p := in.Plant
	add(p.Edition.Known, p.Edition.Ask)
	for _, f := range in.Findings {
		for _, m := range f.Missing {
			add(false, m)
		}
	}
	for _, m := range in.Open {
		add(false, m)
	}
	s := p.Service
	add(p.System.Known, p.System.Ask)
	add(s.Rating.Known, s.Rating.Ask)
	add(s.FaultCurrent.Known, s.FaultCurrent.Ask)
	add(s.FaultBy.Known, s.FaultBy.Ask)
	add(s.FaultOn.Known, s.FaultOn.Ask)
	if s.Conductors != nil {
		add(s.Conductors.Size.Known, s.Conductors.Size.Ask)
	}
	for _, b := range p.Buses {
		add(b.Interrupting.Known, b.Interrupting.Ask)
	}
	return out
}

// registered is a row of the register.
func registered(name, value string, v working.Verdict, mark scene.Mark) strip {
	const width = 75.95 // of four columns on ANSI B
	indent := 0.0
	if v != "" && value == "" && name != "" {
		indent = 5
	}
	values := scene.Wrap(value, scene.Note, font.Regular, 28)
	room := width - indent
	if value != "" {
		longest := 0.0
		for _, v := range values {
			longest = max(longest, scene.Width(v, scene.Note, font.Regular))
		}
		room -= longest + 5
	}
	names := scene.Wrap(name, scene.Note, font.Regular, room)
	high := scene.Leading(scene.Note)*float64(max(len(names), len(values))-1) + scene.Note + 2
	return strip{high, func(at scene.Point, width float64) scene.Group {
		var g scene.Group
		base := at.Plus(indent, scene.Note+0.6)
		if indent > 0 {
			g.Add(symbol.Verdict(at.Plus(1.8, scene.Note/2+0.6), 1.5, v))
		}
		t, _ := lines(base, names, scene.Note, font.Regular)
		g.Add(t)
		for i, l := range values {
			if l != "" {
				g.Add(scene.Pieces(at.Plus(width, scene.Note+0.6+scene.Leading(scene.Note)*float64(i)), scene.Note, scene.End, scene.Piece{Value: l, Mark: mark}))
			}
		}
		return g
	}}
}

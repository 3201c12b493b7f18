package sheets

import (
	"fmt"
	"slices"
	"strings"

	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/symbol"
	"legwork/site"
)

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
	bars := scene.Point{X: left, Y: s.top + s.h - 3}
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
			d.g.Add(symbol.Verdict(c.Plus(-4.5, 0), 1.7, f.Verdict))
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
		d.g.Add(symbol.Breaker(c, scene.New), scene.Rect{X: at.X - 4, Y: at.Y + 2*symbol.Reach, W: 27, H: 4.4, Stroke: scene.Existing, Fill: scene.Paper},
			scene.Text{At: at.Plus(9.5, 2*symbol.Reach+2.2+scene.Note/2), Value: "meter, gateway", Size: scene.Note, Anchor: scene.Middle})
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

// arithmetic writes the busbar's sum of currents beside the bus, with its
// verdict; what else is found there stands on the calculation sheets.
func (d *diagram) arithmetic(s *stand, at scene.Point, width float64) {
	for i := range d.in.Findings {
		f := &d.in.Findings[i]
		if f.Place != s.bus.ID+"/bus" || !strings.HasPrefix(f.Rule, "busbar-") || f.Test == nil || f.NotCovered || f.Existing || f.Test.Left.Unit() != "A" {
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

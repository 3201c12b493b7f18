package sheets

import (
	"fmt"

	"legwork/job"
	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/symbol"
)

// service draws the utility's side: transformer, meter, service conductors
// down to the service panel.
func (d *diagram) service(top float64) {
	p, x, bottom := d.in.Plant, d.grid, d.serviceTop()
	tapped := 0.0
	for _, s := range d.lay.aside {
		if s.bus.Up != nil && s.bus.Up.Supply != nil {
			tapped = 14
		}
	}
	meter := scene.Point{X: x, Y: bottom - 36 - tapped}
	transformer := scene.Point{X: x, Y: max(top+6, meter.Y-26)}
	g := scene.Group{ID: "utility"}
	by := scene.ByOthers
	g.Add(scene.Line{A: transformer.Plus(0, -symbol.Reach), B: transformer.Plus(0, -symbol.Reach-4), Stroke: by},
		symbol.Transformer(transformer, by.With(scene.Solid)),
		scene.Line{A: transformer.Plus(0, symbol.Reach), B: meter.Plus(0, -symbol.MeterReach), Stroke: by},
		symbol.Meter(meter, "kWh", scene.Existing))
	d.g.Add(g)
	d.label(transformer.Plus(8, -4), 50, []scene.Piece{bold("utility transformer"), say(", by others")})
	s := p.Service
	fault := []scene.Piece{say("fault current "), shown(d.in, s.FaultCurrent, font.Regular)}
	if s.FaultKind.Known {
		fault = append(fault, say(" "+s.FaultKind.String()))
	}
	d.g.Add(scene.Pieces(transformer.Plus(8, -4+scene.Note/2+scene.Leading(scene.Note)), scene.Note, scene.Start, fault...))
	d.g.Add(scene.Pieces(transformer.Plus(8, -4+scene.Note/2+2*scene.Leading(scene.Note)), scene.Note, scene.Start,
		say("at the service, by "), fig(clipped(s.FaultBy, 16), font.Regular), say(", on "), fig(clipped(s.FaultOn, 12), font.Regular)))
	if !s.FaultCurrent.Known || !s.FaultBy.Known || !s.FaultOn.Known {
		d.note("available fault current: %s; who gave it and when must stand on the label", s.FaultBy.Ask.Find)
	}
	d.label(meter.Plus(8, -2.2), 50, []scene.Piece{bold("utility meter"), say(", existing")})
	d.g.Add(scene.Pieces(meter.Plus(8, -2.2+scene.Note/2+scene.Leading(scene.Note)), scene.Note, scene.Start, fig(p.System, font.Regular),
		say(", highest "), fig(s.HighestVoltage, font.Regular)))

	d.down(scene.Existing, x, meter.Y+symbol.MeterReach, bottom)
	d.tag("service", scene.Point{X: x, Y: meter.Y + symbol.MeterReach + 6})
	if s.Conductors == nil || !s.Conductors.Size.Known {
		d.note("service conductors: size, insulation and raceway are ?: read the print on the insulation, or ask the utility")
	}
	ct := bottom - 7
	d.cts("service", x, ct, "to the house", 50)
	if s.Panel != nil {
		d.cts(s.Panel.ID, x, ct, "to the house", 50)
	}
}

// servicePanel draws the service panel over the whole width.
func (d *diagram) servicePanel(s *stand) {
	b := s.bus
	s.x = d.area.X
	s.w = d.area.W
	d.frameOf(s, s.w, append(s.entering(), d.grid))
	d.entries(s)
	end := d.grid + 8
	c := scene.Point{X: d.grid, Y: s.bar - breakerHigh + symbol.Reach}
	thin := scene.Existing
	d.down(thin, d.grid, s.top, c.Y-symbol.Reach)
	feeds := "where it feeds the bus is ?"
	if b.Feed.Known {
		feeds = "feeds the bus at the " + b.Feed.String()
	}
	if len(b.MainBetween) == 2 {
		feeds = fmt.Sprintf("%s-fed, between %d and %d", b.Feed.Value, b.MainBetween[0], b.MainBetween[1])
	}
	if b.HasMain {
		d.g.Add(symbol.Breaker(c, thin))
		d.label(c.Plus(4, -1.6), 46, []scene.Piece{bold("main "), fig(b.Main, font.Bold), say(", 2-pole")}, feeds)
	} else {
		d.down(thin, d.grid, c.Y-symbol.Reach, c.Y+symbol.Reach)
		d.label(c.Plus(4, -1.6), 46, []scene.Piece{bold("main lugs")}, feeds)
	}
	if b.Feed.Known && b.Feed.Value == job.FeedCenter { // the main meets the bar in its middle
		middle := (s.x + 4 + end) / 2
		d.wire(thin, c.Plus(0, symbol.Reach), scene.Point{X: d.grid, Y: s.bar - 3}, scene.Point{X: middle, Y: s.bar - 3}, scene.Point{X: middle, Y: s.bar})
		d.g.Add(symbol.Joint(scene.Point{X: middle, Y: s.bar}))
		end = d.grid - 20 // the bar does not reach under the main
	} else {
		d.down(thin, d.grid, c.Y+symbol.Reach, s.bar)
	}
	d.g.Add(symbol.Busbar(scene.Point{X: s.x + 4, Y: s.bar}, scene.Point{X: end, Y: s.bar}))

	d.hang(s, end-s.x-6)
	at := scene.Point{X: s.x + 5, Y: s.top + s.h - 9.4}
	d.arithmetic(s, at, d.grid-s.x-30)
	d.bond(scene.Point{X: d.grid + 18, Y: s.bar + 3}, thin)
	earth := scene.Point{X: d.grid + 18, Y: s.bar + 9.4}
	d.g.Add(symbol.Ground(earth.Plus(0, 2), thin), scene.Line{A: earth, B: earth.Plus(0, 2), Stroke: thin})
	d.label(earth.Plus(7, 6.4), 30, []scene.Piece{say("electrodes ?")}, "conductor ?")
	d.note("grounding electrode conductor: size and electrodes are ?: look at the water pipe and the rods")
}

// hang draws the breakers that are there under the bar, as many as fit, and
// sums up the rest.
func (d *diagram) hang(s *stand, width float64) {
	const step = 28.0
	list := loads(s.bus)
	fit := int(width / step)
	rest := list
	if len(list) <= fit {
		rest = nil
	} else {
		fit -= 3 // room for the sum
		fit = max(fit, 1)
		list, rest = list[:fit], list[fit:]
	}
	for i, b := range list {
		c := scene.Point{X: s.x + 12 + step*float64(i), Y: s.bar + symbol.Reach}
		stroke := scene.Existing
		d.g.Add(symbol.Breaker(c, stroke))
		name := clip(nameOr(b.Name, "?"), 40)
		if b.Existing != nil {
			name += ", existing source " + b.Existing.Current.String()
		}
		if b.Moved {
			name += ", moved to " + b.SpaceList()
		}
		t, _ := lines(c.Plus(4, 3.4), wrapped(name, scene.Note, font.Regular, step-7, 2), scene.Note, font.Regular)
		d.label(c.Plus(4, -2.2), step-7, []scene.Piece{fig(b.Rating, font.Bold), say(" " + poles(b))})
		d.g.Add(t)
	}
	if len(rest) > 0 {
		x := s.x + 12 + step*float64(len(list)) - 3
		said := fmt.Sprintf("and %d more existing: %s", len(rest), summed(rest))
		t, _ := lines(scene.Point{X: x, Y: s.bar + 4.6}, wrapped(said, scene.Note, font.Regular, s.x+width-x, 3), scene.Note, font.Regular)
		d.g.Add(t)
	}
}

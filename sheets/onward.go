package sheets

import (
	"slices"

	"legwork/job"
	"legwork/quantity"
	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/symbol"
	"legwork/site"
)

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

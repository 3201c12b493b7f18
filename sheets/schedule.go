package sheets

import (
	"fmt"
	"strings"

	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/symbol"
	"legwork/site"
	"legwork/working"
)

// conductor is a row of the conductor schedule; its number is the tag on the
// diagram.
type conductor struct {
	key      string // "trunk T2", "run home", "service"
	circuit  string
	length   []scene.Piece
	lines    [][]scene.Piece // conductors, one line each
	ground   []scene.Piece
	raceway  []scene.Piece
	ampacity string
	carries  string
	device   []scene.Piece
}

// metals are the trade's short names.
var metals = map[site.Material]string{"copper": "Cu", "aluminum": "Al"}

func metal(f working.Fact[site.Material]) string {
	if !f.Known {
		return "?"
	}
	return nameOr(metals[f.Value], string(f.Value))
}

// schedule lists the plant's conductors from the roof to the utility.
func (in *Input) schedule() []conductor {
	var rows []conductor
	p := in.Plant
	seen := map[*site.Trunk]bool{}
	for _, b := range p.Branches {
		for _, g := range b.Groups() {
			t := g.Inverter.Trunk
			if t == nil || seen[t] {
				continue
			}
			seen[t] = true
			rows = append(rows, conductor{
				key: "trunk " + t.ID, circuit: "trunk cable " + t.ID,
				lines:  [][]scene.Piece{{say("2 × "), fig(t.Size, font.Regular), say(" " + metal(t.Material))}},
				ground: []scene.Piece{say("as listed")}, raceway: []scene.Piece{say("in cable")},
				ampacity: "–", carries: in.mostOn(t), device: []scene.Piece{say("max "), fig(t.Rating, font.Regular)},
			})
		}
	}
	for _, r := range p.Runs {
		rows = append(rows, in.runRow(r))
	}
	s := conductor{key: "service", circuit: "service, existing", ampacity: "?", carries: "–",
		lines: [][]scene.Piece{{say("?")}}, ground: []scene.Piece{say("–")}, raceway: []scene.Piece{say("?")},
		device: []scene.Piece{fig(p.Service.Rating, font.Regular)}}
	if c := p.Service.Conductors; c != nil {
		s.lines, s.ground, s.raceway = in.conductors(c, 2)
	}
	return append(rows, s)
}

// mostOn is the largest branch current on a trunk family.
func (in *Input) mostOn(t *site.Trunk) string {
	said, most := "?", -1.0
	for _, b := range in.Plant.Branches {
		f := in.found("branch-current", b.ID)
		if len(b.Units) == 0 || b.Units[0].Inverter.Trunk != t || f == nil || f.Test == nil || !f.Test.Left.Known() {
			continue
		}
		if v := f.Test.Left.Float(); v > most {
			most, said = v, f.Test.Left.String()
		}
	}
	return said
}

func (in *Input) runRow(r *site.Run) conductor {
	row := conductor{key: "run " + r.ID, circuit: clip(r.Name, 40), ampacity: "?", carries: "?", device: []scene.Piece{say("?")}}
	row.length = []scene.Piece{shown(in, r.Length, font.Regular)}
	if !r.Length.Known {
		row.length = []scene.Piece{say("length ?")}
	}
	row.lines, row.ground, row.raceway = in.conductors(r.Conductors, 2*len(r.Circuits))
	if f := in.found("conductor-carries", r.ID); f != nil && f.Test != nil {
		row.ampacity, row.carries = f.Test.Left.String(), f.Test.Right.String()
	}
	var most working.Term
	for i, c := range r.Circuits {
		if t := c.Device.Rating.Term(); i == 0 || !t.Known() || most.Known() && t.Float() > most.Float() {
			most = t
		}
	}
	if len(r.Circuits) > 0 {
		row.device = []scene.Piece{fig(most, font.Regular)}
	}
	return row
}

func (in *Input) conductors(c *site.Conductors, phases int) (wires [][]scene.Piece, ground, raceway []scene.Piece) {
	n := "? × "
	if phases > 0 {
		n = fmt.Sprintf("%d × ", phases)
	}
	wires = append(wires, []scene.Piece{say(n), fig(c.Size, font.Regular), say(" " + metal(c.Material) + " "), fig(c.Insulation, font.Regular)})
	if c.HasNeutral {
		wires = append(wires, []scene.Piece{say("N "), fig(c.Neutral, font.Regular)})
	}
	ground = []scene.Piece{say("raceway")}
	if c.HasGround {
		ground = []scene.Piece{fig(c.Ground, font.Regular), say(" " + metal(c.GroundMaterial))}
	}
	if !c.HasGround && !c.Raceway.Known {
		ground = []scene.Piece{say("?")}
	}
	raceway = []scene.Piece{fig(c.Trade, font.Regular), say(" "), fig(c.Raceway, font.Regular)}
	if !c.Trade.Known && !c.Raceway.Known {
		raceway = []scene.Piece{say("?")}
	}
	return wires, ground, raceway
}

// tagOf numbers the schedule's rows by key.
func tagOf(rows []conductor) map[string]string {
	out := map[string]string{}
	for i, r := range rows {
		out[r.key] = fmt.Sprint(i + 1)
	}
	return out
}

// scheduleWide is the least width of the schedule.
const scheduleWide = 118.0

// drawSchedule sets the table and returns its lower edge.
func drawSchedule(at scene.Point, rows []conductor, width float64) (scene.Group, float64) {
	g := heading(at, "Conductors and raceways", width)
	g.Layer = "schedule"
	y := at.Y + headingHigh + 1
	// circuit, conductors, ground, raceway, ampacity and load, device
	share := []float64{0.21, 0.27, 0.14, 0.15, 0.12, 0.11}
	x := []float64{at.X + 8}
	for _, s := range share {
		x = append(x, x[len(x)-1]+s*(width-8))
	}
	for i, name := range []string{"circuit", "conductors", "ground", "raceway", "holds", "breaker"} {
		g.Add(scene.Text{At: scene.Point{X: x[i], Y: y + scene.Note}, Value: name, Size: scene.Note, Face: font.Bold})
	}
	g.Add(scene.Text{At: scene.Point{X: x[4], Y: y + scene.Note + scene.Leading(scene.Note)}, Value: "carries", Size: scene.Note, Face: font.Bold})
	y += scene.Leading(scene.Note)*2 + 1
	g.Add(scene.Line{A: scene.Point{X: at.X, Y: y}, B: scene.Point{X: at.X + width, Y: y}, Stroke: scene.Existing})
	step := scene.Leading(scene.Note)
	for i, r := range rows {
		row := scene.Group{ID: strings.TrimPrefix(strings.TrimPrefix(r.key, "run "), "trunk ")}
		base := y + 1.6 + scene.Note
		circuit := wrapped(r.circuit, scene.Note, font.Regular, x[1]-x[0]-2, 2)
		t, _ := lines(scene.Point{X: x[0], Y: base}, circuit, scene.Note, font.Regular)
		row.Add(t)
		most := len(circuit)
		if r.length != nil {
			row.Add(scene.Pieces(scene.Point{X: x[0], Y: base + step*float64(most)}, scene.Note, scene.Start, r.length...))
			most++
		}
		cell := func(col int, pieces [][]scene.Piece) {
			k := 0
			for _, line := range pieces {
				for _, part := range fold(line, x[col+1]-x[col]-1.5) {
					row.Add(scene.Pieces(scene.Point{X: x[col], Y: base + step*float64(k)}, scene.Note, scene.Start, part...))
					k++
				}
			}
			most = max(most, k)
		}
		cell(1, r.lines)
		cell(2, [][]scene.Piece{r.ground})
		cell(3, [][]scene.Piece{r.raceway})
		cell(4, [][]scene.Piece{{say(r.ampacity)}, {say(r.carries)}})
		cell(5, [][]scene.Piece{r.device})
		high := step*float64(most-1) + scene.Note + 3.4
		high = max(high, 2*symbol.TagRadius+1.6)
		row.Add(symbol.Tag(scene.Point{X: at.X + symbol.TagRadius, Y: y + high/2}, fmt.Sprint(i+1)))
		y += high
		row.Add(scene.Line{A: scene.Point{X: at.X, Y: y}, B: scene.Point{X: at.X + width, Y: y}, Stroke: scene.Rule})
		g.Add(row)
	}
	return g, y
}

// fold breaks a line of pieces between pieces where it runs too far.
func fold(pieces []scene.Piece, width float64) [][]scene.Piece {
	var out [][]scene.Piece
	var line []scene.Piece
	x := 0.0
	for _, p := range pieces {
		w := scene.Width(p.Value, scene.Note, p.Face)
		if p.Mark == scene.Assumed {
			w += scene.Width("[]", scene.Note, p.Face)
		}
		if x+scene.Width(strings.TrimRight(p.Value, " "), scene.Note, p.Face) > width && x > 0 {
			out = append(out, line)
			line, x = nil, 0
			if p.Value = strings.TrimLeft(p.Value, " "); p.Value == "" {
				continue
			}
		}
		line = append(line, p)
		x += w
	}
	return append(out, line)
}

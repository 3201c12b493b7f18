// Package frame draws what every sheet of a set has around its drawing: the
// border, the title block on the right, room for the reviewer's notes and
// initials, and the line of places along the bottom.
//
// It decides nothing about the job: all words come in as plain fields.
package frame

import (
	"fmt"

	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/line"
)

// Row is a name and its value in the plant summary.
type Row struct{ Name, Value string }

// Block is what stands in the title block.
type Block struct {
	Job      string // "118 Quillfeather Lane"
	Address  string
	Invented bool   // the job is a demonstration
	Answers  string // the question that this sheet answers
	Plant    []Row
	Read     []Key
	Cautions []string
	Firm     string
	License  string // empty leaves a rule to write on
	Number   string
	Title    string
	Sheet    int // this sheet, of
	Of       int // so many
	Revision string
	Date     string
}

// Review is the line that no sheet goes without.
const Review = "For review under local code by a licensed person"

// Room is what the frame leaves to the sheet.
type Room struct {
	Drawing scene.Rect // for the drawing
	Line    scene.Rect // for the line of places, along the bottom
	Notes   scene.Rect // left white for the reviewer, inside the title block
}

const (
	margin    = 10.0
	blockW    = 68.0
	pad       = 5.0
	lineHigh  = 28.0
	footHigh  = 29.0 // sheet title and number
	firmHigh  = 36.0 // firm, license, review line, initials
	firmLines = 4    // of firm and license together
	border    = 0.7
)

// Sheet is a new ANSI B sheet with its frame, and the room left on it. Words
// that leave less than 12 mm for notes, or a firm that does not fit, give an
// error: who wrote them must cut them, not the frame.
func Sheet(b Block) (*scene.Scene, Room, error) {
	s := scene.Blank(scene.ANSIB, b.Number, b.Title)
	all := scene.Rect{X: margin, Y: margin, W: s.Size.W - 2*margin, H: s.Size.H - 2*margin}
	s.Frame = all
	left := all.X + all.W - blockW
	w := writer{left: left + pad, right: all.X + all.W - pad, y: all.Y}
	w.g.Layer = "frame"

	outline := all
	outline.Stroke = scene.New.Weight(border)
	w.g.Add(outline, scene.Line{A: scene.Point{X: left, Y: all.Y}, B: scene.Point{X: left, Y: all.Y + all.H}, Stroke: outline.Stroke})

	w.job(b)
	w.section("This sheet answers")
	w.paragraph(b.Answers, 3)
	if len(b.Plant) > 0 {
		w.section("Plant")
		w.rows(b.Plant)
	}
	if len(b.Read) > 0 {
		w.section("How to read")
		w.keys(b.Read)
	}
	if len(b.Cautions) > 0 {
		w.section("Cautions")
		for _, c := range b.Cautions {
			w.paragraph(c, scene.Note)
			w.y += 0.8
		}
	}
	w.section("Notes")
	bottom := all.Y + all.H
	notes := scene.Rect{X: w.left, Y: w.y, W: w.right - w.left, H: bottom - footHigh - firmHigh - 2 - w.y}
	if notes.H < 12 {
		return nil, Room{}, fmt.Errorf("sheet %s: title block is %.0f mm too long; fewer plant rows, keys or cautions", b.Number, 12-notes.H)
	}
	if err := w.firm(b, bottom-footHigh-firmHigh); err != nil {
		return nil, Room{}, err
	}
	w.foot(b, bottom-footHigh)
	s.Add(w.g)

	room := Room{
		Drawing: scene.Rect{X: all.X + 8, Y: all.Y + 8, W: left - all.X - 16, H: all.H - lineHigh - 12},
		Line:    scene.Rect{X: all.X + 8, Y: bottom - lineHigh, W: left - all.X - 16, H: lineHigh},
		Notes:   notes,
	}
	return s, room, nil
}

// AddLine draws the line of places into its room.
func AddLine(s *scene.Scene, room Room, l line.Line) {
	strip, _ := l.Strip(scene.Point{X: room.Line.X, Y: room.Line.Y + line.StripAbove}, room.Line.W)
	strip.Layer = "line"
	s.Add(strip)
}

// writer sets the block from the top down.
type writer struct {
	g           scene.Group
	left, right float64
	y           float64 // where the next thing begins
}

func (w *writer) width() float64 { return w.right - w.left }

func (w *writer) rule(y float64) {
	w.g.Add(scene.Line{A: scene.Point{X: w.left - pad, Y: y}, B: scene.Point{X: w.right + pad, Y: y}, Stroke: scene.Existing})
}

func (w *writer) text(y float64, t scene.Text) {
	t.At = scene.Point{X: w.left, Y: y}
	if t.Anchor == scene.End {
		t.At.X = w.right
	}
	w.g.Add(t)
}

// section rules off what comes and names it.
func (w *writer) section(name string) {
	w.y += 2.2
	w.rule(w.y)
	w.text(w.y+2.4+scene.Note, scene.Text{Value: name, Size: scene.Note, Color: scene.Muted})
	w.y += 2.4 + scene.Note + 1.6
}

func (w *writer) paragraph(s string, size float64) {
	t := scene.Text{At: scene.Point{X: w.left, Y: w.y + 1 + size}, Value: s, Size: size}
	block, next := scene.Block(t, w.width())
	w.g.Add(block)
	w.y = next.Y - scene.Leading(size) + 0.9
}

func (w *writer) job(b Block) {
	w.y += 4.5
	size, fits := scene.FitText(b.Job, scene.Big, font.Bold, w.width())
	lines := []string{b.Job}
	if !fits {
		size = scene.Heading
		lines = scene.Wrap(b.Job, size, font.Bold, w.width())
	}
	for _, l := range lines {
		w.text(w.y+size, scene.Text{Value: l, Size: size, Face: font.Bold})
		w.y += scene.Leading(size)
	}
	w.paragraph(b.Address, scene.Body)
	if b.Invented {
		w.y += 1
		w.g.Add(scene.Rect{X: w.left, Y: w.y + 0.6, W: w.width(), H: 5.2, Stroke: scene.Existing})
		w.text(w.y+0.6+2.6+scene.Note/2, scene.Text{Value: "Invented house, for demonstration", Size: scene.Note, Face: font.Bold})
		last := len(w.g.Items) - 1
		t := w.g.Items[last].(scene.Text)
		t.At.X, t.Anchor = w.left+w.width()/2, scene.Middle
		w.g.Items[last] = t
		w.y += 6
	}
}

func (w *writer) rows(rows []Row) {
	for _, r := range rows {
		w.text(w.y+1+scene.Body, scene.Text{Value: r.Name, Size: scene.Note})
		room := w.width() - scene.Width(r.Name, scene.Note, font.Regular) - 3
		size, fits := scene.FitText(r.Value, scene.Note+0.1, font.Bold, room)
		if fits {
			w.text(w.y+1+scene.Body, scene.Text{Value: r.Value, Size: size, Face: font.Bold, Anchor: scene.End})
			w.y += 1 + scene.Body + 1.4
			continue
		}
		w.y += 1 + scene.Body + 0.6
		for _, l := range scene.Wrap(r.Value, scene.Note, font.Bold, w.width()-4) {
			w.text(w.y+1+scene.Note, scene.Text{Value: l, Size: scene.Note, Face: font.Bold, Anchor: scene.End})
			w.y += 1 + scene.Note + 0.9
		}
		w.y += 0.5
	}
}

func (w *writer) firm(b Block, top float64) error {
	w.rule(top)
	const initials = 20.0
	y, lines := top+2.4+scene.Note, 0
	named := func(name, value string) {
		w.text(y, scene.Text{Value: name, Size: scene.Note, Color: scene.Muted})
		room := w.width() - 12
		size, _ := scene.FitText(value, scene.Body, font.Regular, room)
		for _, l := range scene.Wrap(value, size, font.Regular, room) {
			w.g.Add(scene.Text{At: scene.Point{X: w.left + 12, Y: y}, Value: l, Size: size})
			y += 3.9
			lines++
		}
		y += 0.6
	}
	named("Firm", b.Firm)
	if b.License == "" {
		y += 2 // to write on
		w.g.Add(scene.Line{A: scene.Point{X: w.left + 12, Y: y + 0.6}, B: scene.Point{X: w.right, Y: y + 0.6}, Stroke: scene.Fine})
	}
	named("License", b.License)
	if lines > firmLines {
		return fmt.Errorf("sheet %s: firm and license take %d lines, there is room for %d", b.Number, lines, firmLines)
	}
	box := scene.Rect{X: w.right - initials, Y: top + 20, W: initials, H: firmHigh - 23, Stroke: scene.Existing}
	w.g.Add(box, scene.Text{At: scene.Point{X: box.X + 1.2, Y: box.Y + 1.2 + scene.Note}, Value: "initials", Size: scene.Note, Color: scene.Muted})
	block, _ := scene.Block(scene.Text{At: scene.Point{X: w.left, Y: box.Y + 1.2 + scene.Note}, Value: Review, Size: scene.Note}, w.width()-initials-3)
	w.g.Add(block)
	return nil
}

func (w *writer) foot(b Block, top float64) {
	w.rule(top)
	size, fits := scene.FitText(b.Title, scene.Big, font.Bold, w.width())
	if !fits {
		size = scene.MinLetter
	}
	y := top + 3.6 + size
	for _, l := range scene.Wrap(b.Title, size, font.Bold, w.width()) {
		w.text(y, scene.Text{Value: l, Size: size, Face: font.Bold})
		y += scene.Leading(size)
	}
	base := top + footHigh - 5
	w.text(base, scene.Text{Value: b.Number, Size: 7, Face: font.Bold})
	w.text(base, scene.Text{Value: fmt.Sprintf("%d of %d", b.Sheet, b.Of), Size: 3, Anchor: scene.End})
	w.text(base-4.8, scene.Text{Value: b.Date, Size: scene.Note, Anchor: scene.End})
	w.text(base-9.2, scene.Text{Value: b.Revision, Size: scene.Note, Anchor: scene.End})
}

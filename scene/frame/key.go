package frame

import (
	"fmt"

	"legwork/scene"
	"legwork/scene/symbol"
	"legwork/working"
)

// Sign is a sample in the key of a sheet.
type Sign int

// The signs a key can explain.
const (
	ExistingLine Sign = iota
	NewLine
	OthersLine
	TagSign
	GivenMark
	ChosenMark
	AssumedMark
	VerdictShapes // all four with their words; Key.Text is not used
	Words         // Key.Text alone
)

// Key explains one sign.
type Key struct {
	Sign Sign
	Text string
}

// UsualKeys explain what every sheet uses.
var UsualKeys = []Key{
	{ExistingLine, "existing"},
	{NewLine, "new, by this job"},
	{OthersLine, "by others"},
	{GivenMark, "seen on site"},
	{ChosenMark, "chosen by the plan"},
	{AssumedMark, "assumed"},
}

// keys sets a sample and its words a row.
func (w *writer) keys(keys []Key) {
	const sample = 15.0
	for _, k := range keys {
		high := 1.3 + scene.Note + 1.2
		mid := scene.Point{X: w.left + sample/2 - 1, Y: w.y + 1.3 + scene.Note/2}
		stroke := func(s scene.Stroke) {
			w.g.Add(scene.Line{A: scene.Point{X: w.left, Y: mid.Y}, B: scene.Point{X: w.left + sample - 2, Y: mid.Y}, Stroke: s})
		}
		mark := func(m scene.Mark) {
			w.g.Add(scene.Pieces(mid.Plus(0, scene.Note/2), scene.Note, scene.Middle, scene.Piece{Value: "225 A", Mark: m}))
		}
		at, text := sample, k.Text
		switch k.Sign {
		case ExistingLine:
			stroke(scene.Existing)
		case NewLine:
			stroke(scene.New)
		case OthersLine:
			stroke(scene.ByOthers)
		case TagSign:
			mid.Y += 1
			high += 2.2
			w.g.Add(symbol.Tag(mid, "3"))
		case GivenMark:
			mark(scene.Given)
		case ChosenMark:
			mark(scene.Chosen)
		case AssumedMark:
			mark(scene.Assumed)
		case VerdictShapes:
			text = ""
			high += 1
			mid.Y += 0.5
			for i, v := range []working.Verdict{working.OK, working.Look, working.Stop, working.Ask} {
				c := scene.Point{X: w.left + 2 + float64(i)*w.width()/4, Y: mid.Y}
				w.g.Add(symbol.Verdict(c, 1.9, v), scene.Text{At: c.Plus(3.2, scene.Note/2), Value: string(v), Size: scene.Note})
			}
		case Words:
			at = 0
		default:
			panic(fmt.Sprintf("frame: no sign %d", k.Sign))
		}
		if text != "" {
			t := scene.Text{At: scene.Point{X: w.left + at, Y: mid.Y + scene.Note/2}, Value: text, Size: scene.Note}
			block, next := scene.Block(t, w.width()-at)
			w.g.Add(block)
			high += next.Y - t.At.Y - scene.Leading(scene.Note)
		}
		w.y += high
	}
}

package frame_test

import (
	"bytes"
	"fmt"
	"time"

	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/frame"
	"legwork/scene/line"
	"legwork/scene/pdf"
	"legwork/scene/symbol"
)

// A sheet is framed, drawn upon, checked and written.
func Example() {
	s, room, err := frame.Sheet(frame.Block{
		Job: "118 Quillfeather Lane", Invented: true,
		Answers: "What protects the branch, and where?",
		Number:  "E-601", Title: "One-line diagram", Sheet: 1, Of: 1,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	breaker := room.Drawing.Middle()
	top, bus := breaker.Plus(0, -30), breaker.Plus(0, 20)
	place := scene.Group{ID: "CB", Layer: "combiner", Link: "sheet:E-603"}
	place.Add(
		symbol.Swatch(scene.Rect{X: top.X - 17, Y: top.Y - 14, W: 34, H: 14}, "A", 0, scene.New),
		scene.Line{A: top, B: breaker.Plus(0, -symbol.Reach), Stroke: scene.New},
		symbol.Breaker(breaker, scene.New),
		scene.Line{A: breaker.Plus(0, symbol.Reach), B: bus, Stroke: scene.New},
		symbol.Busbar(bus.Plus(-40, 0), bus.Plus(40, 0)),
		scene.Text{At: breaker.Plus(5, 0), Value: "A 20 A", Size: scene.Body, Face: font.Bold},
		scene.Pieces(breaker.Plus(5, 4.5), scene.Note, scene.Start,
			scene.Piece{Value: "2-pole, "}, scene.Piece{Value: "10 kA", Mark: scene.Given}),
	)
	s.Add(place)
	frame.AddLine(s, room, line.Line{Nodes: []line.Node{
		{ID: "roof", Label: "roof", Kind: line.Roof, Strands: 1},
		{ID: "CB", Label: "combiner", Kind: line.Combiner},
	}})
	fmt.Println(scene.Overlaps(s))

	var file bytes.Buffer
	warnings, err := pdf.Write(&file, []*scene.Scene{s}, pdf.Options{
		Title: "118 Quillfeather Lane", Created: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC),
	})
	fmt.Println(warnings, err)
	// Output:
	// []
	// [] <nil>
}

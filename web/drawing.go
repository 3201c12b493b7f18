package web

import (
	"bytes"
	"fmt"
	"html/template"
	"slices"

	"legwork/scene"
	"legwork/scene/line"
	"legwork/scene/svg"
	"legwork/scene/symbol"
)

// Sizes of the line on screen, mm of its scene; the page scales them to its
// column.
const (
	railWidth  = 62
	stripWidth = 100
	stripPlace = 14.5 // the least width of a place under a thumb
)

// inPage writes a scene as an SVG element for a page. What our own writer
// makes is markup already.
func inPage(s *scene.Scene, o svg.Options) (template.HTML, error) {
	var b bytes.Buffer
	if _, err := svg.Write(&b, s, o); err != nil {
		return "", fmt.Errorf("drawing %s: %w", s.Title, err)
	}
	return template.HTML(b.String()), nil
}

// places is the job's line with each place leading to itself in the present
// stage, or in the survey where this stage says nothing of it.
func (h Head) places() line.Line {
	l := line.Line{Here: h.Job.Line.Here}
	page := "proof"
	for _, s := range Stages {
		if s.Name == h.Stage {
			page = s.Page
		}
	}
	for _, n := range h.Job.Line.Nodes {
		at := page
		if !slices.Contains(h.Sections, n.ID) {
			at = "survey"
		}
		n.Link = h.JobPath() + "/" + at + "#place-" + n.ID
		l.Nodes = append(l.Nodes, n)
	}
	return l
}

// Rail is the line from top to bottom, for the desk.
func (h Head) Rail() (template.HTML, error) {
	g, height := h.places().Rail(scene.Point{}, railWidth)
	s := scene.Blank(scene.Size{W: railWidth, H: height}, "", "")
	s.Add(g)
	return inPage(s, svg.Options{Themed: true, Fluid: true, IDPrefix: "rail-"})
}

// Strip is the line from left to right, for the phone.
func (h Head) Strip() (template.HTML, error) {
	l := h.places()
	width := max(stripWidth, stripPlace*float64(len(l.Nodes)))
	g, below := l.Strip(scene.Point{Y: line.StripAbove}, width)
	s := scene.Blank(scene.Size{W: width, H: line.StripAbove + below}, "", "")
	s.Add(g)
	return inPage(s, svg.Options{Themed: true, Fluid: width == stripWidth, IDPrefix: "strip-"})
}

// swatch is the sample of the nth branch: letter, hatch, color.
func swatch(n int, letter string) (template.HTML, error) {
	s := scene.Blank(scene.Size{W: 10, H: 7}, "", "")
	s.Add(symbol.Swatch(scene.Rect{X: 0.5, Y: 0.5, W: 9, H: 6}, letter, n, scene.New))
	return inPage(s, svg.Options{Fluid: true})
}

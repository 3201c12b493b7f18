package symbol

import (
	"legwork/scene"
	"legwork/scene/font"
)

// Style is how a branch is told from others after its letter: hatch, then color.
type Style struct {
	Pattern scene.Pattern
	Pitch   float64
	Color   scene.Color
}

var styles = [...]Style{
	{scene.Slant45, 2, scene.Blue},
	{scene.Slant135, 2, scene.Vermillion},
	{scene.Cross, 2.5, scene.BluishGreen},
	{scene.Vertical, 2, scene.ReddishPurple},
	{scene.Horizontal, 2, scene.Orange},
	{scene.Dots, 2, scene.SkyBlue},
}

// BranchStyle is the hatch and color of a branch, counted from 0 for A. From
// the seventh on they come again at twice the pitch; the letter decides.
func BranchStyle(branch int) Style {
	s := styles[branch%len(styles)]
	if branch >= len(styles) {
		s.Pitch *= 2
	}
	return s
}

// Branch hatches an area as a branch's own.
func Branch(area []scene.Point, branch int) scene.Group {
	s := BranchStyle(branch)
	width := 0.6
	if s.Pattern == scene.Cross {
		width = 0.4
	}
	return scene.Hatch(area, s.Pattern, s.Pitch, scene.Stroke{Width: width, Color: s.Color})
}

// Swatch is a branch's sample: hatch and, in a disc that keeps it readable,
// the letter.
func Swatch(at scene.Rect, letter string, branch int, pen scene.Stroke) scene.Group {
	at.Fill = scene.Paper
	g := scene.Group{Items: []scene.Item{at, Branch(at.Corners(), branch)}}
	at.Fill, at.Stroke = scene.None, pen
	r := 0.36 * min(at.W, at.H)
	size, _ := scene.FitText(letter, r, font.Bold, 1.5*r)
	r = max(r, 0.9*size)
	g.Add(at,
		scene.Circle{Center: at.Middle(), R: r, Stroke: scene.Existing, Fill: scene.Paper},
		centered(at.Middle(), letter, size, font.Bold))
	return g
}

package sheets

import (
	"regexp"

	"legwork/scene"
	"legwork/scene/font"
)

var subscripted = regexp.MustCompile(`(?:^|[^\pL_])(\pL)_([\pL\pN_]*[\pL\pN])`)

const subDrop = 0.9 // mm that a subscript hangs below the line; it is no smaller, or nobody could read it

// symbols sets one line in which I_main stands as I with a lowered main, and
// returns how far it runs.
func symbols(at scene.Point, s string, size float64, face font.Face) (scene.Group, float64) {
	var g scene.Group
	x := at.X
	put := func(s string, size, drop float64) {
		if s == "" {
			return
		}
		t := scene.Text{At: scene.Point{X: x, Y: at.Y + drop}, Value: s, Size: size, Face: face}
		g.Add(t)
		x += t.Width()
	}
	end := 0
	for _, m := range subscripted.FindAllStringSubmatchIndex(s, -1) {
		put(s[end:m[3]], size, 0)
		put(s[m[4]:m[5]], scene.Note, subDrop)
		end = m[1]
	}
	put(s[end:], size, 0)
	return g, x - at.X
}

const noBreak = "\u00a0" // holds words together when lines are broken

// lines sets rows of text under one another and returns the next baseline.
func lines(at scene.Point, rows []string, size float64, face font.Face) (scene.Group, float64) {
	var g scene.Group
	for _, r := range rows {
		g.Add(scene.Text{At: at, Value: r, Size: size, Face: face})
		at.Y += scene.Leading(size)
	}
	return g, at.Y
}

// wrapped sets s in at most most lines; what does not fit ends in "…".
func wrapped(s string, size float64, face font.Face, width float64, most int) []string {
	rows := scene.Wrap(s, size, face, width)
	if len(rows) <= most {
		return rows
	}
	rows = rows[:most]
	last := []rune(rows[most-1])
	for len(last) > 0 && scene.Width(string(last)+"…", size, face) > width {
		last = last[:len(last)-1]
	}
	rows[most-1] = string(last) + "…"
	return rows
}

// heading is a title over a fine rule; it takes headingHigh.
func heading(at scene.Point, s string, width float64) scene.Group {
	size, _ := scene.FitText(s, scene.Heading, font.Bold, width)
	var g scene.Group
	g.Add(scene.Text{At: at.Plus(0, scene.Heading), Value: wrapped(s, size, font.Bold, width, 1)[0], Size: size, Face: font.Bold},
		scene.Line{A: at.Plus(0, scene.Heading+1.8), B: at.Plus(width, scene.Heading+1.8), Stroke: scene.Existing})
	return g
}

const headingHigh = scene.Heading + 1.8 + 1.6

package sheets

import (
	"fmt"
	"slices"
	"strings"

	"legwork/quantity"
	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/frame"
	"legwork/scene/symbol"
	"legwork/site"
	"legwork/working"
)

// drawCalculations sets every finding's calculation, place by place.
func drawCalculations(in *Input) ([]*scene.Scene, error) {
	p := in.paper("E-603", []frame.Key{
		{Sign: frame.GivenMark, Text: "given by a person"},
		{Sign: frame.ChosenMark, Text: "chosen, table or sum"},
		{Sign: frame.AssumedMark, Text: "assumed"},
		{Sign: frame.VerdictShapes},
		{Sign: frame.Words, Text: "“line 85”: line of the job document that holds the value. Sums are shown to 0.01; nothing is rounded in between."},
	})
	f := &flow{paper: p, number: 2, gutter: 10}
	if in.Edition == 0 {
		if err := f.add(notJudged(in)); err != nil {
			return nil, err
		}
	}
	for _, place := range in.calculated() {
		for i, c := range place.calcs {
			b := c.block()
			b.gap = 4
			b.head = place.heading(", continued")
			if i == 0 {
				b.gap = 7
				b.strips = append([]strip{*place.heading("")}, b.strips...)
			}
			if err := f.add(b); err != nil {
				return nil, err
			}
		}
	}
	if len(p.pages) == 0 {
		if err := f.turn(); err != nil {
			return nil, err
		}
	}
	return p.pages, nil
}

// notJudged stands where calculations would, while no edition is known.
func notJudged(in *Input) (b block) {
	b.add(30, func(at scene.Point, width float64) scene.Group {
		g := heading(at, "Nothing is judged yet", width)
		said := "The adopted edition of NFPA 70 is " + in.Plant.Edition.String() + "; calculations follow from it."
		if ask := in.Plant.Edition.Ask.Find; !in.Plant.Edition.Known && ask != "" {
			said += " " + upper(ask) + "."
		}
		t, _ := scene.Block(scene.Text{At: at.Plus(0, headingHigh+scene.Body+1), Value: said, Size: scene.Body}, width)
		g.Add(t)
		return g
	})
	return b
}

// calc is a finding, or several of equal branches that differ in the branch's
// letter alone.
type calc struct {
	working.Finding
	letters []string // of the branches it stands for; none at other places
	lines   [][]int  // by step: the lines of the document that give its value
}

// calcPlace is the calculations of one place, or of equal branches together.
type calcPlace struct {
	name  string
	roots []string
	calcs []*calc
}

// heading is the strip above the place's calculations.
func (p *calcPlace) heading(more string) *strip {
	return &strip{headingHigh + 1, func(at scene.Point, width float64) scene.Group {
		return heading(at, p.name+more, width)
	}}
}

// calculated orders the findings by place along the line. Branches are merged
// where every calculation of theirs has the same steps and values.
func (in *Input) calculated() []*calcPlace {
	var all []*calcPlace
	for _, n := range in.places.line.Nodes {
		if n.ID != "roof" {
			all = append(all, in.calcsAt(n.ID))
			continue
		}
		for _, b := range in.Plant.Branches {
			next := in.calcsAt(b.ID)
			for _, c := range next.calcs {
				c.letters = []string{b.ID}
			}
			i := slices.IndexFunc(all, func(p *calcPlace) bool { return p.sameAs(next) })
			if i < 0 {
				all = append(all, next)
				continue
			}
			all[i].merge(next)
		}
	}
	var out []*calcPlace
	told := map[string]bool{}
	for _, p := range all {
		for _, r := range p.roots {
			told[r] = true
		}
		if len(p.calcs) > 0 {
			out = append(out, p)
		}
	}
	for _, f := range in.Findings { // a place that the line does not have
		if root := site.PlaceRoot(f.Place); !told[root] {
			told[root] = true
			if p := in.calcsAt(root); len(p.calcs) > 0 {
				out = append(out, p)
			}
		}
	}
	return out
}

func (in *Input) calcsAt(root string) *calcPlace {
	p := &calcPlace{name: clip(upper(in.Plant.PlaceName(root)), 70), roots: []string{root}}
	for _, f := range in.Findings {
		if site.PlaceRoot(f.Place) != root {
			continue
		}
		c := &calc{Finding: f, lines: make([][]int, len(f.Steps))}
		for i, s := range f.Steps {
			if at := s.Result.From().At; at.Line > 0 {
				c.lines[i] = []int{at.Line}
			}
		}
		p.calcs = append(p.calcs, c)
	}
	return p
}

func (p *calcPlace) sameAs(o *calcPlace) bool {
	return len(p.calcs) > 0 && len(p.calcs[0].letters) > 0 &&
		slices.EqualFunc(p.calcs, o.calcs, func(a, b *calc) bool { return a.signature() == b.signature() })
}

// signature is all that is printed of a calculation but the branch's letter
// and the lines of the document.
func (c *calc) signature() string {
	var b strings.Builder
	own := func(s string) string { return strings.ReplaceAll(s, "branch "+c.letters[0], "branch") }
	fmt.Fprintln(&b, c.Rule, c.Verdict, c.Clause, c.NotCovered, c.Existing, own(strings.Join(c.Notes, ";")))
	for _, s := range c.Steps {
		fmt.Fprintln(&b, s.Sym, own(s.Meaning), s.Expr, s.Filled, s.Result.Marked(), origin(s))
	}
	if c.Test != nil {
		fmt.Fprintln(&b, c.Test)
	}
	for _, m := range c.Missing {
		fmt.Fprintln(&b, own(m.What), m.Find)
	}
	return b.String()
}

func (p *calcPlace) merge(o *calcPlace) {
	p.roots = append(p.roots, o.roots...)
	p.name = "Branches " + listed(p.roots)
	for i, c := range p.calcs {
		c.letters = append(c.letters, o.calcs[i].letters...)
		for k, more := range o.calcs[i].lines {
			for _, l := range more {
				if !slices.Contains(c.lines[k], l) {
					c.lines[k] = append(c.lines[k], l)
				}
			}
		}
	}
}

// own words a text for all branches that the calculation stands for.
func (c *calc) own(s string) string {
	if len(c.letters) < 2 {
		return s
	}
	return strings.ReplaceAll(s, "branch "+c.letters[0], "each branch")
}

// places of the document in the reviewer's words.
var origins = map[string]string{
	"equipment": "nameplate", "plan": "plan", "panels": "survey", "service": "survey", "site": "site", "sources": "survey",
	"runs": "survey", "junction_boxes": "survey", "disconnects": "nameplate", "combiners": "plan", "decisions": "plan",
}

// origin says where a value is from, without the line; empty for a sum.
func origin(s working.Step) string {
	from := s.Result.From()
	switch from.Kind {
	case working.Table:
		clause := from.Clause
		if !strings.Contains(clause, ", Table") {
			clause = "table " + strings.TrimPrefix(clause, "Table ")
		}
		return join(", ", clause, from.Mark)
	case working.Computed:
		if s.Expr != "" {
			return ""
		}
		if from.Path == "" {
			return "counted"
		}
	}
	head, _, _ := strings.Cut(from.Path, ".")
	return join(", ", nameOr(origins[head], from.Path), from.Mark)
}

// join joins the parts that say something.
func join(with string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), with)
}

// source says where the value of a step is from, in lines no wider than width.
// A sum that needs two lines breaks at its sign of equality.
func (c *calc) source(i int, width float64) []string {
	s := c.Steps[i]
	if s.Expr != "" {
		hold := func(s string) string { return strings.ReplaceAll(s, " / ", noBreak+"/"+noBreak) }
		expr, filled := hold(s.Expr), hold(s.Filled)
		whole := expr
		if expr != filled {
			whole += " = " + filled
		}
		if scene.Width(whole, scene.Note, font.Regular) <= width || expr == filled {
			return scene.Wrap(whole, scene.Note, font.Regular, width)
		}
		return append(scene.Wrap(expr, scene.Note, font.Regular, width), scene.Wrap("= "+filled, scene.Note, font.Regular, width)...)
	}
	said := origin(s)
	if n := c.lines[i]; len(n) > 0 {
		word := "line"
		if len(n) > 1 {
			word = "lines"
		}
		said += ", " + word + " " + strings.Trim(strings.ReplaceAll(fmt.Sprint(n), " ", ", "), "[]")
	}
	return scene.Wrap(said, scene.Note, font.Regular, width)
}

// Columns of a calculation, mm from its left edge.
const (
	rowHigh    = 4.7
	sumLeading = 5.0 // between lines of a sum, whose subscripts hang
	meaningAt  = 20.0
	pointAt    = 93.0 // right edge of the figure
	unitAt     = 94.2
	sourceAt   = 108.0
)

// block is the calculation as strips: title, rows, comparison, what is missing.
func (c *calc) block() (b block) {
	b.add(scene.Leading(scene.Body)+0.6, c.title)
	b.again = &strip{scene.Leading(scene.Body) + 0.6, func(at scene.Point, width float64) scene.Group {
		return c.titled(c.Title+", continued", at, width)
	}}
	for i := range c.Steps {
		b.strips = append(b.strips, c.row(i))
	}
	if c.NotCovered {
		b.add(rowHigh, words("This edition is not covered by the rule: no verdict."))
	}
	if c.Test != nil {
		b.add(8.4, c.comparison)
	}
	for _, m := range c.Missing {
		said := "? missing: " + c.own(m.What)
		if m.Find != "" {
			said += ": " + m.Find
		}
		b.strips = append(b.strips, paragraph(said)...)
	}
	for _, n := range c.Notes {
		b.strips = append(b.strips, paragraph("note: "+n)...)
	}
	return b
}

// title is the verdict's shape, what must hold, and the clause.
func (c *calc) title(at scene.Point, width float64) scene.Group {
	return c.titled(c.Title, at, width)
}

func (c *calc) titled(title string, at scene.Point, width float64) scene.Group {
	var g scene.Group
	g.Add(symbol.Verdict(at.Plus(2, scene.Body/2+0.4), 1.9, c.Verdict))
	clause := clip(c.Clause, 60)
	said := join(", ", title, existing(c.Existing))
	room := width - 6 - scene.Width(clause, scene.Note, font.Regular) - 4
	size, _ := scene.FitText(said, scene.Body, font.Bold, room)
	g.Add(scene.Text{At: at.Plus(6, scene.Body+0.4), Value: wrapped(said, size, font.Bold, room, 1)[0], Size: size, Face: font.Bold},
		scene.Text{At: at.Plus(width, scene.Body+0.4), Value: clause, Size: scene.Note, Anchor: scene.End})
	return g
}

func existing(is bool) string {
	if is {
		return "existing"
	}
	return ""
}

// row is a step: symbol, what it is, value, where from.
func (c *calc) row(i int) strip {
	s := c.Steps[i]
	means := scene.Wrap(c.own(s.Meaning), scene.Note, font.Regular, pointAt-15-meaningAt)
	from := c.source(i, columnWide-sourceAt)
	high := rowHigh + max(scene.Leading(scene.Note)*float64(len(means)-1), sumLeading*float64(len(from)-1))
	drop := 0.0 // of the row under a symbol too long to stand beside it
	if _, w := symbols(scene.Point{}, s.Sym, scene.Body, font.Bold); w > meaningAt-0.5 {
		drop = rowHigh
	}
	return strip{high + drop, func(at scene.Point, width float64) scene.Group {
		var g scene.Group
		base := at.Plus(0, scene.Note+0.6)
		said := wrapped(s.Sym, scene.Body, font.Bold, width, 1)[0]
		sym, _ := symbols(base, said, scene.Body, font.Bold)
		g.Add(sym)
		base.Y += drop
		t, _ := lines(base.Plus(meaningAt, 0), means, scene.Note, font.Regular)
		g.Add(t, value(base, s.Result))
		for k, l := range from {
			t, _ := symbols(base.Plus(sourceAt, sumLeading*float64(k)), l, scene.Note, font.Regular)
			g.Add(t)
		}
		return g
	}}
}

// columnWide is the width of a calculation: half of what the frame leaves of
// ANSI B, mm.
const columnWide = 158.9

// value sets a figure with its last digit at pointAt and its unit at unitAt,
// and a word to the right edge of both; with the mark of its origin.
func value(base scene.Point, t working.Term) scene.Group {
	var g scene.Group
	said := t.String()
	number, unit, _ := strings.Cut(said, " ")
	mark := markOf(t)
	if !strings.ContainsAny(number[:1], "0123456789-?") {
		g.Add(scene.Pieces(base.Plus(sourceAt-4, 0), scene.Note, scene.End, scene.Piece{Value: said, Mark: mark}))
		return g
	}
	if mark == scene.Assumed {
		number = "[" + number
		if unit == "" {
			number += "]"
		} else {
			unit += "]"
		}
	}
	n := scene.Text{At: base.Plus(pointAt, 0), Value: number, Size: scene.Note, Anchor: scene.End}
	u := scene.Text{At: base.Plus(unitAt, 0), Value: unit, Size: scene.Note}
	g.Add(n)
	end := pointAt
	if unit != "" {
		g.Add(u)
		end = unitAt + u.Width()
	}
	if mark == scene.Given {
		y := base.Y + 0.28*scene.Note
		g.Add(scene.Line{A: scene.Point{X: n.Start().X, Y: y}, B: scene.Point{X: base.X + end, Y: y}, Stroke: scene.Fine})
	}
	return g
}

// comparison is what the finding rests on, set large.
func (c *calc) comparison(at scene.Point, width float64) scene.Group {
	var g scene.Group
	base := at.Plus(meaningAt, 5.6)
	said := c.Test.Left.String()
	if c.Test.Op != "is" {
		said += "  " + c.Test.Relation() + "  " + c.Test.Right.String()
	} else if !c.Test.Holds() && c.Test.Left.Known() {
		said += "; must be " + c.Test.Right.String()
	}
	t := scene.Text{At: base, Value: said, Size: scene.Heading, Face: font.Bold}
	g.Add(t, scene.Line{A: at.Plus(meaningAt, 0.7), B: at.Plus(pointAt+12, 0.7), Stroke: scene.Fine})
	g.Add(scene.Text{At: base.Plus(t.Width()+5, 0), Value: c.Test.Spare(), Size: scene.Body})
	return g
}

// words is a line of small lettering under the meanings.
func words(s string) func(scene.Point, float64) scene.Group {
	return func(at scene.Point, _ float64) scene.Group {
		return scene.Group{Items: []scene.Item{scene.Text{At: at.Plus(meaningAt, scene.Note+0.6), Value: s, Size: scene.Note}}}
	}
}

func paragraph(s string) (out []strip) {
	for _, l := range scene.Wrap(s, scene.Note, font.Regular, columnWide-meaningAt) {
		out = append(out, strip{scene.Leading(scene.Note), words(l)})
	}
	return out
}

// found is the finding of a rule at a place; nil where there is none.
func (in *Input) found(rule, place string) *working.Finding {
	for i := range in.Findings {
		if f := &in.Findings[i]; f.Rule == rule && f.Place == place && !f.NotCovered {
			return f
		}
	}
	return nil
}

// sum writes a side of a comparison as it was worked out: "200 + 1.25 × 19.88 =
// 224.85 A".
func sum(f *working.Finding, t working.Term) string {
	for _, s := range f.Steps {
		if s.Sym == t.Sym() && s.Expr != "" && s.Filled != quantity.Trim(t.Float(), 6) {
			return inWords(s.Filled) + " = " + t.String()
		}
	}
	return t.String()
}

// inWords says max(55, 30) as "larger of 55 and 30".
func inWords(s string) string {
	for call, said := range map[string]string{"max(": "larger of ", "min(": "smaller of "} {
		if inner, is := strings.CutPrefix(s, call); is && strings.HasSuffix(inner, ")") && !strings.ContainsAny(inner[:len(inner)-1], "()") {
			return said + listed(strings.Split(inner[:len(inner)-1], ", "))
		}
	}
	return s
}

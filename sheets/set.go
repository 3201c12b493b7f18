package sheets

import (
	"fmt"
	"slices"
	"strings"

	"legwork/plan"
	"legwork/rules"
	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/frame"
	"legwork/site"
	"legwork/where"
	"legwork/working"
)

// Input is all that a set is drawn from. The people of the title block stand
// in the plant's document.
type Input struct {
	Plant    *site.Plant
	Edition  working.Edition // 0 while the adopted edition is unknown: nothing is judged then
	Findings []working.Finding
	Choices  []plan.Choice
	Open     []working.Missing // what kept the plan from choosing
	Revision string            // "revision A, not issued"
	Date     string            // printed as it stands; the clock is never asked

	places places
	index  []entry // what is in the set, known from the second pass on
	pages  int     // pages drawn so far in this pass
	of     int
}

// From judges a plan under the plant's adopted edition and makes it ready to
// be drawn. What eyes on site confirm once it is built is left to the inspection.
func From(p *plan.Plan) *Input {
	in := &Input{Plant: p.Plant, Choices: p.Choices, Open: p.Open, Revision: "not issued"}
	if p.Plant.Edition.Known && rules.Covers(p.Plant.Edition.Value) {
		in.Edition = p.Plant.Edition.Value
		in.Findings = slices.DeleteFunc(rules.Check(p.Plant, in.Edition), working.Finding.Unconfirmed)
	}
	return in
}

// Sheet is one sheet of the set.
type Sheet struct {
	Number  string // "E-601"; its second page is E-601.2
	Name    string // for the command line: "one-line"
	Title   string
	Answers string // the question that it answers
	Draw    func(*Input) ([]*scene.Scene, error)
}

// All lists the sheets by number, general sheets first.
func All() []Sheet {
	return []Sheet{
		{"G-001", "cover", "Cover", "What is built here, under which code, and what is still to be answered?", drawCover},
		{"E-101", "roof-plan", "Roof plan", "Which modules hang on which branch, and which way does each trunk run?", drawRoofPlan},
		{"E-601", "one-line", "One-line diagram", "What carries the current from unit to utility, and what protects and disconnects it?", drawOneLine},
		{"E-603", "calculations", "Calculations", "Does each conductor, breaker and busbar hold, by which clause, and with how much to spare?", drawCalculations},
	}
}

// entry is a sheet in the index.
type entry struct {
	Sheet
	first, pages int
}

// Pick finds sheets by number or name, in the order of the set; an empty list
// picks all.
func Pick(names []string) ([]Sheet, error) {
	if len(names) == 0 {
		return All(), nil
	}
	var known []string
	wanted := map[string]bool{}
	for _, s := range All() {
		known = append(known, s.Number, s.Name)
	}
	for _, n := range names {
		i := slices.IndexFunc(known, func(k string) bool { return strings.EqualFold(k, strings.TrimSpace(n)) })
		if i < 0 {
			return nil, fmt.Errorf("sheet %q: there is none; %s", n, where.Suggest(n, known))
		}
		wanted[known[i/2*2]] = true
	}
	var out []Sheet
	for _, s := range All() {
		if wanted[s.Number] {
			out = append(out, s)
		}
	}
	return out, nil
}

// Draw draws sheets in order. It draws twice: the index and "sheet 2 of 5" need
// the count that the first pass finds.
func Draw(in *Input, which []Sheet) ([]*scene.Scene, error) {
	in.places = placesOf(in)
	in.index, in.of = nil, 0
	var all []*scene.Scene
	for range 2 {
		all, in.pages = nil, 0
		var index []entry
		for _, s := range which {
			drawn, err := s.Draw(in)
			if err != nil {
				return nil, err
			}
			index = append(index, entry{s, len(all) + 1, len(drawn)})
			all = append(all, drawn...)
		}
		in.index, in.of = index, len(all)
	}
	return all, nil
}

// blockWide is the width of a line in the title block, mm. Words without end
// are clipped to it there; the cover tells them at length.
const blockWide = 58.0

// paper gives the pages of one sheet, framed, one after another.
type paper struct {
	in       *Input
	sheet    Sheet
	read     []frame.Key
	cautions []string
	pages    []*scene.Scene
}

func (in *Input) paper(number string, read []frame.Key, cautions ...string) *paper {
	all := All()
	s := all[slices.IndexFunc(all, func(s Sheet) bool { return s.Number == number })]
	return &paper{in: in, sheet: s, read: read, cautions: cautions}
}

// next is a fresh page with frame and line of places, and the room on it.
func (p *paper) next() (*scene.Scene, frame.Room, error) {
	in, d := p.in, p.in.Plant.Job
	in.pages++
	number, title := p.sheet.Number, p.sheet.Title
	if n := len(p.pages) + 1; n > 1 {
		number = fmt.Sprintf("%s.%d", number, n)
		title += ", continued"
	}
	s, room, err := frame.Sheet(frame.Block{
		Job: clip(d.Name, 36), Address: wrapped(clip(orAsk(d.Site.Address), 60), scene.Body, font.Regular, blockWide, 1)[0], Invented: d.Invented,
		Answers: p.sheet.Answers, Plant: in.summary(), Read: p.read, Cautions: p.cautions,
		Firm: clip(orAsk(d.People.Firm), 34), License: clip(d.People.License.Value, 30),
		Number: number, Title: title, Sheet: in.pages, Of: in.of,
		Revision: in.Revision, Date: in.Date,
	})
	if err != nil {
		return nil, room, err
	}
	frame.AddLine(s, room, fitted(in.places.line, room.Line.W))
	p.pages = append(p.pages, s)
	return s, room, nil
}

package gallery

import (
	"time"

	"legwork/quantity"
	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/line"
	"legwork/web"
	"legwork/where"
	"legwork/working"
)

const document = `# An invented house: every value here is made up.
version: 1
name: 12 Invented Lane
site: {coordinates: [35.78, -78.64], hottest: 34 C, coldest: -12 C, edition: 2020}
service:
  system: 120/240 V
  fault: {current: 8.1 kA, kind: leg to leg, by: utility letter}
panels:
  MP:
    main: {rating: 200 A, feeds: top}
    busbar: ?            # label inside the door not seen yet
    spaces: 40
runs:
  home: {length: 45 ft, conductor: 10 AWG THWN-2, raceway: 3/4 EMT}
  pv_output: {length: 6 ft, conductor: 10 AWG THWN-2, raceway: 3/4 EMT}
`

var busbarMissing = working.Missing{
	Path: "panels.MP.busbar", What: "busbar rating of the main panel",
	Find:  "on the label inside the panel door; not the number on the main's handle",
	Photo: "label inside the door of MP",
}

func at(line int) where.Pos { return where.Pos{File: "invented-lane.yaml", Line: line, Col: 5} }

func given(path string, line int) working.Origin {
	return working.Origin{Kind: working.Given, Path: path, At: at(line)}
}

func fact[T any](v T, means, path string, line int) working.Fact[T] {
	return working.State(v, means, given(path, line))
}

var places = []web.Place{
	{ID: "roof", Name: "roof"}, {ID: "home", Name: "home run, branches A and B"}, {ID: "CB", Name: "combiner"},
	{ID: "pv_output", Name: "PV output"}, {ID: "MP", Name: "main panel"}, {ID: "service", Name: "service"},
}

// judged finishes a finding from its sheet.
func judged(f working.Finding, w *working.Sheet, v working.Verdict) working.Finding {
	f.Verdict, f.Edition = v, w.Edition
	f.Steps, f.Test, f.Missing, f.Notes = w.Steps(), w.Test(), w.Missing(), w.Notes()
	return f
}

func busbar(bus working.Fact[quantity.Amps], main quantity.Amps) working.Finding {
	w := working.NewSheet(2020)
	m := w.Fact("I_main", fact(main, "rating of the main breaker, from its handle", "panels.MP.main.rating", 10))
	n := w.Fact("n", working.State(quantity.Count(14), "units on both branches", working.Origin{Kind: working.Chosen, Path: "branches"}))
	i := w.Fact("I_unit", fact(quantity.Amps(1.42), "rated output current of one unit, from its nameplate", "equipment.unit.current", 4))
	out := w.Let("I_out", n.By(i), "all that the units can deliver together")
	b := w.Fact("I_bus", bus)
	sum := w.Let("I_sum", m.Plus(out.Times(1.25)), "what both ends can feed into the bar")
	limit := w.Let("I_max", b.Times(1.20))
	return judged(working.Finding{Rule: "busbar-120", Place: "MP/bus", Clause: "705.12(B)(3)(2)",
		Title: "Main plus 125 % of the source within 120 % of the busbar"}, w, w.AtMost(sum, limit))
}

func unknownBus() working.Fact[quantity.Amps] {
	return working.Fact[quantity.Amps]{Means: "rating of the busbar, from the label inside the door",
		From: working.Origin{Kind: working.Given, Path: busbarMissing.Path, At: at(11)}, Ask: busbarMissing}
}

func ampacity() working.Finding {
	w := working.NewSheet(2020)
	cell := func(v quantity.Quantity, name, title, clause string) working.Lookup {
		return func() (quantity.Quantity, working.Source, error) {
			return v, working.Source{Name: name, Title: title, Always: clause, Mark: "from memory"}, nil
		}
	}
	size := w.Fact("size", fact("10 AWG", "copper, THWN-2", "runs.home.conductor", 14))
	hot := w.Fact("t", working.Fact[quantity.Celsius]{Value: 55, Known: true, Means: "hottest place on the way: attic", From: working.Origin{Kind: working.Assumed, Path: "runs.home.segments.attic", Mark: "common practice"}})
	i90 := w.Cell("I_90", "ampacity at 90 °C", cell(quantity.Amps(40), "ampacity", "", "Table 310.16"), size)
	f1 := w.Cell("f_t", "correction for the ambient", cell(quantity.Ratio(0.76), "ambient", "", "310.15(B)(1)"), hot)
	f2 := w.Cell("f_n", "adjustment, four conductors that carry current", cell(quantity.Ratio(0.80), "adjustment", "", "310.15(C)(1)"))
	left := w.Let("I_z", i90.By(f1).By(f2))
	need := w.Let("I_need", working.State(quantity.Count(7), "", working.Origin{}).Term().By(working.Of(quantity.Amps(1.42), "", working.Origin{})).Times(1.25), "125 % of seven units")
	w.Note("reactance is left out; at this size it changes nothing")
	return judged(working.Finding{Rule: "conductor-carries", Place: "home/A", Clause: "690.8(B), 310.15",
		Title: "Home run carries the branch current"}, w, w.AtLeast(left, need))
}

func simple(rule, place, clause, title string, left, right quantity.Quantity, most bool, sym, means, limitMeans string) working.Finding {
	w := working.NewSheet(2020)
	l := w.Fact(sym, working.Of(left, means, given("runs.home", 14)))
	r := w.Fact("limit", working.Of(right, limitMeans, working.Origin{Kind: working.Table, Path: "limits", Clause: clause, Mark: "from memory"}))
	v := working.Verdict("")
	if most {
		v = w.NearIsLook(w.AtMost(l, r))
	} else {
		v = w.NearIsLook(w.AtLeast(l, r))
	}
	return judged(working.Finding{Rule: rule, Place: place, Clause: clause, Title: title}, w, v)
}

func farEnd(spot string) working.Finding {
	w := working.NewSheet(2020)
	l := w.Fact("end", fact(spot, "where the PV breaker sits", "connection.spaces", 12))
	return judged(working.Finding{Rule: "far-end", Place: "MP/bus", Clause: "705.12(B)(3)(2)", Title: "PV breaker at the end of the busbar opposite the main"},
		w, w.Is(l, "far end"))
}

func findings() []working.Finding {
	disconnect := simple("existing-main", "service", "230.79(C)", "Service disconnect of a one-family house", quantity.Amps(200), quantity.Amps(100), false, "I_main", "rating of the main", "least that the code asks for")
	disconnect.Existing = true
	return []working.Finding{
		simple("units-on-branch", "roof/A", "", "Units on branch A within the unit's listing", quantity.Count(7), quantity.Count(11), true, "n", "units on branch A", "largest number, from the unit's manual"),
		simple("units-on-branch", "roof/B", "", "Units on branch B within the unit's listing", quantity.Count(7), quantity.Count(11), true, "n", "units on branch B", "largest number, from the unit's manual"),
		ampacity(),
		simple("raceway-fill", "home", "Chapter 9, Table 1", "Fill of 3/4 EMT", quantity.SquareInches(0.1055), quantity.SquareInches(0.213), true, "A", "five conductors 10 AWG THWN-2", "40 % of 3/4 EMT"),
		simple("voltage-rise", "home/B", "", "Voltage rise to the last unit of branch B", quantity.Percent(1.99), quantity.Percent(2), true, "r", "rise from the main panel to the last unit", "target of this project; the code sets no limit"),
		simple("combiner-spaces", "CB", "", "Branch spaces in the combiner", quantity.Count(2), quantity.Count(3), true, "n", "branches", "two-pole spaces for branches"),
		simple("output-breaker", "pv_output", "705.60(B)", "PV output breaker not below 125 % of the output", quantity.Amps(30), quantity.Amps(24.85), false, "I_b", "breaker", "1.25 × 19.88 A"),
		busbar(unknownBus(), 200),
		farEnd("far end"),
		simple("interrupting", "MP/PV", "110.9", "Interrupting rating of the PV breaker", quantity.Amps(10000), quantity.Amps(8100), false, "I_c", "rating on the breaker", "available fault current"),
		disconnect,
		{Rule: "power-control", Title: "Power control system limits what enters the busbar", Place: "MP/bus", Edition: 2020, NotCovered: true},
	}
}

func stopped() web.Proof {
	over := busbar(fact(quantity.Amps(200), "rating of the busbar, from the label inside the door", "panels.MP.busbar", 11), 225)
	over.Fixes = []working.Fix{
		{Title: "Main breaker of 175 A", Hours: 3, Notes: "needs a load calculation that allows it, and a utility outage"},
		{Title: "Connect ahead of the main", Hours: 7.5, Notes: "needs a utility outage and a second visit"},
	}
	return web.Proof{Edition: 2020, Editions: []working.Edition{2017, 2020, 2023}, Places: places,
		Said: "Three rules are broken.",
		Findings: []working.Finding{
			simple("units-on-branch", "roof/A", "", "Units on branch A within the unit's listing", quantity.Count(14), quantity.Count(11), true, "n", "units on branch A", "largest number, from the unit's manual"),
			over, farEnd("next to the main"),
		}}
}

func full(now time.Time) desk {
	all := findings()
	return desk{{
		job: web.Job{ID: "invented-lane", Name: "12 Invented Lane", About: "Raleigh, North Carolina", Plant: "14 units, 4.77 kVA", Invented: true,
			Edition: 2020, Tally: web.TallyOf(all), Missing: 1, Line: plant(), Changed: now.Add(-5 * 24 * time.Hour)},
		survey: web.Survey{File: "invented-lane.yaml", Source: []byte(document), Groups: []web.Group{
			{Title: "site", Facts: []web.Fact{
				{Means: "coordinates", Value: "35.78, −78.64", Known: true, From: given("site.coordinates", 4)},
				{Means: "hottest and coldest design temperature", Value: "34 °C, −12 °C", Known: true, From: given("site.hottest", 4)},
				{Means: "elevation", Value: "315 ft", Known: true, From: working.Origin{Kind: working.Assumed, Mark: "from coordinates"}},
				{Means: "code edition", Value: "2020", Known: true, From: given("site.edition", 4)},
			}},
			{Place: "MP", Title: "main panel", Facts: []web.Fact{
				{Means: "main breaker, feeds the top of the bus", Value: "200 A", Known: true, From: given("panels.MP.main", 10)},
				{Means: busbarMissing.What, From: given(busbarMissing.Path, 11), Find: busbarMissing.Find},
				{Means: "spaces", Value: "40", Known: true, From: given("panels.MP.spaces", 12)},
			}},
			{Place: "service", Title: "service", Facts: []web.Fact{
				{Means: "system", Value: "120/240 V, 1-phase, 3-wire", Known: true, From: given("service.system", 6)},
				{Means: "available fault current, leg to leg, by letter of the utility", Value: "8.1 kA", Known: true, From: given("service.fault", 7)},
			}},
		}},
		plan: web.Plan{
			Said: "Two end-fed branches of seven units, one plane.",
			Branches: []web.Branch{
				{ID: "A", Units: 7, Where: "plane S, r1-c1 to r1-c7", Feed: "end-fed", Current: "9.94 A", Breaker: "20 A"},
				{ID: "B", Units: 7, Where: "plane S, r2-c1 to r2-c7", Feed: "end-fed", Current: "9.94 A", Breaker: "20 A"},
			},
			Circuits: []web.Circuit{
				{ID: "home", Name: "home runs A, B", Conductors: "4 × 10 AWG THWN-2", Ground: "10 AWG", Raceway: "3/4 EMT", Length: "45 ft", Breaker: "20 A",
					Governed: []web.Reason{{Finding: "conductor-carries@home/A", Title: "Home run carries the branch current"}, {Finding: "voltage-rise@home/B", Title: "Voltage rise"}}},
				{ID: "pv_output", Name: "PV output", Conductors: "2 × 10, neutral 10 AWG THWN-2", Ground: "10 AWG", Raceway: "3/4 EMT", Length: "6 ft", Breaker: "30 A",
					Governed: []web.Reason{{Finding: "output-breaker@pv_output", Title: "Breaker not below 125 % of the output"}}},
			},
			Choices: []web.Choice{
				{What: "branches", Value: "two of seven units", By: working.Chosen, Governed: []web.Reason{{Finding: "units-on-branch@roof/A", Title: "Units within the listing"}}},
				{What: "PV output breaker", Value: "30 A", By: working.Given, Governed: []web.Reason{{Title: "25 A is the least; often not in stock with two poles"}}},
				{What: "hottest place of the home run", Value: "attic, 55 °C", By: working.Assumed},
			},
		},
		proof: web.Proof{Edition: 2020, Editions: []working.Edition{2017, 2020, 2023}, Places: places, Findings: all,
			Said: "One fact stands between this plan and the counter: the busbar rating of the main panel."},
		sheets: []web.Sheet{
			{Answers: "What carries the current, what protects it, what disconnects it?", Scene: paper("E-601", "One-line diagram")},
			{Answers: "Is it allowed, and why?", Scene: paper("E-603", "Calculations")},
		},
	}}
}

// paper is a sheet without its drawing: that is not what is judged here.
func paper(number, title string) *scene.Scene {
	s := scene.Blank(scene.ANSIB, number, title)
	s.Add(scene.Rect{X: 10, Y: 10, W: 411.8, H: 259.4, Stroke: scene.New},
		scene.Line{A: scene.Point{X: 355, Y: 10}, B: scene.Point{X: 355, Y: 269.4}, Stroke: scene.Existing},
		scene.Text{At: scene.Point{X: 362, Y: 250}, Value: number, Size: 8, Face: font.Bold})
	return s
}

func plant() line.Line {
	return line.Line{Nodes: []line.Node{
		{ID: "roof", Label: "roof", Sub: "14 units", Kind: line.Roof, Strands: 2, Verdict: working.OK},
		{ID: "home", Label: "home run", Sub: "10 AWG, 45 ft", Kind: line.Run, Strands: 2, Verdict: working.Look},
		{ID: "CB", Label: "combiner", Sub: "2 of 3 filled", Kind: line.Combiner, Verdict: working.OK},
		{ID: "pv_output", Label: "PV output", Sub: "10 AWG", Kind: line.Run, Verdict: working.OK},
		{ID: "MP", Label: "main panel", Sub: "busbar rating?", Kind: line.Panel, Existing: true, Verdict: working.Ask},
		{ID: "meter", Label: "utility meter", Kind: line.Meter, Existing: true},
		{ID: "service", Label: "service", Sub: "8.1 kA", Kind: line.Service, Existing: true, Verdict: working.OK},
	}}
}

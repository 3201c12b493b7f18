package site_test

import (
	"strings"
	"testing"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/quantity"
	"legwork/site"
)

func plant(t *testing.T, doc *job.Document) *site.Plant {
	t.Helper()
	p, err := site.Resolve(doc, doc.Decisions)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// From every unit of every house a way leads to the utility, over its own trunk,
// its home run and each bus once.
func TestEveryUnitReachesTheUtility(t *testing.T) {
	for _, house := range houses.All(t) {
		p := plant(t, house.Doc)
		units := 0
		for _, n := range p.Nodes {
			if n.Kind != site.UnitNode {
				continue
			}
			units++
			way := n.Path()
			if len(way) == 0 || way[len(way)-1].To.Kind != site.UtilityNode {
				t.Errorf("%s: %s does not reach the utility", house.Name, n.ID)
				continue
			}
			if way[0].Kind != site.TrunkEdge || way[0].Trunk.To != n.Unit {
				t.Errorf("%s: %s does not leave over its own trunk", house.Name, n.ID)
			}
			seen := map[string]bool{}
			at := n
			for _, e := range way {
				if e.From != at || seen[e.To.ID] {
					t.Errorf("%s: way of %s breaks or turns back at %s", house.Name, n.ID, e.ID)
				}
				seen[e.To.ID], at = true, e.To
			}
		}
		on := 0
		for _, b := range p.Branches {
			on += len(b.Units)
		}
		if units != on {
			t.Errorf("%s: %d unit nodes, %d units on branches", house.Name, units, on)
		}
	}
}

// Counts that the scenarios state.
func TestCountsOfTheHouses(t *testing.T) {
	for name, want := range map[string]struct{ units, branches, panels, combiners int }{
		"quillfeather": {14, 2, 1, 1}, "larkbarrow": {27, 3, 1, 1}, "candlewick": {16, 2, 1, 1},
		"saltgrass": {24, 2, 1, 1}, "otterbend": {18, 2, 2, 0}, "pennywhistle": {28, 3, 1, 1}, "ocotillo": {33, 3, 1, 1},
	} {
		p := plant(t, houses.Get(t, name).Doc)
		panels, combiners := 0, 0
		for _, b := range p.Buses {
			if b.Kind == site.CombinerBus {
				combiners++
			} else {
				panels++
			}
		}
		if len(p.Units) != want.units || len(p.Branches) != want.branches || panels != want.panels || combiners != want.combiners {
			t.Errorf("%s: %d units, %d branches, %d panels, %d combiners; want %+v", name, len(p.Units), len(p.Branches), panels, combiners, want)
		}
	}
}

// The way of one unit of S1, by name.
func TestWayOfAUnit(t *testing.T) {
	p := plant(t, houses.Get(t, "quillfeather").Doc)
	var way []string
	for _, e := range p.Node("S-r1-c3").Path() {
		way = append(way, e.ID)
	}
	const want = "A/S-r1-c3 A/S-r1-c2 A/S-r1-c1 home/A pv_output service"
	if got := strings.Join(way, " "); got != want {
		t.Errorf("way %s, want %s", got, want)
	}
}

// A garage feeds the house over its feeder; a supply-side tap leaves the panel out.
func TestWaysOfOtherHouses(t *testing.T) {
	for house, want := range map[string]string{"otterbend": "feeder service", "pennywhistle": "pv_output service"} {
		p := plant(t, houses.Get(t, house).Doc)
		var way []string
		for _, e := range p.Node(p.Branches[0].Units[0].Position).Path() {
			way = append(way, e.ID)
		}
		if got := strings.Join(way[2:], " "); got != want {
			t.Errorf("%s: %s after the home run, want %s", house, got, want)
		}
	}
}

func TestCenterFedTrunk(t *testing.T) {
	doc := houses.Get(t, "quillfeather").Doc
	doc.Decisions.Branches[0].Feed = job.CenterFed
	arms := plant(t, doc).Branch("A").Trunk()
	if len(arms) != 2 || len(arms[0]) != 4 || len(arms[1]) != 3 {
		t.Fatalf("seven units center-fed: arms %d; want 4 and 3 units", len(arms))
	}
	// The larger half runs on from the middle, the other back from it.
	for i, want := range []string{"S-r1-c4", "S-r1-c5", "S-r1-c6", "S-r1-c7"} {
		if s := arms[0][i]; s.To.Position != want || len(s.Beyond) != 4-i {
			t.Errorf("longer arm, drop %d: %s with %d beyond, want %s with %d", i, s.To.Position, len(s.Beyond), want, 4-i)
		}
	}
	for i, want := range []string{"S-r1-c3", "S-r1-c2", "S-r1-c1"} {
		if s := arms[1][i]; s.To.Position != want || len(s.Beyond) != 3-i {
			t.Errorf("shorter arm, drop %d: %s with %d beyond, want %s with %d", i, s.To.Position, len(s.Beyond), want, 3-i)
		}
	}
}

// A jumper of 18 ft stands in for one spacing, and carries all units beyond it.
func TestJumper(t *testing.T) {
	b := plant(t, houses.Get(t, "larkbarrow").Doc).Branch("B")
	arm := b.Trunk()[0]
	if s := arm[1]; !s.Jumper || s.Length.Value != 18 || len(s.Beyond) != 8 {
		t.Errorf("second stretch: jumper %v, %v, %d units beyond; want a jumper of 18 ft with 8", s.Jumper, s.Length, len(s.Beyond))
	}
	if s := arm[0]; s.Jumper || s.Length.Value != 4 || len(s.Beyond) != 9 {
		t.Errorf("first stretch: jumper %v, %v, %d units beyond; want 4 ft with 9", s.Jumper, s.Length, len(s.Beyond))
	}
}

// A move puts an existing breaker in other spaces, and its feeder with it.
func TestMove(t *testing.T) {
	doc := houses.Get(t, "otterbend").Doc
	doc.Decisions.Moves = append(doc.Decisions.Moves, job.Move{Panel: "MP", From: []int{5, 7}, To: []int{38, 40}, Decided: job.Decided{By: job.Person}})
	p := plant(t, doc)
	d := p.Bus("GP").Up.Device
	if d.SpaceList() != "38, 40" || !d.Moved || !p.Bus("MP").AtEnd(d).Value {
		t.Errorf("feeder breaker in %s, moved %v; want 38, 40 at the far end", d.SpaceList(), d.Moved)
	}
}

// The device that protects a subpanel's bar is its own main or the feeder
// breaker, whichever is smaller; lugs only leave the feeder breaker.
func TestProtectionOfASubpanel(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*job.Panel)
		want   string
	}{
		{"main and feeder breaker alike", func(*job.Panel) {}, "60 A"},
		{"larger main", func(p *job.Panel) { p.Main = known(quantity.Amps(100)) }, "60 A"},
		{"smaller main", func(p *job.Panel) { p.Main = known(quantity.Amps(50)) }, "50 A"},
		{"lugs only", func(p *job.Panel) { p.Main = job.Fact[quantity.Amps]{}; p.MainLugOnly = known(true) }, "60 A"},
		{"main not read", func(p *job.Panel) { p.Main = job.Fact[quantity.Amps]{Open: true} }, "?"},
	} {
		doc := houses.Get(t, "otterbend").Doc
		for i := range doc.Panels {
			if doc.Panels[i].ID == "GP" {
				c.change(&doc.Panels[i])
			}
		}
		if got := plant(t, doc).Bus("GP").Protection().String(); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

func known[T any](v T) job.Fact[T] { return job.Fact[T]{Value: v, Known: true} }

// What the document leaves open stays unknown and says where it is found.
func TestUnknownSpreads(t *testing.T) {
	doc := houses.Get(t, "quillfeather").Doc
	doc.Panels[0].Feed = job.Fact[job.Feed]{Open: true}
	doc.Service.System = job.Fact[job.System]{Open: true}
	p := plant(t, doc)
	mp := p.Bus("MP")
	if end := mp.AtEnd(mp.Entries()[0]); end.Known || end.Ask.Path != "panels.MP.feed" {
		t.Errorf("end of the bar: known %v, asks for %q; want panels.MP.feed", end.Known, end.Ask.Path)
	}
	// Without the service system nobody knows which nameplate current counts.
	i := p.Branches[0].Units[0].Inverter
	if i.Current.Known || i.Current.Ask.Path != "service.system" || p.Nominal.Known {
		t.Errorf("current %v asks for %q, nominal %v; want both unknown by service.system", i.Current, i.Current.Ask.Path, p.Nominal)
	}
}

// Breakers at the ends of bars fed from top, bottom and center.
func TestEndsOfABar(t *testing.T) {
	for _, c := range []struct {
		feed        job.Feed
		top, middle bool
		bottom      bool
	}{
		{job.FeedTop, false, false, true}, {job.FeedBottom, true, false, false}, {job.FeedCenter, true, false, true},
	} {
		doc := houses.Get(t, "quillfeather").Doc
		doc.Panels[0].Feed = known(c.feed)
		mp := plant(t, doc).Bus("MP")
		for spaces, want := range map[[2]int]bool{{2, 4}: c.top, {1, 3}: c.top, {19, 21}: c.middle, {38, 40}: c.bottom, {37, 39}: c.bottom} {
			if got := mp.AtEnd(&site.Breaker{Name: "PV", Spaces: spaces[:]}).Value; got != want {
				t.Errorf("fed from %s, spaces %v: at an end %v, want %v", c.feed, spaces, got, want)
			}
		}
	}
}

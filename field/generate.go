package field

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// Conditions is what the procedure depends on beside the plant.
type Conditions struct {
	Agreement Agreement
	// MainSwap says that the service main or its panel is exchanged on this
	// visit. A job document has no such decision yet.
	MainSwap bool
}

// Generate is the procedure for a plant under the default agreement.
func Generate(p *site.Plant) Procedure {
	return GenerateUnder(p, Conditions{Agreement: DefaultAgreement()})
}

// GenerateUnder is the procedure for a plant: build, before power, energizing in
// order from the utility side, one branch at a time, and what follows. The same
// plant and conditions give the same procedure. What the plant does not know
// stays an unknown limit, and its reading is then Ask.
//
// Source: the sequence and its limits are those of
// testdata/reference/energizing.csv, each step with its own basis.
func GenerateUnder(p *site.Plant, c Conditions) Procedure {
	g := &generator{plant: p, cond: c, sheet: working.NewSheet(p.Edition.Value)}
	g.survey()
	g.buildSteps()
	g.deadSteps()
	g.landingSteps()
	g.utilitySteps()
	g.meterSteps()
	g.branchSteps()
	g.functionSteps()
	g.finishSteps()
	return Procedure{Steps: g.steps, MakeDead: g.makeDead()}
}

type generator struct {
	plant *site.Plant
	cond  Conditions
	sheet *working.Sheet
	steps []Step

	legs       []string    // L1, L2 and on 208Y/120 L3
	collectors []*site.Bus // buses on which branches land
	chain      []device    // overcurrent devices from the utility to the collectors
	tap        *site.SupplyTap
	torques    int // terminals with a torque reading
}

// device is one device on the way from the utility to the branches.
type device struct {
	breaker *site.Breaker // nil for a panel's own main
	on      *site.Bus     // where it sits; nil for a fused disconnect
	feeds   *site.Bus
	name    string // of a disconnect
	place   string
}

// survey finds what the steps ask for again and again.
func (g *generator) survey() {
	g.legs = []string{"L1", "L2"}
	if g.wye() {
		g.legs = append(g.legs, "L3")
	}
	for _, b := range g.plant.Branches {
		if b.Bus != nil && !slices.Contains(g.collectors, b.Bus) {
			g.collectors = append(g.collectors, b.Bus)
		}
	}
	seen := map[*site.Bus]bool{}
	for _, c := range g.collectors {
		var path []device
		for b := c; b != nil && b.Up != nil && !seen[b]; b = b.Up.To {
			seen[b] = true
			if b.HasMain {
				path = append(path, device{on: b, feeds: b, place: b.ID + "/main"})
			}
			d := device{breaker: b.Up.Device, on: b.Up.To, feeds: b}
			if d.on != nil {
				d.place = d.on.ID + "/" + b.Up.Device.Place()
			} else {
				g.tap = b.Up.Supply
				d.name, d.place = g.switchName()
			}
			path = append(path, d)
		}
		slices.Reverse(path)
		g.chain = append(g.chain, path...)
	}
}

// switchName is the name and place of the disconnect behind the tap.
func (g *generator) switchName() (name, place string) {
	if d := g.tap.Disconnect; d != nil {
		return d.Name.Value, d.ID
	}
	return "?", g.tap.Connection.ID + "/disconnect"
}

func (g *generator) wye() bool { return g.plant.Nominal.Known && g.plant.Nominal.Value == 208 }

// service is the panel that holds the service main; a plant may not know it.
func (g *generator) service() *site.Bus { return g.plant.Service.Panel }

func (g *generator) serviceName() string {
	if g.service() == nil {
		return "?"
	}
	return g.service().Name
}

func (g *generator) servicePlace() string {
	if g.service() == nil {
		return "service"
	}
	return g.service().ID + "/bus"
}

// panels are the panels that the work opens, the service panel first.
func (g *generator) panels() []*site.Bus {
	var out []*site.Bus
	for _, b := range slices.Backward(g.plant.Buses) {
		if b.Kind == site.PanelBus && (b == g.service() || g.lands(b)) {
			out = append(out, b)
		}
	}
	return out
}

// lands reports whether something of this job is landed or moved in a panel.
func (g *generator) lands(b *site.Bus) bool {
	return slices.ContainsFunc(b.Breakers, func(d *site.Breaker) bool { return d.New || d.Moved || d.Carries != nil && d.Carries.HasSource() })
}

func (g *generator) add(s Step) { g.steps = append(g.steps, s) }

// say makes a Text from a key and its slots in pairs.
func say(key string, slots ...string) Text {
	t := Text{Key: key}
	for i := 0; i+1 < len(slots); i += 2 {
		if t.Slots == nil {
			t.Slots = map[string]string{}
		}
		t.Slots[slots[i]] = slots[i+1]
	}
	return t
}

// step begins a step whose sentences stand under "step.NAME".
func step(id, name string, phase Phase, place string, slots ...string) Step {
	return Step{ID: id, Phase: phase, Place: place,
		Title: say("step."+name, slots...), Why: say("why." + name)}
}

// do lists the detail sentences "do.NAME.1" to "do.NAME.n".
func do(name string, n int) []Text {
	var out []Text
	for i := range n {
		out = append(out, say("do."+name+"."+strconv.Itoa(i+1)))
	}
	return out
}

// noReason is a hold that passes by its readings and by nothing else.
func noReason() *Hold { return &Hold{} }

// exactly asks for a count to be met.
func exactly(id string, what Text, n int) Expect {
	v := working.Of(quantity.Count(n), what.Key, working.Origin{Kind: working.Computed})
	return Expect{ID: id, What: what, Unit: v.Unit(), Value: &v, Stop: Band{&v, &v}}
}

// atMost is a reading with upper limits of the trade.
func atMost(id string, what Text, between string, look, stop *working.Term) Expect {
	unit := quantity.Unit("")
	for _, t := range []*working.Term{look, stop} {
		if t != nil {
			unit = t.Unit()
		}
	}
	return Expect{ID: id, What: what, Between: between, Unit: unit, Look: Band{High: look}, Stop: Band{High: stop}}
}

// pairs are all pairs of points: legs with each other, with neutral, with ground.
func (g *generator) pairs(neutral bool) []string {
	var out []string
	for i, a := range g.legs {
		for _, b := range g.legs[i+1:] {
			out = append(out, a+"-"+b)
		}
	}
	for _, other := range []string{"N", "G"} {
		if other == "N" && !neutral {
			continue
		}
		for _, a := range g.legs {
			out = append(out, a+"-"+other)
		}
	}
	return out
}

// legPairs are the pairs between legs.
func (g *generator) legPairs() []string {
	return g.pairs(false)[:len(g.legs)*(len(g.legs)-1)/2]
}

// list joins ids for a sentence.
func list(ids []string) string { return strings.Join(ids, ", ") }

func branchIDs(bs []*site.Branch) []string {
	var out []string
	for _, b := range bs {
		out = append(out, b.ID)
	}
	return out
}

func number(n int) string { return fmt.Sprint(n) }

// spaces prints a breaker's spaces, "?" while nobody has decided.
func spaces(d *site.Breaker) string {
	if len(d.Spaces) == 0 {
		return "?"
	}
	return d.SpaceList()
}

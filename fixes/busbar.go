package fixes

import (
	"fmt"
	"math"
	"slices"

	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// bySums are the rules that compare a sum with a busbar.
var bySums = []string{"busbar-100", "busbar-120", "busbar-center", "busbar-sum", "busbar-feedthrough"}

// fullPanels are the panels that a sum or a position stops, each once.
func (c *Case) fullPanels() []*site.Bus {
	var out []*site.Bus
	for _, f := range c.stopsBy(append([]string{"busbar-end", "spaces-free"}, bySums...)...) {
		if b := c.Plant.Bus(site.PlaceRoot(f.Place)); b != nil && b.Kind == site.PanelBus && !slices.Contains(out, b) {
			out = append(out, b)
		}
	}
	return out
}

func amps(a quantity.Amps) string { return working.Figure(a.Float(), a.Unit()) }

// smallerMain takes the largest standard main that makes room on the bar. Whether
// load and 230.79(C) allow it, the rules say.
func smallerMain(c *Case) []Edit {
	var out []Edit
	for _, b := range c.fullPanels() {
		ratings, err := tables.StandardRatings(c.Edition)
		if err != nil || !b.HasMain || !b.Main.Known {
			continue
		}
		for _, r := range slices.Backward(ratings) {
			if r >= b.Main.Value {
				continue
			}
			e := Edit{Title: fmt.Sprintf("%s main in the %s", amps(r), b.Name), Slot: "main of " + b.ID, Touches: []string{b.ID},
				Takes: []Take{{"main_smaller", 1}},
				Apply: func(x *Draft) { x.panel(b.ID).Main = known(r) }}
			if c.helps(bySums, e) {
				out = append(out, e)
				break
			}
		}
	}
	return out
}

// sumOfBreakers judges the bar by the sum of all breakers.
func sumOfBreakers(c *Case) []Edit {
	var out []Edit
	for _, b := range c.fullPanels() {
		out = append(out, Edit{Title: "judge the " + b.Name + " by the sum of its breakers, with the label that goes with it", Slot: "method of " + b.ID,
			Touches: []string{b.ID}, Takes: []Take{{"sum_of_breakers", 1}},
			Apply: func(x *Draft) { x.panel(b.ID).Method = known(job.SumOfBreakers) }})
	}
	return out
}

// newBars are the usual ratings of new dwelling panels. Common practice.
var newBars = []quantity.Amps{100, 125, 150, 200, 225, 400}

// newPanel puts a panel with the next larger bar that helps, and the duties of
// new service equipment with it.
func newPanel(c *Case) []Edit {
	var out []Edit
	for _, b := range c.fullPanels() {
		for _, bar := range newBars {
			if !b.Rating.Known || bar <= b.Rating.Value {
				continue
			}
			e := Edit{Title: fmt.Sprintf("new %s with a busbar of %s and the main as it is", b.Name, amps(bar)), Slot: "panel " + b.ID, Touches: []string{b.ID},
				Takes: []Take{{"panel_new", 1}},
				Apply: func(x *Draft) {
					p := x.panel(b.ID)
					p.Busbar, p.Emergency, p.Surge, p.Electrodes = known(bar), known(true), known(true), known(true)
				}}
			if c.helps(bySums, e) {
				out = append(out, e)
				break
			}
		}
	}
	return out
}

// powerControl holds the sources to what the bar can take.
func powerControl(c *Case) []Edit {
	var out []Edit
	for _, f := range c.stopsBy("busbar-100", "busbar-120", "busbar-center") {
		b := c.Plant.Bus(site.PlaceRoot(f.Place))
		if b == nil || !b.Protection().Known || f.Test == nil {
			continue
		}
		set := quantity.Amps(math.Floor(quantity.Snap((f.Test.Right.Float() - b.Protection().Value.Float()) / 1.25)))
		if !(set >= 1) {
			continue
		}
		e := Edit{Title: fmt.Sprintf("listed power control that holds the sources to %s", amps(set)), Slot: "control of " + b.ID, Touches: []string{b.ID},
			Takes: []Take{{"power_control", 1}},
			Apply: func(x *Draft) {
				x.Decisions.Controls = append(x.Decisions.Controls, job.Control{ID: "power-control-" + b.ID, Monitors: []string{b.ID},
					SetPoint: known(set), Listed: known(true), Locked: known(true), Decided: job.Decided{By: job.Tool}})
			}}
		if c.helps([]string{f.Rule}, e) {
			out = append(out, e)
		}
	}
	return out
}

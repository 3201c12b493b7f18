package fixes

import (
	"fmt"
	"slices"

	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// byWire are the rules that a thicker conductor can satisfy.
var byWire = []string{"terminals", "conductor-carries", "breaker-protects", "voltage-rise", "supply-size", "supply-neutral"}

// mostSizes is how many sizes up a person would go.
const mostSizes = 5

// stoppedRuns are the runs that a stop of some rules is about, each once; a rise
// is about all runs from the branch to the service.
func (c *Case) stoppedRuns(rules ...string) []*site.Run {
	var out []*site.Run
	add := func(r *site.Run) {
		if r != nil && !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	for _, f := range c.stopsBy(rules...) {
		root := site.PlaceRoot(f.Place)
		add(c.Plant.Run(root))
		if b := c.Plant.Branch(root); b != nil {
			add(b.Run)
			for bus := b.Bus; bus != nil && bus.Up != nil; bus = bus.Up.To {
				add(bus.Up.Run)
			}
		}
	}
	return out
}

// wireWork is the work of pulling a run anew, for each foot of each conductor.
func wireWork(r *site.Run) []Take {
	n := 0
	for _, w := range r.Wires() {
		n += w.Count
	}
	kind := "wire"
	if slices.ContainsFunc(r.Segments, func(s *site.Segment) bool { return s.Where.Known && s.Where.Value == job.Buried }) {
		kind = "buried_wire"
	}
	return []Take{{kind, float64(n) * r.Length.Value.Float()}}
}

// largerWire pulls the smallest size that helps, and the smallest that helps more. A ground that would then be too
// small is raised with them, and a neutral never stays below the ground.
func largerWire(c *Case) []Edit {
	var out []Edit
	for _, r := range c.stoppedRuns(byWire...) {
		if !r.Conductors.Size.Known {
			continue
		}
		tried, left := 0, len(c.stopsBy(byWire...))
		for s := r.Conductors.Size.Value + 1; s <= quantity.KCMil500 && tried < mostSizes; s++ {
			if _, err := tables.Ampacity(s, r.Conductors.Material.Value, 75); err != nil {
				continue
			}
			tried++
			e := withGround(c, r, s)
			if n := c.left(byWire, e); n < left {
				left = n
				out = append(out, e)
			}
		}
	}
	return out
}

// withGround is the edit to a size, with the smallest ground that passes.
func withGround(c *Case, r *site.Run, size quantity.Size) Edit {
	e := wireEdit(r, size, r.Conductors.Ground.Value)
	if !r.Conductors.HasGround || !r.Conductors.Ground.Known {
		return e
	}
	for g := r.Conductors.Ground.Value; g <= size; g++ {
		if _, err := tables.CircularMils(g); err != nil {
			continue
		}
		grown := wireEdit(r, size, g)
		small := slices.ContainsFunc(c.judge(grown), func(f working.Finding) bool { return f.Rule == "equipment-ground" && f.Place == r.ID })
		if !small {
			return grown
		}
	}
	return e
}

func wireEdit(r *site.Run, size, ground quantity.Size) Edit {
	title := fmt.Sprintf("%s %s in the %s", size, r.Conductors.Material.Value, r.Name)
	if r.Conductors.HasGround && ground != r.Conductors.Ground.Value {
		title += fmt.Sprintf(" with a %s ground", ground)
	}
	return Edit{Title: title, Slot: "size of " + r.ID, Touches: []string{r.ID}, Takes: wireWork(r), Apply: func(x *Draft) {
		w := x.conductors(r.ID)
		if w == nil {
			return
		}
		w.Size = known(size)
		if w.Ground.Known {
			w.Ground = known(ground)
			if w.Neutral.Known && w.Neutral.Value < ground {
				w.Neutral = known(ground)
			}
		}
	}}
}

// largerGround pulls a larger equipment ground.
func largerGround(c *Case) []Edit {
	var out []Edit
	for _, r := range c.stoppedRuns("equipment-ground") {
		if !r.Conductors.Ground.Known || !r.Conductors.Size.Known {
			continue
		}
		for g := r.Conductors.Ground.Value + 1; g <= r.Conductors.Size.Value; g++ {
			e := Edit{Title: fmt.Sprintf("%s ground in the %s", g, r.Name), Slot: "ground of " + r.ID, Touches: []string{r.ID},
				Takes: []Take{{"ground", r.Length.Value.Float()}},
				Apply: func(x *Draft) {
					if w := x.conductors(r.ID); w != nil {
						w.Ground = known(g)
					}
				}}
			if c.helps([]string{"equipment-ground"}, e) {
				out = append(out, e)
				break
			}
		}
	}
	return out
}

// largerRaceway takes the next trade size, where a stop is about the run.
func largerRaceway(c *Case) []Edit {
	var out []Edit
	for _, r := range c.stoppedRuns(append([]string{"raceway-fill"}, byWire...)...) {
		if !r.Conductors.Trade.Known || r.Existing {
			continue
		}
		next := r.Conductors.Trade.Value + 1
		if next > slices.Max(quantity.TradeSizes()) {
			continue
		}
		out = append(out, Edit{Title: fmt.Sprintf("%s %s for the %s", next, r.Conductors.Raceway.Value, r.Name), Slot: "raceway of " + r.ID, Touches: []string{r.ID},
			Takes: []Take{{"raceway", r.Length.Value.Float()}},
			Apply: func(x *Draft) {
				if w := x.conductors(r.ID); w != nil {
					w.Trade = known(next)
				}
			}})
	}
	return out
}

// noAdder is an insulation that the heat of a roof adds nothing to: 310.15(B)(2),
// exception (2020).
const noAdder tables.Insulation = "XHHW-2"

// otherInsulation pulls XHHW-2.
func otherInsulation(c *Case) []Edit {
	var out []Edit
	for _, r := range c.stoppedRuns("conductor-carries", "breaker-protects", "insulation-wet") {
		if r.Conductors.Insulation.Known && r.Conductors.Insulation.Value == noAdder {
			continue
		}
		takes := wireWork(r)
		takes[0].Work = "insulation"
		out = append(out, Edit{Title: fmt.Sprintf("%s in the %s", noAdder, r.Name), Slot: "insulation of " + r.ID, Touches: []string{r.ID}, Takes: takes,
			Apply: func(x *Draft) {
				if w := x.conductors(r.ID); w != nil {
					w.Insulation = known(noAdder)
				}
			}})
	}
	return out
}

// clear is the height above a roof at which no edition adds heat: 7/8 in, which
// 2017 and 2020 ask; 2023 is content with 3/4 in.
const clear quantity.Feet = 7.0 / 8 / 12

// raiseRaceway lifts a raceway off a sunny roof.
func raiseRaceway(c *Case) []Edit {
	var out []Edit
	for _, r := range c.stoppedRuns("conductor-carries", "breaker-protects") {
		var low []int
		var feet float64
		for _, s := range r.Segments {
			if s.Where.Known && s.Where.Value == job.OnRoof && s.Height.Known && s.Height.Value < clear {
				low, feet = append(low, s.Index), feet+s.Length.Value.Float()
			}
		}
		if len(low) == 0 {
			continue
		}
		out = append(out, Edit{Title: fmt.Sprintf("lift the raceway of the %s to 7/8 in above the roof", r.Name), Slot: "height of " + r.ID, Touches: []string{r.ID},
			Takes: []Take{{"raise", feet}},
			Apply: func(x *Draft) {
				for i := range x.Doc.Runs {
					if x.Doc.Runs[i].ID == r.ID {
						for _, k := range low {
							x.Doc.Runs[i].Segments[k].Height = known(clear)
						}
					}
				}
			}})
	}
	return out
}

// otherBreaker takes the smallest standard rating that holds 125 % of the output.
func otherBreaker(c *Case) []Edit {
	var out []Edit
	for _, r := range c.stoppedRuns("output-breaker", "breaker-protects") {
		for i := range c.Decisions.Connections {
			o := &c.Decisions.Connections[i]
			if o.Run != r.ID || o.Kind != job.BackfedBreaker {
				continue
			}
			rating, ok := leastRating(c, c.Decisions.Branches, o.From)
			if !ok || o.Breaker.Known && o.Breaker.Value == rating {
				continue
			}
			out = append(out, Edit{Title: "PV breaker of " + amps(rating), Slot: "rating of " + o.ID, Touches: []string{o.Panel}, Takes: []Take{{"breaker_new", 1}},
				Apply: func(x *Draft) { x.connection(r.ID).Breaker = known(rating) }})
		}
	}
	return out
}

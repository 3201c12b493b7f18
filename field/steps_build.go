package field

import (
	"strconv"

	"legwork/site"
)

// buildSteps is mounting, trunk, enclosures, holes and pulling, up to conductors
// that lie with both ends free.
func (g *generator) buildSteps() {
	roof := func(s Step) Step {
		s.StaysLive = []Text{moduleLeads(), say("live.overhead")}
		s.Wear, s.Weather, s.Second = wearRoof(), say("weather.roof"), say("second.roof")
		return s
	}
	for _, plane := range g.plant.Job.Planes {
		n := 0
		for _, u := range g.plant.Units {
			if u.Plane.ID == plane.ID {
				n++
			}
		}
		s := roof(step("mount-"+plane.ID, "mount", Build, plane.ID, "plane", plane.ID))
		s.Do = do("mount", 4)
		s.Expect = []Expect{exactly("modules", say("measure.modules", "plane", plane.ID), n)}
		s.Mark, s.Basis = CommonPractice, "29 CFR 1926.501, 1926.1053 for falls and ladders"
		g.add(s)
	}
	for _, b := range g.plant.Branches {
		s := roof(step("trunk-"+b.ID, "trunk", Build, b.ID, "branch", b.ID, "units", number(len(b.Units))))
		s.Do = do("trunk", 5)
		s.Expect = []Expect{exactly("units", say("measure.units", "branch", b.ID), len(b.Units))}
		s.Mark = CommonPractice
		g.add(s)
	}
	for _, c := range g.collectors {
		if !c.New {
			continue
		}
		s := step("hang-"+c.ID, "hang", Build, c.ID, "bus", c.Name)
		s.StaysLive = []Text{say("live.nothing_in_enclosure"), say("live.in_the_wall")}
		s.Do, s.Wear, s.Weather = do("hang", 5), wearHands(), say("weather.enclosure")
		s.Mark, s.Basis = Standard, "NFPA 70, 110.26, 110.12(A), 300.5, 312.5"
		g.add(s)
	}
	for _, r := range g.plant.Runs {
		if r.Existing || len(r.Circuits) == 0 {
			continue
		}
		c := r.Conductors
		s := step("pull-"+r.ID, "pull", Build, r.ID, "run", r.Name, "count", strconv.Itoa(2*len(r.Circuits)),
			"size", c.Size.String(), "insulation", c.Insulation.String(), "raceway", c.Raceway.String(), "trade", c.Trade.String(), "length", r.Length.String())
		s.StaysLive = []Text{say("live.existing_raceways"), moduleLeads()}
		s.Do = []Text{g.pullGround(r), g.pullNeutral(r), say("do.pull.1"), say("do.pull.2"), say("do.pull.3")}
		s.Wear, s.Weather, s.Second = wearHands(), say("weather.roof"), say("second.ends")
		s.Mark, s.Basis = Standard, "NFPA 70, 200.6, 250.119, 300.17; the colors of the legs are common practice"
		g.add(s)
	}
}

func (g *generator) pullGround(r *site.Run) Text {
	if !r.Conductors.HasGround {
		return say("do.pull.raceway_is_ground")
	}
	return say("do.pull.ground", "size", r.Conductors.Ground.String())
}

func (g *generator) pullNeutral(r *site.Run) Text {
	if !r.Conductors.HasNeutral {
		return say("do.pull.no_neutral")
	}
	return say("do.pull.neutral", "size", r.Conductors.Neutral.String())
}

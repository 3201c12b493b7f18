package place

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"legwork/quantity"
	"legwork/where"
)

// NearBorder is how close to a border the map is not trusted: some towns keep
// the time of the other side, and the lines are simplified.
const NearBorder quantity.Feet = 20000 / 0.3048

// ZoneChoice is a zone that may hold at a point.
type ZoneChoice struct {
	Name     string        // IANA name
	Inside   bool          // the point lies in it on the map
	Distance quantity.Feet // to its border when it does not
}

// Zone is the time zone of a point: settled when only one clock may hold.
type Zone struct {
	Name    string       // IANA name; empty when a person must say
	Choices []ZoneChoice // what may hold, likeliest first
}

// Settled says that nobody needs to be asked.
func (z Zone) Settled() bool { return z.Name != "" }

// Question is what to ask where the border is near, empty when settled.
func (z Zone) Question() string {
	if z.Settled() {
		return ""
	}
	var names []string
	for _, c := range z.Choices {
		if c.Inside {
			names = append(names, c.Name+" (on the map)")
		} else {
			names = append(names, fmt.Sprintf("%s (%.0f miles away)", c.Name, float64(c.Distance/Mile)))
		}
	}
	return "a time zone border is near: which clock does the house keep, " + strings.Join(names, " or ") + "?"
}

// TimeZone is the zone at a point by the map. Within NearBorder of a zone with
// another clock it is left open. Zones that have shown the same time since 2020
// do not count as another clock. A point out at sea, or in another country, is an
// error unless a zone is near.
//
// Source: OpenStreetMap by way of timezone-boundary-builder 2025b.
// Valid: the United States and territories; law and custom may differ near
// borders, so that a person can always overrule it.
func TimeZone(latitude, longitude quantity.Degrees) (Zone, error) {
	if !(latitude >= -90 && latitude <= 90 && longitude >= -180 && longitude <= 180) {
		return Zone{}, where.Error{Path: "coordinates", Came: fmt.Sprintf("%g, %g", float64(latitude), float64(longitude)), Expected: "latitude -90 to 90 and longitude -180 to 180"}
	}
	x, y := float64(longitude)*scale, float64(latitude)*scale
	clocks := map[string]string{}
	var choices []ZoneChoice
	for _, z := range zones() {
		c := ZoneChoice{Name: z.name, Distance: quantity.Feet(math.Inf(1))}
		for _, p := range z.polygons {
			if p.contains(x, y) {
				c.Inside, c.Distance = true, 0
				break
			}
			c.Distance = min(c.Distance, p.distance(x, y, NearBorder))
		}
		if c.Distance <= NearBorder {
			choices = append(choices, c)
			clocks[c.Name] = z.clock
		}
	}
	if len(choices) == 0 {
		return Zone{}, where.Error{Path: "coordinates", Came: fmt.Sprintf("%g, %g", float64(latitude), float64(longitude)), Expected: "a point in the United States", Try: "west of Greenwich is negative; else give the time zone by name"}
	}
	slices.SortStableFunc(choices, func(a, b ZoneChoice) int { return cmp.Compare(a.Distance, b.Distance) })
	first := clocks[choices[0].Name]
	choices = slices.DeleteFunc(choices, func(c ZoneChoice) bool { return c.Name != choices[0].Name && clocks[c.Name] == first })
	z := Zone{Choices: choices}
	if len(choices) == 1 {
		z.Name = choices[0].Name
	}
	return z, nil
}

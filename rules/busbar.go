package rules

import (
	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/working"
)

// busMethod is the way in which a busbar takes a source.
type busMethod int

const (
	byHundred  busMethod = iota // any position
	byOpposite                  // sources at opposite ends, 120 %
	byCenter                    // center-fed panel of a dwelling, 120 %
	bySum                       // all breakers but the main
)

// methodOf picks the method that the busbar is judged by: the plain sum where it
// passes, since it asks for no position; all breakers for a combiner that holds
// nothing but sources and their meter; else what the feed of the bus allows.
func methodOf(p *site.Plant, b *site.Bus) busMethod {
	if b.Kind == site.CombinerBus {
		return bySum
	}
	if i, known := amps(b.Groups()); known && len(b.ExistingSources()) == 0 && b.Rating.Known && b.Protection().Known {
		if quantity.Compare(1.25*i+b.Protection().Value.Float(), b.Rating.Value.Float()) <= 0 {
			return byHundred
		}
	}
	if b.Feed.Known && b.Feed.Value == job.FeedCenter && p.Occupancy.Value == job.Dwelling {
		return byCenter
	}
	return byOpposite
}

// takes filters buses with sources that are judged by a method.
func takes(m busMethod) func(*site.Plant, *site.Bus) bool {
	return func(p *site.Plant, b *site.Bus) bool { return b.HasSource() && methodOf(p, b) == m }
}

// mainPlusSource compares main plus 125 % of the sources with a part of the
// busbar rating.
func mainPlusSource(w *working.Sheet, b *site.Bus, part float64) working.Verdict {
	src := busCurrent(w, b)
	main := w.Fact("I_main", b.Protection())
	bus := w.Fact("I_bus", b.Rating)
	sum := w.Let("I_sum", main.Plus(src.Times(1.25)), "all that can reach one point of the bar")
	limit := bus
	if part != 1 {
		limit = w.Let("I_max", bus.Times(part), "what the bar may be offered")
	}
	return w.NearIsLook(w.AtMost(sum, limit))
}

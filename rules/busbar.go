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
	byHundred  busMethod = iota // the plain sum, any position
	byOpposite                  // sources at opposite ends, 120 %
	byCenter                    // center-fed panel of a dwelling, 120 %
	bySum                       // all breakers but the main
)

// methodOf picks the method that the busbar is judged by: the plain sum where it
// passes, since it asks for no position; all breakers for a combiner that holds
// nothing but sources and their meter; else what the feed of the bus allows.
func methodOf(p *site.Plant, b *site.Bus) busMethod {
	if b.Kind == site.CombinerBus || b.Change != nil && b.Change.BySum {
		return bySum
	}
	if i, known := ampsInto(p, b); known && b.Rating.Known && b.Protection().Known {
		if quantity.Compare(1.25*i+b.Protection().Value.Float(), b.Rating.Value.Float()) <= 0 {
			return byHundred
		}
	}
	switch {
	case !b.Feed.Known || b.Feed.Value != job.FeedCenter:
		return byOpposite
	case p.Occupancy.Known && p.Occupancy.Value != job.Dwelling:
		return byHundred // a center-fed bar has no opposite end, and 120 % is for dwellings
	}
	return byCenter
}

// ampsInto is the current of all sources that can enter a bus, where all are
// known; a power control system may hold it lower.
func ampsInto(p *site.Plant, b *site.Bus) (float64, bool) {
	i, known := amps(b.Groups())
	for _, s := range b.ExistingSources() {
		i += s.Current.Value.Float()
		known = known && s.Current.Known
	}
	if b.Control != nil && p.Edition.Value >= controlSince {
		return min(i, b.Control.SetPoint.Value.Float()), known && b.Control.SetPoint.Known
	}
	return i, known
}

// takes filters buses with sources that are judged by a method.
func takes(m busMethod) func(*site.Plant, *site.Bus) bool {
	return func(p *site.Plant, b *site.Bus) bool { return b.HasSource() && methodOf(p, b) == m }
}

// mainPlusSource compares main plus 125 % of the sources with a part of the
// busbar rating. What must be known for that part to apply comes last.
func mainPlusSource(w *working.Sheet, b *site.Bus, part float64, conditions ...working.Term) working.Verdict {
	src := busCurrent(w, b)
	if b.Control != nil && w.Edition >= controlSince {
		src = w.Let("I_held", working.Least(src, w.Fact("I_set", b.Control.SetPoint)), "what the power control lets through")
	}
	main := w.Fact("I_main", b.Protection())
	bus := w.Fact("I_bus", b.Rating)
	sum := w.Let("I_sum", main.Plus(src.Times(1.25)), "all that can reach one point of the bar")
	limit := bus
	if part != 1 {
		limit = w.Let("I_max", bus.Times(part), "what the bar may be offered")
	}
	for _, c := range conditions {
		limit = limit.Needs(c)
	}
	v := w.NearIsLook(w.AtMost(sum, limit))
	noteByRating(w, b, v, limit)
	return v
}

// controlSince is the first edition with a clause for power control (705.13).
const controlSince = 2020

// noteByRating shows the older reading, by the ratings of the source breakers,
// where it says otherwise than 125 % of the current does.
func noteByRating(w *working.Sheet, b *site.Bus, v working.Verdict, limit working.Term) {
	if !b.Protection().Known || !limit.Known() || v == working.Ask {
		return
	}
	sum := b.Protection().Value.Float()
	for _, d := range b.Entries() {
		if !d.Rating.Known {
			return
		}
		sum += d.Rating.Value.Float()
	}
	if fits := quantity.Compare(sum, limit.Float()) <= 0; fits != (v != working.Stop) {
		says := map[bool]string{true: "pass", false: "fail"}[fits]
		w.Note("by the ratings of the source breakers, as editions before 2014 had it, %s against %s would %s; 125 %% of the output current governs",
			working.Figure(sum, limit.Unit()), limit, says)
	}
}

package field

import (
	"maps"
	"slices"

	"legwork/where"
)

// State is what a set of events says. It is the same for every order of arrival
// and however often an event came.
type State struct {
	Entries   []Entry    // what was told, in the order of the fold, corrections applied
	Conflicts []Conflict // ids that came with more than one story
	Orphans   []Event    // corrections that bear on nothing: their target has not arrived, or is itself disputed or unreadable
	Faults    []Fault    // events that cannot be read; they are kept and count for nothing
}

// Entry is one event as it stands after its corrections.
type Entry struct {
	Event       Event
	Body        Body   // what holds now; nil when withdrawn or disputed
	Withdrawn   bool   // a correction withdrew it
	Disputed    bool   // its id came with two stories, and no correction has settled it
	Corrections []ID   // all that bear on it, in the order of the fold
	By          Event  // the event whose word holds: the event itself, or a correction
	Told        []byte // Body as JSON; nil when Body is
}

// Conflict is one id with several bodies, all kept, by hash.
type Conflict struct {
	ID     ID
	Events []Event
	Hashes []string
}

// Fault is an event that cannot be read.
type Fault struct {
	Event Event
	Err   error
}

// Fold reads events in any order of arrival. An event that came twice counts
// once. An id with two stories counts for nothing until a correction settles it,
// and both stories are kept. Nothing is deleted.
//
// It fails only for an event that did not come from Decode.
func Fold(events []Event) (State, error) {
	stories := map[ID]map[string]Event{}
	for _, e := range events {
		h, err := e.Hash()
		if err != nil {
			return State{}, err
		}
		if stories[e.ID] == nil {
			stories[e.ID] = map[string]Event{}
		}
		stories[e.ID][h] = e
	}
	f := folder{children: map[ID][]correction{}, reached: map[ID]bool{}}
	var told []Entry
	for _, id := range slices.Sorted(maps.Keys(stories)) {
		hashes := slices.Sorted(maps.Keys(stories[id]))
		e := stories[id][hashes[0]]
		disputed := len(hashes) > 1
		if disputed {
			c := Conflict{ID: id, Hashes: hashes}
			for _, h := range hashes {
				c.Events = append(c.Events, stories[id][h])
			}
			f.state.Conflicts = append(f.state.Conflicts, c)
		}
		body, err := DecodeBody(e.Kind, e.Body, "event "+string(id))
		if err != nil && !disputed {
			f.state.Faults = append(f.state.Faults, Fault{e, err})
			continue
		}
		if c, ok := body.(CorrectionBody); ok && !disputed {
			f.children[c.Target] = append(f.children[c.Target], correction{e, c})
		} else if e.Kind != Correction {
			told = append(told, Entry{Event: e, Body: body, Disputed: disputed, By: e, Told: e.Body})
		}
	}
	f.finish(told)
	return f.state, nil
}

type correction struct {
	event Event
	body  CorrectionBody
}

type folder struct {
	state    State
	children map[ID][]correction // by target
	reached  map[ID]bool         // corrections that bear on something
}

func (f *folder) finish(told []Entry) {
	for _, cs := range f.children {
		slices.SortFunc(cs, func(a, b correction) int { return Compare(a.event, b.event) })
	}
	for i := range told {
		f.settle(&told[i])
	}
	for _, cs := range f.children {
		for _, c := range cs {
			if !f.reached[c.event.ID] {
				f.state.Orphans = append(f.state.Orphans, c.event)
			}
		}
	}
	slices.SortFunc(told, func(a, b Entry) int { return Compare(a.Event, b.Event) })
	slices.SortFunc(f.state.Orphans, Compare)
	slices.SortFunc(f.state.Faults, func(a, b Fault) int { return Compare(a.Event, b.Event) })
	f.state.Entries = told
}

// settle applies the corrections of an entry: the last one that itself stands
// says what holds.
func (f *folder) settle(e *Entry) {
	s, ok := f.last(e, e.Event.ID)
	switch {
	case !ok && e.Disputed:
		e.Body, e.Told = nil, nil
	case !ok:
	case s.body.Withdraw:
		e.Body, e.Told, e.Withdrawn, e.Disputed, e.By = nil, nil, true, false, s.event
	default:
		e.Body, e.Told, e.Disputed, e.By = s.body.Replaced, s.body.Body, false, s.event
	}
	slices.Sort(e.Corrections)
}

// last is the last correction of a target that stands, with what it says after
// its own corrections. A correction that a later one withdraws does not stand; a
// later body replaces what it says. One for another kind is a fault.
func (f *folder) last(e *Entry, target ID) (out correction, ok bool) {
	for _, c := range f.children[target] {
		f.reached[c.event.ID] = true
		if c.body.Of != e.Event.Kind {
			f.state.Faults = append(f.state.Faults, Fault{c.event, where.Error{
				Path: "event " + string(c.event.ID) + ": of", Came: quote(string(c.body.Of)), Expected: quote(string(e.Event.Kind)) + ", the kind of its target"}})
			continue
		}
		e.Corrections = append(e.Corrections, c.event.ID)
		if s, has := f.last(e, c.event.ID); has {
			if s.body.Withdraw {
				continue
			}
			c.body, c.event = s.body, s.event
		}
		out, ok = c, true
	}
	return out, ok
}

// Serials are the serial numbers by position, as last told.
func (s State) Serials() map[string]string {
	out := map[string]string{}
	for _, e := range s.Entries {
		if b, ok := e.Body.(SerialBody); ok {
			out[b.Position] = b.Serial
		}
	}
	return out
}

package field

import (
	"strconv"
	"strings"

	"legwork/quantity"
	"legwork/where"
	"legwork/working"
)

// Text is a sentence of the message catalogue with its slots filled.
type Text struct {
	Key   string            // "field.stays_live"
	Slots map[string]string // values as printed; ids and figures are not translated
}

// Mark says what a step rests on.
type Mark string

// The two marks. A trade habit is never shown as if a standard asked for it.
const (
	Standard       Mark = "standard"        // a published standard; Basis names it
	CommonPractice Mark = "common practice" // what the trade does; no standard asks for it
)

// Procedure is what a crew does on site, in order.
type Procedure struct {
	Steps []Step
	// MakeDead is the order of making the plant dead before a hand goes in, for
	// this plant. A cause that asks for a hand inside begins with it.
	MakeDead []Text
}

// Step returns the step with an id, nil if there is none.
func (p Procedure) Step(id string) *Step {
	for i := range p.Steps {
		if p.Steps[i].ID == id {
			return &p.Steps[i]
		}
	}
	return nil
}

// Phase is a part of the procedure.
type Phase string

// The phases, in the order in which they begin. Build and before power
// interleave: a run is tested with both ends free, and landed afterwards.
const (
	Build           Phase = "build"
	BeforePower     Phase = "before-power"
	UtilitySide     Phase = "utility-side"
	MeterFirst      Phase = "meter-first"
	Branches        Phase = "branches"
	Function        Phase = "function"
	Finish          Phase = "finish"
	AfterPermission Phase = "after-permission"
)

// Step is one act of the crew, with all that must be known before the hand
// goes in. StaysLive is shown first.
type Step struct {
	ID        string // short, unique in the procedure, never renumbered: "dead-test"
	Phase     Phase
	Title     Text       // what to do
	Place     string     // path of ids along the line: "CB/bus"
	StaysLive []Text     // what is still energized before and while the step is done
	Do        []Text     // the title in detail, in order
	Why       Text       // what the step finds or prevents
	Wear      []Text     // protective equipment
	Weather   Text       // when not to begin, and when to stop; no key where weather is no matter
	Second    Text       // why a second person is there; no key where none is needed
	Expect    []Expect   // readings to take, in order
	Photos    int        // pictures that the record wants
	Wait      *Reconnect // the delay that runs in this step
	Patterns  []Pattern  // what wrong readings mean
	Hold      *Hold      // nil when the next step may begin without a decision
	Mark      Mark
	Basis     string // the standard and clause; required by Standard
}

// Hold makes a step a hold point: nothing after it begins until it has passed.
// It passes with every reading inside its stop limits, or by eye where the step
// has nothing to measure.
type Hold struct {
	EyesOnly bool // nothing to measure: somebody looks and says so
	// ReasonPasses allows passing with a written reason and a name although a
	// reading is missing or outside. Some holds never allow it.
	ReasonPasses bool
}

// Expect is one reading with what it should be.
type Expect struct {
	ID      string        // unique in the step: "L1-N"
	What    Text          // what is measured, and with which instrument
	Between string        // the two points: "L1-N"
	Unit    quantity.Unit // unit of the value and of every limit
	Value   *working.Term // what the plan computes; nil when only limits are known
	Look    Band          // outside it the reading is legal but odd
	Stop    Band          // outside it the work stops
}

// Band is a range of a reading, its ends included. A nil end is open; an end
// whose term is unknown makes the verdict "ask".
type Band struct {
	Low, High *working.Term
}

// Open reports whether the band has no end at all.
func (b Band) Open() bool { return b.Low == nil && b.High == nil }

// Holds judges whether v lies in the band: OK inside or exactly at an end, Stop
// outside, Ask when the end that decides is unknown. v is in the unit of the
// band's terms.
func (b Band) Holds(v float64) working.Verdict {
	verdict := working.OK
	for _, end := range []struct {
		limit *working.Term
		sign  int
	}{{b.Low, -1}, {b.High, 1}} {
		switch {
		case end.limit == nil:
		case !end.limit.Known():
			verdict = working.Worse(verdict, working.Ask)
		case quantity.Compare(v, end.limit.Float()) == end.sign:
			verdict = working.Stop
		}
	}
	return verdict
}

// Judge gives the verdict on a reading: Stop outside the stop limits, Ask when
// the reading or a limit that decides is unknown, Look outside the look limits,
// else OK. It panics when the reading is in another unit: that is our own bug.
func (x Expect) Judge(reading working.Term) working.Verdict {
	if !reading.Known() {
		return working.Ask
	}
	if reading.Unit() != x.Unit {
		panic("field: " + x.ID + ": a reading in " + string(reading.Unit()) + ", limits in " + string(x.Unit))
	}
	if v := x.Stop.Holds(reading.Float()); v != working.OK {
		return v
	}
	v := x.Look.Holds(reading.Float())
	if v == working.Stop {
		return working.Look
	}
	return v
}

// Check finds what would make the procedure unusable on site: two steps of one
// id, a step that does not say where or why, a hold with neither limit nor
// eyes, a standard without its name, limits out of order. All faults come at
// once, as where.Errors.
func (p Procedure) Check() error {
	var errs where.Errors
	seen := map[string]bool{}
	for i, s := range p.Steps {
		path := "steps[" + strconv.Itoa(i) + "]"
		fault := func(member, came, expected string) {
			errs = append(errs, where.Error{Path: path + member, Came: came, Expected: expected})
		}
		if s.ID == "" {
			fault(".id", "nothing", "a short id")
		} else if path = "step " + s.ID; seen[s.ID] {
			fault("", "a second step of this id", "each id once")
		}
		seen[s.ID] = true
		s.check(fault)
	}
	return errs.OrNil()
}

func (s Step) check(fault func(member, came, expected string)) {
	for _, m := range []struct{ name, text string }{
		{".title", s.Title.Key}, {".place", s.Place}, {".why", s.Why.Key},
	} {
		if strings.TrimSpace(m.text) == "" {
			fault(m.name, "nothing", "some words")
		}
	}
	switch {
	case s.Mark != Standard && s.Mark != CommonPractice:
		fault(".mark", quote(string(s.Mark)), "standard or common practice")
	case s.Mark == Standard && strings.TrimSpace(s.Basis) == "":
		fault(".basis", "nothing", "the standard and clause")
	}
	limited, seen := false, map[string]bool{}
	for _, x := range s.Expect {
		limited = limited || !x.Stop.Open()
		if x.ID == "" || seen[x.ID] {
			fault(".expect."+x.ID, "an id that is empty or taken", "each reading by its own id")
		}
		seen[x.ID] = true
		x.check(func(came, expected string) { fault(".expect."+x.ID, came, expected) })
	}
	switch {
	case s.Hold == nil:
	case s.Hold.EyesOnly && limited:
		fault(".hold", "eyes only, and a stop limit", "one of the two")
	case !s.Hold.EyesOnly && !limited:
		fault(".hold", "no stop limit", "a stop limit on a reading, or eyes only")
	}
}

// check looks at one reading: units, and the order stop ≤ look ≤ value ≤ look ≤
// stop as far as the ends are known.
func (x Expect) check(fault func(came, expected string)) {
	var last *working.Term
	for _, t := range []*working.Term{x.Stop.Low, x.Look.Low, x.Value, x.Look.High, x.Stop.High} {
		if t == nil || !t.Known() {
			continue
		}
		if t.Unit() != x.Unit {
			fault(t.String(), "a value in "+string(x.Unit))
			return
		}
		if last != nil && quantity.Compare(last.Float(), t.Float()) > 0 {
			fault(last.String()+" before "+t.String(), "limits from low to high, stop outside look outside value")
			return
		}
		last = t
	}
}

package field

import (
	"slices"

	"legwork/working"
)

// Status says how far a step is.
type Status string

// The states of a step. A locked step can be read but not begun: a hold point
// before it has not passed.
const (
	Locked           Status = "locked"
	Open             Status = "open"
	Held             Status = "held" // readings outside their limits, or somebody said hold
	Done             Status = "done"
	Passed           Status = "passed"
	PassedWithReason Status = "passed with reason"
)

// StepState is one step with what the record holds of it.
type StepState struct {
	Step     Step
	Status   Status
	Readings map[string]Reading // the last one by id of its Expect
	Judgment Judgment
	Decision *HoldBody
	Photos   int
	Missing  []Lack
}

// Lack is one thing that the record still wants of a step.
type Lack struct {
	What   string // "reading", "torque", "photo", "decision", "step done", "limit"
	ID     string // of the reading or terminal
	Detail string // for a limit: the fact that keeps it unknown
}

// Progress is a procedure against the record.
type Progress struct {
	Steps   []StepState
	Unknown []Entry // entries about a step that the procedure does not have
}

// Against holds the record against the procedure.
func (s State) Against(p Procedure) Progress {
	var out Progress
	at := map[string]int{}
	for i, step := range p.Steps {
		at[step.ID] = i
		out.Steps = append(out.Steps, StepState{Step: step, Readings: map[string]Reading{}})
	}
	done := map[int]bool{}
	for _, e := range s.Entries {
		id, named := stepOf(e.Body)
		i, ok := at[id]
		if !ok {
			if named {
				out.Unknown = append(out.Unknown, e)
			}
			continue
		}
		t := &out.Steps[i]
		switch b := e.Body.(type) {
		case StepDoneBody:
			done[i] = true
		case MeasurementBody:
			t.Readings[b.Reading] = b.Value
		case TorqueBody:
			t.Readings[b.Terminal] = b.Value
		case PhotoBody:
			t.Photos++
		case HoldBody:
			t.Decision = &b
		}
	}
	locked := false
	for i := range out.Steps {
		out.Steps[i].settle(locked, done[i])
		locked = locked || out.Steps[i].blocks()
	}
	return out
}

// stepOf is the step that a body is about; named is false for a body that need
// not be about one.
func stepOf(b Body) (id string, named bool) {
	switch b := b.(type) {
	case StepDoneBody:
		return b.Step, true
	case MeasurementBody:
		return b.Step, true
	case TorqueBody:
		return b.Step, true
	case PhotoBody:
		return b.Step, true
	case HoldBody:
		return b.Step, true
	case NoteBody:
		return b.Step, b.Step != ""
	}
	return "", false
}

// settle works out status and what is missing.
func (t *StepState) settle(locked, done bool) {
	t.Judgment = Judge(t.Step, t.Readings)
	t.lacks(done)
	switch {
	case t.Step.Hold == nil && t.Judgment.Verdict == working.Stop:
		t.Status = Held
	case t.Step.Hold == nil && done && len(t.Missing) == 0:
		t.Status = Done
	case t.Step.Hold != nil:
		t.Status = t.holdStatus()
	default:
		t.Status = Open
	}
	if locked {
		t.Status = Locked
	}
}

// holdStatus is whether a hold point has passed: by readings inside the stop
// limits, by eye and a name, or with a reason where the step allows one. Whoever
// says hold is heard until a later decision.
func (t *StepState) holdStatus() Status {
	d := t.Decision
	switch {
	case d != nil && d.Decision == HoldOn:
		return Held
	case t.Step.Hold.EyesOnly && d != nil && d.Decision == Pass:
		return Passed
	case !t.Step.Hold.EyesOnly && t.Judgment.Passes():
		return Passed
	case t.Step.Hold.ReasonPasses && d != nil && d.Decision == PassWithReason:
		return PassedWithReason
	case t.Judgment.Verdict == working.Stop:
		return Held
	}
	return Open
}

func (t *StepState) blocks() bool {
	return t.Step.Hold != nil && t.Status != Passed && t.Status != PassedWithReason
}

func (t *StepState) lacks(done bool) {
	for _, x := range t.Step.Expect {
		if _, ok := t.Readings[x.ID]; !ok {
			what := "reading"
			if x.Unit == "in-lb" {
				what = "torque"
			}
			t.Missing = append(t.Missing, Lack{What: what, ID: x.ID})
		}
		for _, m := range x.missing() {
			t.Missing = append(t.Missing, Lack{"limit", x.ID, m.String()})
		}
	}
	for range max(0, t.Step.Photos-t.Photos) {
		t.Missing = append(t.Missing, Lack{What: "photo"})
	}
	switch h := t.Step.Hold; {
	case h == nil && !done:
		t.Missing = append(t.Missing, Lack{What: "step done"})
	case h != nil && h.EyesOnly && t.Decision == nil:
		t.Missing = append(t.Missing, Lack{What: "decision"})
	}
}

// Next is the first step that is neither done nor passed; nil when all are.
func (p Progress) Next() *StepState {
	i := slices.IndexFunc(p.Steps, func(t StepState) bool {
		return t.Status != Done && t.Status != Passed && t.Status != PassedWithReason
	})
	if i < 0 {
		return nil
	}
	return &p.Steps[i]
}

package desk

import (
	"context"
	"fmt"
	"strconv"

	"legwork/field"
	"legwork/quantity"
	"legwork/web"
	"legwork/words"
	"legwork/working"
)

// Work is the procedure of the newest revision against all events of the job.
func (d *Desk) Work(ctx context.Context, id string) (web.Work, error) {
	w, err := d.planned(ctx, id)
	if err != nil {
		return web.Work{}, err
	}
	events, err := d.events(ctx, field.ID(id))
	if err != nil {
		return web.Work{}, err
	}
	state, err := field.Fold(events)
	if err != nil {
		return web.Work{}, err
	}
	p := field.Generate(w.plan.Plant)
	progress := state.Against(p)
	out := web.Work{Troubles: troubles(state, progress)}
	for _, t := range p.MakeDead {
		s, err := english(t)
		if err != nil {
			return out, err
		}
		out.MakeDead = append(out.MakeDead, s)
	}
	if next := progress.Next(); next != nil {
		out.Next = next.Step.ID
	}
	for i, t := range progress.Steps {
		s, err := stepOf(t)
		if err != nil {
			return out, fmt.Errorf("step %s: %w", t.Step.ID, err)
		}
		s.N = i + 1
		out.Steps = append(out.Steps, s)
	}
	return out, nil
}

// events is the whole record of a job, with the stories that were kept beside it.
func (d *Desk) events(ctx context.Context, job field.ID) ([]field.Event, error) {
	all, err := d.store.Disputed(ctx, job)
	if err != nil {
		return nil, err
	}
	const page = 1000
	for since := int64(0); ; {
		some, err := d.store.EventsSince(ctx, job, since, page)
		if err != nil {
			return nil, err
		}
		for _, a := range some {
			all = append(all, a.Event)
			since = a.Cursor
		}
		if len(some) < page {
			return all, nil
		}
	}
}

func english(t field.Text) (string, error) { return words.Embedded().Say("en", t.Key, t.Slots) }

// troubles is what is wrong with the record itself; nothing of it is lost.
func troubles(s field.State, p field.Progress) []string {
	var out []string
	for _, c := range s.Conflicts {
		out = append(out, fmt.Sprintf("event %s came with %d stories; none counts until a correction settles it", c.ID, len(c.Events)))
	}
	for _, e := range s.Orphans {
		out = append(out, fmt.Sprintf("event %s corrects an event that has not arrived or cannot be read", e.ID))
	}
	for _, f := range s.Faults {
		out = append(out, fmt.Sprintf("event %s is kept and counts for nothing: %v", f.Event.ID, f.Err))
	}
	for _, e := range p.Unknown {
		out = append(out, fmt.Sprintf("event %s is about a step that this plan does not have", e.Event.ID))
	}
	return out
}

func stepOf(t field.StepState) (web.WorkStep, error) {
	spoken, err := t.Step.Speak(english)
	s := web.WorkStep{Spoken: spoken, ID: t.Step.ID, Place: t.Step.Place, Hold: t.Step.Hold != nil, Status: t.Status,
		Build: t.Step.Phase == field.Build || t.Step.Phase == field.BeforePower}
	if err != nil {
		return s, err
	}
	for _, x := range t.Step.Expect {
		r := web.WorkReading{Says: spoken.Expect[x.ID], Verdict: working.Ask}
		if read, ok := t.Readings[x.ID]; ok {
			r.Read, r.Verdict = readingOf(read), t.Judgment.Readings[x.ID]
		}
		s.Readings = append(s.Readings, r)
	}
	for _, p := range t.Judgment.Patterns {
		w, err := p.Speak(english)
		if err != nil {
			return s, err
		}
		s.Wrong = append(s.Wrong, w)
	}
	if d := t.Decision; d != nil {
		s.Decision = string(d.Decision) + ", " + d.By
		if d.Reason != "" {
			s.Decision += ": " + d.Reason
		}
	}
	for _, m := range t.Missing {
		lack := m.What
		if m.ID != "" {
			lack += " " + m.ID
		}
		if m.Detail != "" {
			lack += ": " + m.Detail
		}
		s.Missing = append(s.Missing, lack)
	}
	return s, nil
}

// readingOf is a reading as the instrument showed it.
func readingOf(r field.Reading) string {
	s := strconv.FormatFloat(quantity.Snap(r.Value), 'f', -1, 64)
	if r.Unit != "" {
		s += " " + string(r.Unit)
	}
	if r.Over {
		return "OL, above " + s
	}
	return s
}

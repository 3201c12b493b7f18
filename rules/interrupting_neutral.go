package rules

import (
	"legwork/circuit"
	"legwork/job"
	"legwork/site"
	"legwork/working"
)

// InterruptingNeutral is the same for a fault from leg to neutral.
var InterruptingNeutral = Rule{
	ID:    "interrupting-neutral",
	Title: "Breakers and panel rated for a fault from leg to neutral",
	Why: "Close to a center-tapped transformer more current flows from a leg to neutral than " +
		"between the legs, customarily 1.5 times; farther down it falls faster. Where the utility " +
		"gave only the current between legs, 1.5 times that is the most it can be.",
	Clauses: working.Clauses{2017: "110.9, 110.10", 2020: "110.9, 110.10", 2023: "110.9, 110.10"},
	Gives:   []working.Verdict{working.OK, working.Ask, working.Stop},
	On: onBus(func(p *site.Plant, b *site.Bus) bool {
		return p.System.Value == job.SplitPhase && (b.Kind == site.PanelBus || b.HasSource())
	}, func(p *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict {
		s := p.Service
		switch {
		case s.ToNeutral.Known:
			return toNeutral(w, p, b, w.Fact("I_N", s.ToNeutral))
		case s.Transformer != nil:
			neutral, _ := transformerFault(w, p)
			return toNeutral(w, p, b, overService(w, p, "I_N", "fault at the service, leg to neutral", circuit.LegToNeutral, neutral))
		}
		// The most that it can be decides only where it passes.
		trial := working.NewSheet(w.Edition)
		if toNeutral(trial, p, b, mostToNeutral(trial, p)) == working.Stop {
			return toNeutral(w, p, b, w.Fact("I_N", s.ToNeutral))
		}
		return toNeutral(w, p, b, mostToNeutral(w, p))
	}),
}

// mostToNeutral bounds the fault to neutral at the service: the factor of the
// transformer only falls on the way.
func mostToNeutral(w *working.Sheet, p *site.Plant) working.Term {
	w.Note("1.5 times the current between legs is the most at the service; the utility may give less")
	return w.Let("I_N", serviceFault(w, p).Times(1.5), "most from leg to neutral at the service")
}

func toNeutral(w *working.Sheet, p *site.Plant, b *site.Bus, atService working.Term) working.Verdict {
	return w.AtMost(faultAt(w, p, b, circuit.LegToNeutral, atService), withstands(w, b))
}

package site

import (
	"legwork/job"
	"legwork/working"
)

// ask tells where on site a fact is found and which photo proves it.
type ask struct{ find, photo string }

// Where facts are found. Common practice of the survey.
var (
	nameplate    = ask{"nameplate or data sheet", "nameplate"}
	panelLabel   = ask{"label inside the panel door, not the handle of the main", "label inside the panel door, readable"}
	handle       = ask{"number on the breaker's handle", "breakers with their handles"}
	panelLooks   = ask{"look at the panel: where the main sits on the busbar, how many spaces", "panel with the door open"}
	terminalMark = ask{"temperature mark beside the terminals or on the label; without a mark 60 °C governs", "terminal mark"}
	tape         = ask{"measure along the route with a tape", "the route"}
	climate      = ask{"design temperatures of the nearest weather station", ""}
	utility      = ask{"ask the utility in writing", "utility's answer"}
	department   = ask{"ask the building department which edition it has adopted", ""}
	wireMark     = ask{"print on the conductor's insulation", "print on the insulation"}
	voltmeter    = ask{"measure leg to leg at the service with no PV, over a day", "meter reading"}
	tapPlace     = ask{"look where the tap is made and how", "the tap before it is closed"}
	breakerLabel = ask{"label inside the panel door lists the breakers made for it; marks stand on the breaker", "breaker's face, and the list on the panel's label"}
	decision     = ask{"decide it, or let the plan choose", ""}
)

// fact turns a fact of the document into a fact of a calculation.
func fact[T any](f job.Fact[T], path, means string, a ask) working.Fact[T] {
	return working.Fact[T]{
		Value: f.Value, Known: f.Known, Means: means,
		From: working.Origin{Kind: working.Given, Path: path, At: f.At},
		Ask:  working.Missing{Path: path, What: means, Find: a.find, Photo: a.photo},
	}
}

// decided is fact for a decision: what the tool chose is told apart from what a
// person stated.
func decided[T any](f job.Fact[T], by job.By, path, means string) working.Fact[T] {
	w := fact(f, path, means, decision)
	if by == job.Tool {
		w.From.Kind = working.Chosen
	}
	return w
}

// derived is a value that follows from the plan's own drawing.
func derived[T any](v T, means string) working.Fact[T] {
	return working.State(v, means, working.Origin{Kind: working.Computed})
}

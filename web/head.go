package web

import (
	"net/http"
	"net/url"
	"slices"
)

// Head is what every page repeats: the job, the stage, the theme.
type Head struct {
	Title string // of this page
	Stage string // the stage whose page this is, "" for none
	Base  string // prefix of all addresses of this room
	Here  string // this address, to come back to
	Theme string // "" follows the device
	Job   Job
	// Sections are the nodes of the line that have a section on this page.
	Sections []string
}

// Stage is one of the nine stages of a job.
type Stage struct {
	Name string
	Page string // last part of its address; "" while it has no page
	Asks string // the question that it answers
}

// Stages in the order of the work.
var Stages = []Stage{
	{"Survey", "survey", "what is there?"},
	{"Plan", "plan", "what do we build?"},
	{"Proof", "proof", "is it allowed, and why?"},
	{"Sheets", "sheets", "what do we show?"},
	{"Build", "build", "what goes where?"},
	{"Energize", "energize", "in which order, and what is measured?"},
	{"Meter", "", "do the CTs tell the truth?"},
	{"Handover", "", "is it complete?"},
	{"Look-back", "", "does it make what it should?"},
}

// Stages gives the templates the stages.
func (Head) Stages() []Stage { return Stages }

// JobPath is the address under which the job's pages stand.
func (h Head) JobPath() string { return h.Base + "/jobs/" + url.PathEscape(h.Job.ID) }

// Theme is one of the three ways to show a page.
type Theme struct{ ID, Name, For string }

// themes in the order offered.
var themes = []Theme{
	{"paper", "Paper", "ink on paper, for the desk"},
	{"night", "Night", "light on dark, for the basement"},
	{"sun", "Sun", "black on white and heavier, for the roof"},
}

// Themes gives the templates the themes.
func (Head) Themes() []Theme { return themes }

func isTheme(id string) bool {
	return slices.ContainsFunc(themes, func(t Theme) bool { return t.ID == id })
}

func (o room) head(r *http.Request, j Job, stage string) Head {
	h := Head{Stage: stage, Title: stage, Base: o.base, Here: r.URL.RequestURI(), Job: j}
	if c, err := r.Cookie("theme"); err == nil && isTheme(c.Value) {
		h.Theme = c.Value
	}
	return h
}

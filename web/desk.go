package web

import (
	"context"
	"errors"
	"time"

	"legwork/scene"
	"legwork/scene/line"
	"legwork/where"
	"legwork/working"
)

// Desk is what the pages ask of the rest of the house. Every method may return
// ErrNotFound (page 404) or where.Error and where.Errors (the document needs
// mending, page 422); any other error is the program's own fault (page 500).
type Desk interface {
	// Jobs lists all jobs in the order to show.
	Jobs(ctx context.Context) ([]Job, error)
	// Job is the head of one job. It answers for a document with faults too,
	// so that their page can say whose they are.
	Job(ctx context.Context, id string) (Job, error)
	// Survey is the document as facts and as text; faults stand in it.
	Survey(ctx context.Context, id string) (Survey, error)
	Plan(ctx context.Context, id string) (Plan, error)
	// Proof judges the job under an edition; 0 means the job's own.
	Proof(ctx context.Context, id string, e working.Edition) (Proof, error)
	Sheets(ctx context.Context, id string) ([]Sheet, error)
	// Work is what is done on site, with what the record says of it.
	Work(ctx context.Context, id string) (Work, error)
}

// ErrNotFound means that there is no such job or sheet.
var ErrNotFound = errors.New("not found")

// Job is the head of a job: what the list shows and every page repeats.
type Job struct {
	ID       string // as in the address of its pages
	Name     string // "118 Quillfeather Lane"
	About    string // "Raleigh, North Carolina"
	Plant    string // "14 units, 4.8 kVA"
	Invented bool   // a demo house; the pages say so
	Edition  working.Edition
	Tally    Tally
	Missing  int          // facts to fetch
	Faults   where.Errors // what keeps the document from being read
	Changed  time.Time    // zero when not known
	Line     line.Line    // the pages set its links
}

// Survey is the document, read-only.
type Survey struct {
	File   string
	Source []byte // the document's own bytes
	Groups []Group
	Faults where.Errors
}

// Group is a run of facts that one finds in one place.
type Group struct {
	Place string // id along the line, "" for the site itself
	Title string
	Facts []Fact
}

// Fact is one fact as shown.
type Fact struct {
	Means string // "busbar"
	Says  string // "rating on the label inside the door", "" when Means says all
	Value string // "200 A"; not read when Known is false
	Known bool
	From  working.Origin
	Find  string // for a missing fact: where to find it on site
}

// Plan is what is to be built.
type Plan struct {
	Said      string       // one sentence on the whole
	Roof      *scene.Scene // the planes to scale; nil where nothing can be drawn
	RoofNotes []string     // what could not be drawn, and why
	Branches  []Branch
	Circuits  []Circuit
	Choices   []Choice
	Open      []string // facts that keep something undecided
}

// Branch is one microinverter branch circuit.
type Branch struct {
	ID      string // "A"
	Units   int
	Where   string // "plane S, r1-c1 to r1-c7"
	Feed    string // "end-fed", "center-fed"
	Current string // "9.94 A"
	Breaker string // "20 A"
	By      working.Kind
}

// Circuit is one run with what it is made of.
type Circuit struct {
	ID, Name   string // "home", "home runs A, B"
	Conductors string // "4 × 10 AWG THWN-2"
	Ground     string // "10 AWG"
	Raceway    string // "3/4 EMT"
	Length     string // "45 ft"
	Breaker    string // "20 A"
	By         working.Kind
	Governed   []Reason
}

// Choice is one decision: who took it and what governed it.
type Choice struct {
	What     string // "PV output breaker"
	Value    string // "30 A"
	By       working.Kind
	Governed []Reason
}

// Reason names the finding that a choice answers to.
type Reason struct {
	Finding string // id: "busbar-120@MP/bus"; "" when none stands for it
	Title   string
	Verdict working.Verdict // of the finding
}

// Proof is every finding under one edition.
type Proof struct {
	Edition  working.Edition
	Editions []working.Edition // that can be asked for
	Said     string            // one sentence on the whole
	Places   []Place           // along the line, from the roof to the street
	Findings []working.Finding
	Line     line.Line // with the verdicts of this edition
}

// Place is a place along the line.
type Place struct {
	ID, Name string
	Node     string // the line's node that stands for it
}

// Sheet is one sheet of the set; number and title are its scene's.
type Sheet struct {
	Answers string // the question that it answers
	Scene   *scene.Scene
}

package working

import "legwork/where"

// Edition is the year of an edition of NFPA 70: 2017, 2020, 2023.
type Edition int

// Clauses gives the clause for each edition; an edition not listed is not
// covered.
type Clauses map[Edition]string

// Kind tells how a value came to be.
type Kind string

// The five origins. Given, chosen and assumed stay told apart everywhere.
const (
	Given    Kind = "given"    // a person stated it: survey, nameplate, label
	Chosen   Kind = "chosen"   // the tool decided it
	Assumed  Kind = "assumed"  // nobody stated it and the page says so
	Table    Kind = "table"    // a cell of an embedded table
	Computed Kind = "computed" // worked out on this sheet
)

// Origin is where a value came from.
type Origin struct {
	Kind   Kind      `json:"kind"`
	Path   string    `json:"path,omitempty"`   // panels.MP.busbar; ampacity[10,copper]
	Clause string    `json:"clause,omitempty"` // for tables: the clause of this edition
	Mark   string    `json:"mark,omitempty"`   // "from memory", "common practice", ""
	At     where.Pos `json:"at,omitzero"`      // line in the document
}

// Source names a table and how far it can be trusted.
type Source struct {
	Name    string  // as in legwork table NAME
	Title   string  // "ampacity of insulated conductors"
	Clauses Clauses // clause by edition
	Always  string  // clause for every edition, when it never moved
	Mark    string  // "from memory" and the like; empty when seen in print
}

// Clause is the clause of s in edition e, or "".
func (s Source) Clause(e Edition) string {
	if c, ok := s.Clauses[e]; ok {
		return c
	}
	return s.Always
}

// Missing is a fact that nobody has stated yet.
type Missing struct {
	Path  string `json:"path"`            // where it belongs in the document
	What  string `json:"what"`            // "busbar rating of the main panel"
	Find  string `json:"find,omitempty"`  // where to find it on site
	Photo string `json:"photo,omitempty"` // which photo proves it
}

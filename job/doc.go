// Package job holds the document of one job: the facts of a site and the
// decisions of a plan, as a person writes them in YAML.
//
// It answers: what has been stated, where in the file, and what is missing. It
// parses strictly (an unknown key, a missing or wrong unit is an error with line
// and column), and edits a document so that every other byte stays. It knows no
// rules and derives nothing; package site turns it into a plant.
//
// Facts stand at the top level, decisions under "decisions". A fact written "?"
// or left out is unknown, never a default.
package job

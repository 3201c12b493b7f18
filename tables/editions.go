package tables

import (
	"strconv"
	"strings"

	"legwork/working"
)

// Editions is for which editions a row stands: "2017", "2020-2023" or "all".
type Editions string

// Covers reports whether the row stands for an edition.
func (e Editions) Covers(edition working.Edition) bool {
	if e == "all" {
		return true
	}
	first, last, span := strings.Cut(string(e), "-")
	if !span {
		last = first
	}
	low, errLow := strconv.Atoi(first)
	high, errHigh := strconv.Atoi(last)
	return errLow == nil && errHigh == nil && int(edition) >= low && int(edition) <= high
}

// noEdition is the error for an edition that a table does not know.
func (t *Table) noEdition(e working.Edition) error {
	return t.none(strconv.Itoa(int(e))+" edition", "there is 2017, 2020 and 2023")
}

// ClauseMapRow tells where a topic stands in each edition.
type ClauseMapRow struct {
	Topic   string `col:"topic"`
	Clauses working.Clauses
}

// ClauseMap lists the topics that moved between editions.
var ClauseMap = rows[ClauseMapRow]("clause-map")

// Clause is the clause of a topic in an edition; empty where the edition has
// none, either not yet or no more.
func Clause(topic string, e working.Edition) (string, error) {
	for _, r := range ClauseMap() {
		if r.Topic == topic {
			return r.Clauses[e], nil
		}
	}
	t := table("clause-map")
	return "", unknown(t.label(), "no topic "+strconv.Quote(topic), topic, t.column(0))
}

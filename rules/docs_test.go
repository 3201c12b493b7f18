package rules_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwork/rules"
	"legwork/working"
)

var update = flag.Bool("update", false, "write docs/rules anew")

// The pages of docs/rules are printed from the rules; -update writes them.
func TestDocsAreCurrent(t *testing.T) {
	folder := filepath.Join("..", "docs", "rules")
	var index strings.Builder
	index.WriteString("# Rules\n\nPrinted from the rules themselves: do not edit. Clauses known only in part or from memory say so on the rule's page.\n\n| rule | what must hold |")
	for _, e := range rules.Editions() {
		fmt.Fprintf(&index, " %d |", e)
	}
	index.WriteString("\n|---|---|" + strings.Repeat("---|", len(rules.Editions())) + "\n")
	want := map[string]string{}
	for _, r := range rules.All() {
		want[r.ID+".md"] = r.Markdown()
		fmt.Fprintf(&index, "| [%s](%s.md) | %s |", r.ID, r.ID, r.Title)
		for _, e := range rules.Editions() {
			fmt.Fprintf(&index, " %s |", r.ClauseIn(e))
		}
		index.WriteString("\n")
	}
	want["README.md"] = index.String()

	there, err := filepath.Glob(filepath.Join(folder, "*.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range there {
		if _, ok := want[filepath.Base(file)]; ok {
			continue
		}
		if *update {
			if err := os.Remove(file); err != nil {
				t.Fatal(err)
			}
			continue
		}
		t.Errorf("%s belongs to no rule", file)
	}
	for name, text := range want {
		file := filepath.Join(folder, name)
		if *update {
			if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(file); err != nil || string(got) != text {
			t.Errorf("%s is not current (%v); run go test ./rules -update", file, err)
		}
	}
}

// noClause lists the editions that have no such requirement. Source: the columns
// of clause-map.csv that say "(none)" for power control and feed-through, and the
// year in which 230.67 and 230.85 came in.
var noClause = map[string][]working.Edition{
	"control-listed": {2017}, "control-locked": {2017}, "control-device": {2017}, "busbar-feedthrough": {2017},
	"new-service-emergency": {2017}, "new-service-surge": {2017},
}

// Every rule says all that the catalogue shows.
func TestCatalogue(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range rules.All() {
		if r.Title == "" || r.Why == "" || len(r.Gives) == 0 || seen[r.ID] {
			t.Errorf("%q: twice, or without title, reason or verdicts", r.ID)
		}
		seen[r.ID] = true
		for _, e := range rules.Editions() {
			if none := slices.Contains(noClause[r.ID], e); (r.ClauseIn(e) == "not covered") != none {
				t.Errorf("%s in %d: %s", r.ID, e, r.ClauseIn(e))
			}
		}
	}
}

package rules_test

import (
	"slices"
	"strings"
	"testing"

	"legwork/internal/houses"
	"legwork/rules"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

func labelsOf(t *testing.T, house string, e working.Edition) (map[string][]rules.Label, map[string]string) {
	t.Helper()
	doc := houses.Get(t, house).Doc
	p, err := site.Resolve(doc, doc.Decisions)
	if err != nil {
		t.Fatal(err)
	}
	need, not, err := rules.Labels(p, e)
	if err != nil {
		t.Fatal(err)
	}
	by, without := map[string][]rules.Label{}, map[string]string{}
	for _, l := range need {
		by[l.ID] = append(by[l.ID], l)
	}
	for _, n := range not {
		without[n.ID] = n.Why
	}
	return by, without
}

// S1, edition 2020, from labels.csv and by hand: output 14 × 1.42 = 19.88 A at
// 240 V; cold module 37.2 × (1 + 0.26 % × 37) = 37.2 × 1.0962 = 40.78 V.
func TestLabelsOfQuillfeather(t *testing.T) {
	need, not := labelsOf(t, "quillfeather", 2020)
	for id, want := range map[string]struct{ place, text, clause string }{
		"do-not-relocate":   {"MP/38-40", "DO NOT RELOCATE THIS OVERCURRENT DEVICE", "705.12(B)(3)(2)"},
		"sum-of-breakers":   {"combiner", "TOTAL RATING OF ALL OVERCURRENT DEVICES", "705.12(B)(3)(3)"},
		"poi-rating":        {"pv_output", "19.88 A, nominal AC voltage 240 V", "690.54"},
		"dc-voltage":        {"combiner", "40.78 V", "690.53"},
		"directory":         {"MP", "CAUTION: MULTIPLE SOURCES OF POWER", "705.10"},
		"rsd-building":      {"MP", "SOLAR PV SYSTEM IS EQUIPPED WITH RAPID SHUTDOWN", "690.56(C)"},
		"circuit-directory": {"MP", "38, 40: PV", "408.4(A)"},
	} {
		if !slices.ContainsFunc(need[id], func(l rules.Label) bool {
			return l.Place == want.place && strings.Contains(l.Text, want.text) && l.Clause == want.clause
		}) {
			t.Errorf("%s: %+v; want %q at %s by %s", id, need[id], want.text, want.place, want.clause)
		}
	}
	if not["dc-raceway"] == "" {
		t.Error("a label for DC raceways must be told as not needed on AC home runs")
	}
}

// S5: the label stands also beside the feeder breaker upstream, in the house.
func TestLabelBesideTheFeederBreaker(t *testing.T) {
	need, _ := labelsOf(t, "otterbend", 2020)
	if l := need["do-not-relocate"]; len(l) != 1 || l[0].Place != "MP/5-7" {
		t.Errorf("%+v; want one beside the garage feeder's breaker in MP", l)
	}
}

// 2023 deleted the label at the point of interconnection (690.54).
func TestLabelDeletedIn2023(t *testing.T) {
	need, not := labelsOf(t, "larkbarrow", 2023)
	if len(need["poi-rating"]) != 0 || !strings.Contains(not["poi-rating"], "no longer asked for") {
		t.Errorf("%v, %q", need["poi-rating"], not["poi-rating"])
	}
}

// Every row of an edition is either needed somewhere or told as not needed with
// a reason; the fact that a text waits for is named.
func TestLabelsAccountForEveryRow(t *testing.T) {
	for _, h := range houses.All(t) {
		for _, e := range rules.Editions() {
			need, not := labelsOf(t, h.Name, e)
			for _, row := range tables.Labels() {
				if row.Edition.Covers(e) && len(need[row.ID]) == 0 && not[row.ID] == "" {
					t.Errorf("%s, %d: %s is neither needed nor told as not needed", h.Name, e, row.ID)
				}
			}
		}
	}
	doc, err := houses.Get(t, "quillfeather").Doc.Set("site.coldest", "?")
	if err != nil {
		t.Fatal(err)
	}
	p, err := site.Resolve(doc, doc.Decisions)
	if err != nil {
		t.Fatal(err)
	}
	need, _, err := rules.Labels(p, 2020)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range need {
		if l.ID == "dc-voltage" && (!strings.Contains(l.Text, "?") || len(l.Missing) != 1 || l.Missing[0].Path != "site.coldest") {
			t.Errorf("%q, missing %v; want ? and site.coldest", l.Text, l.Missing)
		}
	}
	if _, _, err := rules.Labels(p, 1999); err == nil {
		t.Error("an edition that nobody knows gave labels")
	}
}

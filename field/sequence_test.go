package field_test

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"legwork/field"
	"legwork/internal/houses"
	"legwork/words"
)

// rowStep is the step, or the first of the steps, that carries out each row of
// the reference sequence.
var rowStep = map[string]string{
	"1": "permission", "2": "sources", "3": "lockout", "4": "dead-test", "5": "insulation", "6": "identity",
	"7": "eyes", "8": "torque", "9": "ground-continuity", "10": "cts", "11": "breakers", "12": "dead-front",
	"13": "service-voltage", "14": "service-load", "15": "close-", "16": "gateway", "17": "ct-house-only",
	"18": "ct-known-load", "19": "roof-clear", "20": "close-branch-", "21": "wait-", "22": "output-", "23": "adds-",
	"24": "rise", "25": "loss-of-mains", "26": "return", "27": "rapid-shutdown", "28": "count", "29": "thermal",
	"30": "labels", "31": "lock-open", "32": "utility-meter", "33": "start-readings",
}

func TestEveryRowOfTheSequenceIsInEveryProcedure(t *testing.T) {
	f, err := os.Open("testdata/reference/energizing.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	rows, holds := rows[1:], 0
	for _, row := range rows {
		if row[2] == "HOLD" {
			holds++
		}
	}
	if len(rows) != 33 || holds != 15 {
		t.Fatalf("%d rows, %d holds; the reference has 33 and 15", len(rows), holds)
	}
	for _, name := range houses.Names() {
		p := field.Generate(plant(t, name))
		last := -1
		for _, row := range rows {
			want := rowStep[row[0]]
			i := slices.IndexFunc(p.Steps, func(s field.Step) bool {
				return s.ID == want || strings.HasSuffix(want, "-") && strings.HasPrefix(s.ID, want)
			})
			if i < 0 {
				t.Errorf("%s: row %s has no step %s", name, row[0], want)
				continue
			}
			if got := p.Steps[i].Hold != nil; got != (row[2] == "HOLD") {
				t.Errorf("%s: %s: hold %v, the sequence says %q", name, want, got, row[2])
			}
			// Paper comes last before power: an inspection passes what is built.
			if row[0] == "1" {
				continue
			}
			if i < last {
				t.Errorf("%s: row %s (%s) comes before the row above it", name, row[0], want)
			}
			last = i
		}
	}
}

func TestEveryStepIsUsableOnSite(t *testing.T) {
	for name, p := range procedures(t) {
		if err := p.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for _, s := range p.Steps {
			if len(s.StaysLive) == 0 {
				t.Errorf("%s: %s does not say what stays live", name, s.ID)
			}
			for _, x := range s.Expect {
				if s.Hold != nil && !s.Hold.EyesOnly && x.Stop.Open() && x.Look.Open() && x.Unit != "in-lb" {
					t.Errorf("%s: %s: hold with a reading %s that nothing judges", name, s.ID, x.ID)
				}
			}
			for _, pat := range s.Patterns {
				if len(pat.Causes) == 0 || pat.Causes[0].Test.Key == "" {
					t.Errorf("%s: %s: pattern %s without cause or test", name, s.ID, pat.ID)
				}
			}
		}
		if len(p.MakeDead) < 5 {
			t.Errorf("%s: the order of making it dead has %d lines", name, len(p.MakeDead))
		}
	}
}

// The work that can kill never passes by a written reason.
func TestSomeHoldsAllowNoReason(t *testing.T) {
	never := []string{"permission", "lockout", "dead-test", "existing-panel", "torque", "service-voltage", "close-MP", "loss-of-mains",
		"roof-clear", "outage", "tap-dead-test", "fuses", "utility-return", "main-swap", "lock-open"}
	for name, p := range procedures(t) {
		for _, s := range p.Steps {
			for _, n := range never {
				if (s.ID == n || strings.HasPrefix(s.ID, n+"-")) && (s.Hold == nil || s.Hold.ReasonPasses) {
					t.Errorf("%s: %s can be passed by a reason", name, s.ID)
				}
			}
		}
	}
}

// procedures are those of all houses and of the variants that no house has.
func procedures(t *testing.T) map[string]field.Procedure {
	t.Helper()
	out := map[string]field.Procedure{}
	for _, name := range houses.Names() {
		out[name] = field.Generate(plant(t, name))
	}
	out["wye"] = field.Generate(plant(t, "quillfeather", "system: 120/240 V", "system: 208Y/120 V"))
	out["unknown system"] = field.Generate(plant(t, "quillfeather", "system: 120/240 V", `system: "?"`))
	out["existing PV"] = field.Generate(plant(t, "quillfeather", "equipment:\n", existingPV))
	out["no combiner neutral"] = field.Generate(plant(t, "quillfeather", "        neutral: 10 AWG # invented; not smaller than the equipment ground\n", ""))
	out["subpanel, breaker moved"] = field.Generate(plant(t, "otterbend", "    building: detached garage\n", "",
		"  runs:\n    - run: home\n", "  moves:\n    - {panel: MP, from: [5, 7], to: [38, 40], by: person}\n  runs:\n    - run: home\n"))
	out["lugs only, raceway as ground, fault current unknown"] = field.Generate(plant(t, "quillfeather",
		"    main: 200 A\n", "    main_lug_only: true\n", "        ground: 10 AWG\n", "", "current: 8.1 kA", `current: "?"`))
	c := field.Conditions{Agreement: field.DefaultAgreement(), MainSwap: true}
	out["main swap"] = field.GenerateUnder(plant(t, "candlewick"), c)
	return out
}

const existingPV = `sources:
  - {id: old_PV, kind: PV, current: 12 A, panel: MP, spaces: [2, 4], breaker: 20 A}

equipment:
`

func TestEverySentenceIsInBothLanguagesAndNoneSaysSafe(t *testing.T) {
	for name, p := range procedures(t) {
		for lang, say := range map[string]func(field.Text) (string, error){"en": english, "es": spanish} {
			s := strings.ToLower(text(t, p, say))
			for _, word := range []string{"safe", "segur"} {
				if strings.Contains(s, word) {
					t.Errorf("%s, %s: says %q", name, lang, word)
				}
			}
		}
	}
}

// Every sentence that this package's prefixes claim is used by some procedure;
// a translator should not polish what nobody reads.
func TestNoSentenceIsIdle(t *testing.T) {
	used := map[string]bool{}
	note := func(x field.Text) (string, error) { used[x.Key] = true; return english(x) }
	for _, p := range procedures(t) {
		text(t, p, note)
	}
	for _, key := range words.Embedded().Keys() {
		head, _, _ := strings.Cut(key, ".")
		if slices.Contains([]string{"step", "why", "do", "live", "wear", "weather", "second", "source", "dead", "cause", "test", "pattern", "measure", "phase"}, head) && !used[key] {
			t.Errorf("%s is in the catalogue and in no procedure", key)
		}
	}
}

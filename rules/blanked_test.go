package rules_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/rules"
	"legwork/site"
	"legwork/working"
)

// unused are the facts of the first house that none of these rules reads, by
// path: the title block, the roof's drawing, the meter, and what later rules
// need. A fact that is neither asked for when it is blanked nor listed here
// fails the test.
var unused = map[string]string{
	`people\..*`: "title block",
	`site\.(address|climate|latitude|longitude|elevation|time_zone|print)`: "title block and sun",
	`site\.(coldest|hottest)`: "later rules: DC voltage in the cold",
	`site\.code`:              "chooses the edition; here both checks run under one edition",
	`site\.occupancy`:         "decides only for a center-fed bar",
	`site\.rise_target`:       "a project target, no fact of the site: left open, 2 % is assumed and marked so",
	`service\.(rating|volt_watt|highest_voltage|fault_current\..*)`: "later rules: service, fault current, highest voltage",
	`.*\.name`:                            "a name",
	`panels\.MP\.breakers\[\d+\]\.rating`: "loads count in no rule of a main panel but the sum of all breakers",
	`equipment\.modules\..*`:              "later rules: DC input",
	`equipment\.terminations\..*|equipment\.combiners\.CB-3\.(branch|lug)_torque`:     "torque list",
	`equipment\.inverters\.MI-340\.(power|input_.*|modules_per_unit|neutral|.*_208V)`: "another voltage, DC input, power",
	`equipment\.trunks\.T2\.landscape`:                                                "all modules stand upright",
	`equipment\.combiners\.CB-3\.(interrupting|main_lug_only)`:                        "later rules; without a main of its own the breaker upstream protects the bar, and it is the smaller one",
	`planes\..*`:                        "the roof's drawing",
	`runs\.home\.segments\[0\]\.sun`:    "the raceway is high enough above the roof",
	`meter\..*`:                         "CT proof",
	`runs\..*\.segments\[\d+\]\.length`: "the 10 ft or 10 % relief is a later rule",
}

// leaf is a single value of a document: its path with ids, as findings name it,
// and with indexes, as edits take it.
type leaf struct{ named, indexed string }

func leaves(n *yaml.Node, named, indexed string) []leaf {
	var out []leaf
	switch n.Kind {
	case yaml.DocumentNode:
		return leaves(n.Content[0], "", "")
	case yaml.ScalarNode:
		return []leaf{{strings.TrimPrefix(named, "."), strings.TrimPrefix(indexed, ".")}}
	case yaml.SequenceNode:
		for i, item := range n.Content {
			at := fmt.Sprintf("[%d]", i)
			name := at
			for _, key := range []string{"panel", "run", "id"} {
				if v := valueOf(item, key); v != nil {
					name = "." + v.Value
				}
			}
			out = append(out, leaves(item, named+name, indexed+at)...)
		}
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			key := "." + n.Content[i].Value
			out = append(out, leaves(n.Content[i+1], named+key, indexed+key)...)
		}
	}
	return out
}

func byID(found []working.Finding) map[string]working.Finding {
	out := map[string]working.Finding{}
	for _, f := range found {
		out[f.ID()] = f
	}
	return out
}

func passes(f working.Finding) bool { return f.Verdict == working.OK || f.Verdict == working.Look }

func names(f working.Finding, path string) bool {
	return slices.ContainsFunc(f.Missing, func(m working.Missing) bool { return m.Path == path })
}

func reads(f working.Finding, path string) bool {
	return slices.ContainsFunc(f.Steps, func(s working.Step) bool { return s.Result.From().Path == path })
}

// Every fact of every house is blanked in turn. A finding that read it must ask
// for it by name, or leave its place to another finding that does; nothing may
// pass that did not pass before.
func TestBlankedFacts(t *testing.T) {
	for _, house := range houses.All(t) {
		t.Run(house.Name, func(t *testing.T) {
			t.Parallel()
			edition := working.Edition(house.Doc.Site.Code.Value)
			before := byID(rules.Check(resolved(t, house.Doc), edition))
			var root yaml.Node
			if err := yaml.Unmarshal(house.Bytes, &root); err != nil {
				t.Fatal(err)
			}
			blanked, asked := 0, 0
			for _, l := range leaves(&root, "", "") {
				doc, err := house.Doc.Set(l.indexed, "?")
				if err != nil {
					continue // an id, a list, a word that other things hang on: it cannot be unknown
				}
				blanked++
				if blankedFact(t, doc, edition, before, l.named) {
					asked++
				} else if house.Name == "quillfeather" && !listed(l.named) {
					t.Errorf("%s: blanked, and nothing asks for it", l.named)
				}
			}
			t.Logf("%d facts blanked, %d of them asked for", blanked, asked)
			if asked < 30 {
				t.Errorf("only %d facts are asked for", asked)
			}
		})
	}
}

// blankedFact judges a document that lacks a fact and reports whether a finding
// asks for it.
func blankedFact(t *testing.T, doc *job.Document, e working.Edition, before map[string]working.Finding, path string) bool {
	p, err := site.Resolve(doc, doc.Decisions)
	if err != nil {
		t.Errorf("%s: blanked: %v", path, err)
		return false
	}
	after := byID(rules.Check(p, e))
	asks := func(place string) bool {
		for _, f := range after {
			if f.Verdict == working.Ask && names(f, path) && (place == "" || site.PlaceRoot(f.Place) == place) {
				return true
			}
		}
		return false
	}
	// A target is decided, not found on site: the usual one takes its place and
	// is marked as assumed.
	if path == "site.rise_target" {
		return false
	}
	for id, f := range before {
		now, there := after[id]
		switch {
		case !reads(f, path):
		case there && f.Rule == "interrupting-neutral" && path == "service.fault_to_neutral" && passes(now) && !reads(now, path):
			// The most that it can be passes there.
		case there && f.Rule == "insulation-wet" && passes(now) && !reads(now, path):
			// Another stretch of the run is wet too, and its insulation is fit for it.
		case !there && !asks(site.PlaceRoot(f.Place)):
			t.Errorf("%s: %s is gone, and nothing at its place asks", path, id)
		case there && (now.Verdict != working.Ask || !names(now, path)):
			t.Errorf("%s: %s says %s\n%s", path, id, now.Verdict, now.Text())
		}
	}
	for id, f := range after {
		for _, s := range f.Steps {
			if s.Result.From().Kind == "" {
				t.Errorf("%s: blanked, %s: nobody says where %s is from", path, id, s.Sym)
			}
		}
		was, there := before[id]
		if passes(f) && !(there && passes(was)) && !asks(site.PlaceRoot(f.Place)) {
			t.Errorf("%s: blanked, %s passes; it was %q", path, id, was.Verdict)
		}
		if there && f.Verdict != was.Verdict && f.Verdict != working.Ask {
			t.Errorf("%s: blanked, %s went from %s to %s", path, id, was.Verdict, f.Verdict)
		}
	}
	return asks("")
}

func listed(path string) bool {
	for form := range unused {
		if regexp.MustCompile(`^(?:` + form + `)$`).MatchString(path) {
			return true
		}
	}
	return false
}

// A key that is left out asks as "?" does, but for those whose absence says that
// there is no such thing. These are all of them that the rules read.
func TestLeftOutMeansNone(t *testing.T) {
	for _, c := range []struct {
		line, why   string
		rule, place string
		verdict     working.Verdict
		sym, value  string
	}{
		{"        neutral: 10 AWG\n", "the circuit has no neutral: 3 × 0.0211 = 0.0633 in²", "raceway-fill", "output", working.OK, "a_sum", "0.0633 in²"},
		{"      gateway_breaker: 15 A\n", "no gateway: 20 + 20 = 40 A", "busbar-sum", "combiner/bus", working.OK, "I_sum", "40 A"},
	} {
		doc := parsed(t, []byte(strings.Replace(string(base(t).Source), c.line, "", 1)))
		f := judge(t, doc, c.rule)[c.place]
		if got, _ := said(f, c.sym); f.Verdict != c.verdict || got != c.value {
			t.Errorf("%s (%s): %s, %s = %s", strings.TrimSpace(c.line), c.why, f.Verdict, c.sym, got)
		}
	}
	// EMT is a ground itself (250.118): without a wire there is nothing to size.
	// In plastic it is asked for.
	bare := parsed(t, []byte(strings.ReplaceAll(string(base(t).Source), "        ground: 10 AWG\n", "")))
	if _, looked := judge(t, bare, "equipment-ground")["home"]; looked {
		t.Error("EMT without a ground wire: the rule should not apply")
	}
	plastic := with(t, bare, "decisions.runs.home.conductors.raceway = PVC-40")
	if f := judge(t, plastic, "equipment-ground")["home"]; f.Verdict != working.Ask || !names(f, "decisions.runs.home.conductors.ground") {
		t.Errorf("plastic without a ground: %s", f.Text())
	}
	// Left out like "?": the ground's metal follows the line conductors.
	aluminum := with(t, base(t), "decisions.runs.output.conductors.material = aluminum")
	if got, _ := said(judge(t, aluminum, "equipment-ground")["output"], "G_min"); got != "16510 cmil" {
		t.Errorf("aluminum run, metal of the ground left out: G_min = %s, want 16510 cmil", got)
	}
}

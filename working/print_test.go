package working_test

import (
	"encoding/json"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"legwork/quantity"
	"legwork/where"
	"legwork/working"
)

// busbar is the 120 % sum of scenario S1: 200 + 1.25 × 19.88 = 224.85 A; 1.2 × 200 = 240 A.
func busbar(bus working.Stater) working.Finding {
	w := working.NewSheet(2020)
	main := w.Fact("I_main", working.State(quantity.Amps(200), "main breaker",
		working.Origin{Kind: working.Given, Path: "panels.MP.main", At: where.Pos{File: "oak.yaml", Line: 31, Col: 9}}))
	rating := w.Fact("I_bus", bus)
	out := w.Fact("I_src", working.State(quantity.Amps(19.88), "output of all units", working.Origin{Kind: working.Chosen, Path: "decisions.branches"}))
	sum := w.Let("I_sum", main.Plus(out.Times(1.25)), "main plus 125 % of the output")
	limit := w.Let("I_max", rating.Times(1.2), "120 % of the busbar")
	f := working.Finding{Rule: "busbar-120", Title: "Main plus 125 % of the source within 120 % of the busbar", Place: "MP/bus",
		Edition: 2020, Clause: "705.12(B)(3)(2)", Verdict: w.AtMost(sum, limit)}
	w.Note("the breaker sits at the far end")
	f.Steps, f.Test, f.Missing, f.Notes = w.Steps(), w.Test(), w.Missing(), w.Notes()
	return f
}

func assumedBus() working.Stater {
	return working.State(quantity.Amps(200), "busbar", working.Origin{Kind: working.Assumed, Path: "panels.MP.busbar"})
}

func unknownBus() working.Stater {
	return working.Fact[quantity.Amps]{Means: "busbar", Ask: working.Missing{Path: "panels.MP.busbar",
		What: "busbar rating of the main panel", Find: "label inside the door", Photo: "panel label"}}
}

func TestFindingText(t *testing.T) {
	want := `ok  Main plus 125 % of the source within 120 % of the busbar
busbar-120@MP/bus  2020 705.12(B)(3)(2)
  I_main  main breaker                   _200 A_    given: panels.MP.main, oak.yaml:31:9
  I_bus   busbar                         [200 A]    assumed: panels.MP.busbar
  I_src   output of all units              19.88 A  chosen: decisions.branches
  I_sum   main plus 125 % of the output   224.85 A  I_main + 1.25 × I_src = 200 + 1.25 × 19.88
  I_max   120 % of the busbar             240 A     1.2 × I_bus = 1.2 × 200

  224.85 A ≤ 240 A  15.15 A to spare
  note: the breaker sits at the far end
`
	f := busbar(assumedBus())
	if got := f.Text(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if got := f.Margin(); got != "15.15 A to spare" {
		t.Errorf("margin %q", got)
	}

	f = busbar(unknownBus())
	for _, line := range []string{
		"ask  Main plus", "\n  I_bus   busbar", "1.2 × I_bus = 1.2 × ?", "\n  224.85 A ≤ ?  not known yet\n",
		"\n  missing: busbar rating of the main panel (panels.MP.busbar): label inside the door; photo: panel label\n",
	} {
		if !strings.Contains(f.Text(), line) {
			t.Errorf("%q is not in\n%s", line, f.Text())
		}
	}

	f = working.Finding{Rule: "busbar-120", Title: "Busbar", Place: "MP/bus", Edition: 1999, NotCovered: true, Existing: true,
		Fixes: []working.Fix{{Title: "smaller main", Hours: 4.5, Notes: "needs an outage"}}}
	if got, want := f.Text(), "not covered  Busbar\nbusbar-120@MP/bus  1999  existing\n  fix: smaller main, 4.5 h, needs an outage\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if f.Margin() != "" {
		t.Errorf("margin without a test: %q", f.Margin())
	}
}

func TestMarks(t *testing.T) {
	for kind, want := range map[working.Kind]string{
		working.Given: "_200 A_", working.Chosen: "200 A", working.Assumed: "[200 A]", working.Table: "200 A", working.Computed: "200 A",
	} {
		if got := working.Of(quantity.Amps(200), "", working.Origin{Kind: kind}).Marked(); got != want {
			t.Errorf("%s: %s, want %s", kind, got, want)
		}
	}
	if got := unknown[quantity.Amps]("x").Term().Marked(); got != "?" {
		t.Errorf("unknown: %s", got)
	}
}

// TestHTML checks that the fragment is well formed, tells the origins apart and
// lets nothing through that a person typed.
func TestHTML(t *testing.T) {
	w := working.NewSheet(2020)
	w.Fact("I_<x>", working.State("<script>alert(1)</script>", `"big" & <b>`, working.Origin{Kind: working.Given, Path: "a<b"}))
	w.Note("<img src=x>")
	hostile := w.HTML("survey")
	for _, f := range []string{hostile, busbar(assumedBus()).HTML("survey"), busbar(unknownBus()).HTML("survey")} {
		d := xml.NewDecoder(strings.NewReader("<div>" + f + "</div>"))
		for {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%v in\n%s", err, f)
			}
		}
	}
	for _, bad := range []string{"<script", "<img", "<b>", "<x>"} {
		if strings.Contains(hostile, bad) {
			t.Errorf("%s stands unescaped in\n%s", bad, hostile)
		}
	}
	got := busbar(assumedBus()).HTML("survey")
	for _, want := range []string{
		`<table class="calc">`, `<th scope="row" class="sym">I<sub>main</sub></th>`, `<td class="means">main breaker</td>`,
		`<td class="val"><span class="given">200 A</span></td>`, `<span class="assumed">200 A</span>`, `<span class="chosen">19.88 A</span>`,
		`<td class="from">given, <a href="survey#L31" title="panels.MP.main">line 31</a></td>`, `<td class="from">chosen by the plan</td>`, `I<sub>main</sub> + 1.25 × I<sub>src</sub> = 200 + 1.25 × 19.88`,
		`<span class="op">≤</span>`, `<span class="margin">15.15 A to spare</span>`, `<ul class="notes"><li>the breaker sits at the far end</li></ul>`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%s is not in\n%s", want, got)
		}
	}
	got = busbar(unknownBus()).HTML("survey")
	for _, want := range []string{`<span class="unknown">?</span>`, `<ul class="missing"><li>busbar rating of the main panel`} {
		if !strings.Contains(got, want) {
			t.Errorf("%s is not in\n%s", want, got)
		}
	}
}

// TestHTMLOfWords holds that a comparison of words says what is, and what must
// be only where that differs.
func TestHTMLOfWords(t *testing.T) {
	for _, tt := range []struct {
		name, is, want string
		known          bool
	}{
		{"met", "far end", `<p class="test"><span class="given">far end</span></p>`, true},
		{"not met", "beside the main", `<p class="test"><span class="given">beside the main</span>; <span class="op">must be</span> <span class="computed">far end</span></p>`, true},
		{"not known", "", `<p class="test"><span class="unknown">?</span></p>`, false},
	} {
		w := working.NewSheet(2020)
		w.Is(w.Fact("end", working.Fact[string]{Value: tt.is, Known: tt.known, From: working.Origin{Kind: working.Given}}), "far end")
		if got := w.HTML(""); !strings.Contains(got, tt.want) {
			t.Errorf("%s: %s is not in\n%s", tt.name, tt.want, got)
		}
	}
}

// TestFindingJSON holds the wire form to section 10 of the design, field by field.
func TestFindingJSON(t *testing.T) {
	const known = `{
  "id": "busbar-120@MP/bus", "rule": "busbar-120", "title": "Main plus 125 % of the source within 120 % of the busbar",
  "place": "MP/bus", "verdict": "ok", "edition": 2020, "clause": "705.12(B)(3)(2)", "existing": false, "on_site": false,
  "steps": [
    {"sym": "I_main", "meaning": "main breaker", "value": 200, "unit": "A",
     "from": {"kind": "given", "path": "panels.MP.main", "at": {"file": "oak.yaml", "line": 31, "col": 9}}},
    {"sym": "I_bus", "meaning": "busbar", "value": 200, "unit": "A", "from": {"kind": "assumed", "path": "panels.MP.busbar"}},
    {"sym": "I_src", "meaning": "output of all units", "value": 19.88, "unit": "A", "from": {"kind": "chosen", "path": "decisions.branches"}},
    {"sym": "I_sum", "meaning": "main plus 125 % of the output", "expr": "I_main + 1.25 × I_src", "filled": "200 + 1.25 × 19.88",
     "value": 224.85, "unit": "A", "from": {"kind": "computed"}},
    {"sym": "I_max", "meaning": "120 % of the busbar", "expr": "1.2 × I_bus", "filled": "1.2 × 200", "value": 240, "unit": "A", "from": {"kind": "computed"}}
  ],
  "test": {"left": {"value": 224.85, "unit": "A"}, "op": "≤", "right": {"value": 240, "unit": "A"}, "margin": {"value": 15.15, "unit": "A"}},
  "missing": [], "notes": ["the breaker sits at the far end"], "fixes": [], "not_covered": false
}`
	sameJSON(t, busbar(assumedBus()), known)

	const ask = `{"left": {"value": 224.85, "unit": "A"}, "op": "≤", "right": {"value": null, "unit": "A"}, "margin": null}`
	f := busbar(unknownBus())
	sameJSON(t, f.Test, ask)
	sameJSON(t, f.Missing, `[{"path": "panels.MP.busbar", "what": "busbar rating of the main panel", "find": "label inside the door", "photo": "panel label"}]`)
	sameJSON(t, given(quantity.AWG10, "size").Term(), `{"value": "10 AWG", "unit": ""}`)
}

func sameJSON(t *testing.T, v any, want string) {
	t.Helper()
	got, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	if normal(t, string(got)) != normal(t, want) {
		t.Errorf("got  %s\nwant %s", normal(t, string(got)), normal(t, want))
	}
}

func normal(t *testing.T, s string) string {
	t.Helper()
	var v any
	if err := json.Unmarshal([]byte(s), &v); err != nil {
		t.Fatalf("%v in %s", err, s)
	}
	b, _ := json.MarshalIndent(v, "", " ")
	return string(b)
}

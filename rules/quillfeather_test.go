package rules_test

import (
	"testing"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/quantity"
	"legwork/rules"
	"legwork/tables"
	"legwork/working"
)

// line is one line of a scenario's table: an edit of the house, if any, and what
// a finding must say then. Values are typed from the table.
type line struct {
	name    string
	edits   []string
	rule    string
	place   string
	verdict working.Verdict
	values  [][2]string
}

func judgeLines(t *testing.T, house string, lines []line) {
	doc := houses.Get(t, house).Doc
	for _, l := range lines {
		t.Run(l.name, func(t *testing.T) { judgeLine(t, doc, l) })
	}
}

func judgeLine(t *testing.T, doc *job.Document, l line) {
	found := judge(t, with(t, doc, l.edits...), l.rule)
	f, ok := found[l.place]
	if !ok {
		t.Fatalf("%s does not look at %s", l.rule, l.place)
	}
	if f.Verdict != l.verdict {
		t.Errorf("%s, want %s\n%s", f.Verdict, l.verdict, f.Text())
	}
	for _, v := range l.values {
		if got, ok := said(f, v[0]); !ok || got != v[1] {
			t.Errorf("%s = %q, want %q\n%s", v[0], got, v[1], f.Text())
		}
	}
}

// All units of the house on branch A: both rows of the plane as one trunk.
var allOnOneBranch = []string{
	"decisions.branches.A.units[0] = S-r1-c1..c14",
}

// Scenario S1, 118 Quillfeather Lane, line by line. Source: scenarios.md, S1,
// "What a good tool says". Lines of its table that no rule here covers: highest
// voltage, metering.
func TestQuillfeather(t *testing.T) {
	// A plane of one row of fourteen, so that one trunk can hold them all.
	one := with(t, houses.Get(t, "quillfeather").Doc, "planes.S.grid.columns = 14")
	one = with(t, one, allOnOneBranch...)
	t.Run("all 14 on one branch: 19.88 A > 16.0 A", func(t *testing.T) {
		judgeLine(t, one, line{rule: "branch-current", place: "A", verdict: working.Stop,
			values: [][2]string{{"I", "19.88 A"}, {"I_max", "16 A"}}})
	})
	t.Run("all 14 on one branch: limit 11 units", func(t *testing.T) {
		judgeLine(t, one, line{rule: "branch-units", place: "A", verdict: working.Stop,
			values: [][2]string{{"n", "14"}, {"n_max", "11"}}})
	})
	judgeLines(t, "quillfeather", []line{
		{"two branches of 7: units", nil, "branch-units", "A", working.OK, [][2]string{{"n", "7"}, {"n_max", "11"}}},
		{"two branches of 7: amps", nil, "branch-current", "B", working.OK, [][2]string{{"I", "9.94 A"}, {"I_max", "16 A"}}},
		{"output 19.88 A, 125 % 24.85 A, 30 A breaker holds it", nil, "output-breaker", "pv_output", working.OK,
			[][2]string{{"I_out", "19.88 A"}, {"I_125", "24.85 A"}, {"I_b", "30 A"}}},
		{"25 A is the minimum", []string{"decisions.connections.output.breaker = 25 A"}, "output-breaker", "pv_output", working.OK,
			[][2]string{{"I_std", "25 A"}}},
		{"20 A is too little", []string{"decisions.connections.output.breaker = 20 A"}, "output-breaker", "pv_output", working.Stop, nil},
		{"busbar 200 + 24.85 = 224.85 ≤ 240", nil, "busbar-120", "MP/bus", working.OK,
			[][2]string{{"I_sum", "224.85 A"}, {"I_max", "240 A"}, {"clause", "705.12(B)(3)(2)"}}},
		{"PV breaker [38, 40] at the far end", nil, "busbar-end", "MP/38-40", working.OK, nil},
		{"trap: PV breaker in the first free space [19, 21]",
			[]string{"decisions.connections.output.spaces[0] = 19", "decisions.connections.output.spaces[1] = 21"},
			"busbar-end", "MP/19-21", working.Stop, [][2]string{{"position", "not at the far end"}}},
		{"home run 40 × 0.76 × 0.80 = 24.3 A", nil, "conductor-carries", "home", working.OK,
			[][2]string{{"A_t", "40 A"}, {"f_T", "0.76"}, {"f_N", "0.8"}}},
		{"home run protected by 20 A", nil, "breaker-protects", "home", working.OK, [][2]string{{"I_b", "20 A"}}},
		{"12 AWG is allowed with 20 A by next size up", []string{"decisions.runs.home.conductors.size = 12 AWG"}, "breaker-protects", "home", working.OK,
			[][2]string{{"I_next", "20 A"}, {"I_b", "20 A"}}},
		{"fill 5 × 0.0211 = 0.1055 of 0.213 in²", nil, "raceway-fill", "home", working.OK,
			[][2]string{{"a₁", "0.0211 in²"}, {"a_sum", "0.1055 in²"}, {"a_max", "0.213 in²"}}},
		{"rise 0.63 + 1.11 + 0.30 = 2.03 V = 0.85 %", nil, "voltage-rise", "A", working.OK,
			[][2]string{{"V_trunk", "0.63 V"}, {"V_home", "1.11 V"}, {"V_pv_output", "0.3 V"}, {"V_rise", "2.03 V"}, {"rise", "0.85 %"}}},
		{"rise of the other branch alike", nil, "voltage-rise", "B", working.OK, [][2]string{{"V_rise", "2.03 V"}}},
	})
	t.Run("home run 24.3 A, to the digit shown", func(t *testing.T) {
		shows(t, houses.Get(t, "quillfeather").Doc, "conductor-carries", "home", "A", 24.3, 1)
	})
	t.Run("12 AWG 18.2 A, to the digit shown", func(t *testing.T) {
		shows(t, with(t, houses.Get(t, "quillfeather").Doc, "decisions.runs.home.conductors.size = 12 AWG"), "breaker-protects", "home", "A", 18.2, 1)
	})
	t.Run("12 AWG rises more", func(t *testing.T) {
		thin := with(t, houses.Get(t, "quillfeather").Doc, "decisions.runs.home.conductors.size = 12 AWG")
		ten, twelve := judge(t, houses.Get(t, "quillfeather").Doc, "voltage-rise")["A"], judge(t, thin, "voltage-rise")["A"]
		if got, than := twelve.Test.Left.Float(), ten.Test.Left.Float(); got <= than {
			t.Errorf("12 AWG rises %v %%, 10 AWG %v %%", got, than)
		}
	})
	t.Run("no rule stops or asks", func(t *testing.T) {
		if v := rules.Worst(rules.Check(resolved(t, houses.Get(t, "quillfeather").Doc), 2020)); v != working.OK {
			t.Errorf("worst verdict %s, want ok", v)
		}
	})
	t.Run("25 A is standard", func(t *testing.T) {
		if got, err := tables.NextStandard(2020, 24.85); err != nil || got != 25 {
			t.Errorf("next standard rating above 24.85 A: %v, %v; want 25 A", got, err)
		}
	})
}

// shows compares a value with the digits that a table prints.
func shows(t *testing.T, doc *job.Document, rule, place, sym string, want float64, places int) {
	t.Helper()
	f, ok := judge(t, doc, rule)[place]
	if !ok {
		t.Fatalf("%s does not look at %s", rule, place)
	}
	for _, s := range f.Steps {
		if s.Sym == sym {
			if got := quantity.Trim(s.Result.Float(), places); got != quantity.Trim(want, places) {
				t.Errorf("%s = %s, want %v\n%s", sym, got, want, f.Text())
			}
			return
		}
	}
	t.Errorf("no %s in\n%s", sym, f.Text())
}

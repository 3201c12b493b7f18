package sheets_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"legwork/internal/houses"
	"legwork/job"
)

// extreme is a house made from an invented one, at an end of what can be.
type extreme struct{ name, yaml string }

// extremes are made from quillfeather by changing its text.
func extremes(t testing.TB) []extreme {
	t.Helper()
	base := string(houses.Get(t, "quillfeather").Bytes)
	return []extreme{
		{"four units", fourUnits(t, base)},
		{"sixty units on five planes", sixtyUnits(t, base)},
		{"long names", longNames(t, base)},
		{"three panels in a row", threeInARow(t)},
		{"nothing known", nothingKnown(base)},
		{"starting document", string(job.Starting("12 Elm Street"))},
	}
}

// put replaces one text that must be there.
func put(t testing.TB, in, old, with string) string {
	t.Helper()
	if !strings.Contains(in, old) {
		t.Fatalf("the base house has no %q any more", old)
	}
	return strings.Replace(in, old, with, 1)
}

// undecided cuts the decisions off.
func undecided(t testing.TB, in string) string {
	t.Helper()
	at := strings.Index(in, "\ndecisions:")
	if at < 0 {
		t.Fatal("the base house has no decisions any more")
	}
	return in[:at+1]
}

func fourUnits(t testing.TB, s string) string {
	s = put(t, undecided(t, s), "rows: 2", "rows: 1")
	return put(t, s, "columns: 7", "columns: 4")
}

func sixtyUnits(t testing.TB, s string) string {
	s = undecided(t, s)
	s = put(t, s, "branch_spaces: 3", "branch_spaces: 6")
	from, to := strings.Index(s, "\nplanes:"), strings.Index(s, "\njunction_boxes:")
	var b strings.Builder
	b.WriteString("\nplanes:\n")
	for i, name := range []string{"S", "E", "W", "porch", "dormer"} {
		fmt.Fprintf(&b, "  - id: %s\n    azimuth: %d deg\n    pitch: 6/12\n    outline:\n", name, 90+30*i)
		for _, corner := range [][2]int{{0, 0}, {40, 0}, {40, 20}, {0, 20}} {
			fmt.Fprintf(&b, "      - {x: %d ft, y: %d ft}\n", corner[0]+60*i, corner[1])
		}
		b.WriteString("    grid: {rows: 2, columns: 6, orientation: portrait, from_left: 2 ft, from_eave: 2 ft, gap: 1 in}\n    module: PV-405\n    inverter: MI-320\n")
	}
	s = s[:from] + b.String() + s[to:]
	// the smaller unit: twelve on a branch, so five branches
	s = put(t, s, "- id: MI-340", "- id: MI-320")
	s = put(t, s, "current_240V: 1.42 A", "current_240V: 1.33 A")
	return put(t, s, "units_per_20A_240V: 11", "units_per_20A_240V: 12")
}

// threeInARow puts a combiner ahead of otterbend's garage panel.
func threeInARow(t testing.TB) string {
	s := undecided(t, string(houses.Get(t, "otterbend").Bytes))
	s = put(t, s, "\nplanes:", `
  combiners:
    - {id: CB, busbar: 150 A, branch_spaces: 3, gateway_breaker: 15 A, main_lug_only: true, interrupting: 10 kA, terminals: 75 C}

planes:`)
	s = put(t, s, "\nruns:", `
combiners:
  - {id: combiner, name: PV combiner, type: CB}

runs:`)
	s = put(t, s, "    to: GP\n", "    to: combiner\n")
	s = put(t, s, "  - id: feeder\n", `  - id: pv_output
    name: PV output
    from: combiner
    to: GP
    length: 5 ft
    segments:
      - {length: 5 ft, where: wall, ambient: 32 C}
  - id: feeder
`)
	return s + `
decisions:
  connections:
    - {id: output, from: combiner, run: pv_output, kind: breaker, panel: GP, spaces: [10, 12], breaker: 40 A, by: person}
`
}

const endless = "Señora Þórunn Æsgerður Grünwald-Łukasiewicz van der Õunapuu 😀 and Sons and Daughters and Cousins, Roofing, Photovoltaic and Ďábelské Elektro"

func longNames(t testing.TB, s string) string {
	for _, r := range [][2]string{
		{"name: 118 Quillfeather Lane", `name: "` + endless + `"`},
		{"firm: Lanternfish Electric", `firm: "` + endless + `"`},
		{"address: 118 Quillfeather Lane", `address: "` + endless + `"`},
		{`license: "INVENTED-00000"`, `license: "` + strings.Repeat("INVENTED-", 12) + `"`},
		{"name: main panel", `name: "` + endless + `"`},
		{"name: home run", `name: "` + endless + `"`},
		{"name: PV output", `name: "` + endless + `"`},
		{"name: PV combiner", `name: "` + endless + `"`},
		{"name: roof junction box", `name: "` + endless + `"`},
		{"name: dryer", `name: "` + endless + `"`},
		{"name: range", `name: "Donaudampfschifffahrtselektrizitätenhauptbetriebswerk"`},
	} {
		s = put(t, s, r[0], r[1])
	}
	return s
}

// valued is a line with a figure that may stay unknown.
var valued = regexp.MustCompile(`(?m)^(\s+(?:- )?(?:code|coldest|hottest|system|current|kind|highest_voltage|rating|busbar|main|feed|spaces|terminals|power|current_240V|units_per_20A_240V|largest_breaker|input_voltage|input_short|size|material|portrait|branch_spaces|main_lug_only|interrupting|length|where|ambient|modules_per_unit|gateway_breaker|firm|license|address|climate)): [^\[{\n][^\n]*$`)

func nothingKnown(s string) string {
	at := strings.Index(s, "\ndecisions:")
	return valued.ReplaceAllString(s[:at+1], `$1: "?"`)
}

package rules_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"legwork/circuit"
	"legwork/job"
	"legwork/quantity"
	"legwork/tables"
	"legwork/working"
)

// Published worked examples, by the answers that their sources print. Each is
// compared within half the last printed digit. The house of the cases carries
// them: sixteen units share a current that an example states in one figure.

// sixteen is the case house with 16 units of together i amps, cool runs.
func sixteen(t *testing.T, i float64, edits ...string) *job.Document {
	t.Helper()
	return with(t, base(t), append([]string{
		"decisions.branches.A.units[0] = S-r1-c1..c9",
		fmt.Sprintf("equipment.inverters.U.current_240V = %v A", i/16),
		"runs.output.segments[0].ambient = 30 C",
	}, edits...)...)
}

// published compares a step of a finding with what a source prints.
func published(t *testing.T, doc *job.Document, rule, place string, verdict working.Verdict, printed map[string]string) {
	t.Helper()
	f, ok := judge(t, doc, rule)[place]
	if !ok {
		t.Fatalf("%s does not look at %s", rule, place)
	}
	if f.Verdict != verdict {
		t.Errorf("%s, want %s\n%s", f.Verdict, verdict, f.Text())
	}
	for sym, want := range printed {
		found := false
		for _, s := range f.Steps {
			if s.Sym == sym {
				found = true
				if got := s.Result.Float(); !withinPrint(got, want) {
					t.Errorf("%s = %v, published %s\n%s", sym, got, want, f.Text())
				}
			}
		}
		if !found {
			t.Errorf("no %s in\n%s", sym, f.Text())
		}
	}
}

// withinPrint reports whether a value rounds to a printed one: within half of
// its last digit.
func withinPrint(got float64, printed string) bool {
	var want float64
	fmt.Sscan(printed, &want)
	_, decimals, _ := strings.Cut(printed, ".")
	return math.Abs(got-want) <= 0.5*math.Pow10(-len(decimals))*(1+1e-9)
}

func TestPublishedAmpacity(t *testing.T) {
	cool := []string{"runs.home.segments[0].ambient = 30 C", "runs.home.segments[1].ambient = 30 C", "runs.home.segments[2].ambient = 30 C"}
	home := func(edits ...string) *job.Document { return with(t, base(t), append(cool, edits...)...) }
	size := func(s string) string { return "decisions.runs.home.conductors.size = " + s }

	// amp-4x12-emt. Source: forum question on adjustment factors,
	// forums.mikeholt.com/threads/derating-adjusment.111900 (2011-2017): 24 A.
	published(t, home(size("12 AWG")), "conductor-carries", "home", working.OK, map[string]string{"A": "24"})

	// amp-12-55C. Source: engineer board, engineerboards.com/threads/27269: factor 0.76.
	published(t, with(t, base(t), "decisions.runs.output.conductors.size = 12 AWG", "runs.output.segments[0].ambient = 55 C"),
		"conductor-carries", "output", working.OK, map[string]string{"f_T": "0.76"})

	// amp-6x4-0. Source: level 4 quiz, stuvia.com (2017): table value at 80 percent;
	// the source shows no figure, 260 × 0.80 = 208 by hand. Four conductors take
	// the same factor as its six.
	published(t, home(size("4/0 AWG")), "conductor-carries", "home", working.OK, map[string]string{"f_N": "0.80", "A": "208"})

	// amp-3-0-80pct. Source: master specification page, velegna.com: 180 A at
	// 90 °C, 160 A at 75 °C.
	published(t, home(size("3/0 AWG")), "conductor-carries", "home", working.OK, map[string]string{"A": "180"})
	published(t, home(size("3/0 AWG"), "decisions.runs.home.conductors.insulation = THWN"), "conductor-carries", "home", working.OK, map[string]string{"A": "160"})

	// amp-12-40C-75. Source: reference page on table 310.16, wiresizes.com (2023): 22 A.
	published(t, with(t, base(t), "site.code = 2023", "decisions.runs.output.conductors.size = 12 AWG", "decisions.runs.output.conductors.insulation = THWN", "runs.output.segments[0].ambient = 40 C"),
		"conductor-carries", "output", working.OK, map[string]string{"A": "22"})
}

func TestPublishedInverterCircuits(t *testing.T) {
	// inv-7600-10awg. Source: IAEI Magazine, September 2020, photo caption: 7600 W
	// needs a 40 A breaker, 10 AWG takes 30 A: rejected. 7600 / 240 = 31.667 A.
	plan := sixteen(t, 31.6667, "decisions.connections.PV.breaker = 40 A")
	published(t, plan, "output-breaker", "output", working.OK, map[string]string{"I_std": "40"})
	published(t, plan, "breaker-protects", "output", working.Stop, map[string]string{"I_cap": "30"})

	// inv-20A-branch. Source: forum answer on microinverter branches,
	// forums.mikeholt.com post 2771814: 16 A on a 20 A breaker.
	published(t, base(t), "branch-current", "A", working.OK, map[string]string{"I_max": "16"})

	// permit-combiner-50. Source: town building record, conductor sizing sheet of a
	// permit of 2014: 50 A of units, 62.5 A, 6 AWG 65 A, 70 A breaker.
	permit := sixteen(t, 50, "decisions.runs.output.conductors.size = 6 AWG", "decisions.connections.PV.breaker = 70 A", "decisions.runs.output.conductors.ground = 8 AWG")
	published(t, permit, "output-breaker", "output", working.OK, map[string]string{"I_125": "62.5", "I_std": "70"})
	published(t, permit, "terminals", "output", working.OK, map[string]string{"A_term": "65", "I_125": "62.5"})
	published(t, permit, "breaker-protects", "output", working.OK, map[string]string{"I_next": "70"})
	// and fails where the terminals are for 60 °C: 55 A.
	published(t, with(t, permit, "panels.MP.terminals = 60 C"), "terminals", "output", working.Stop, map[string]string{"A_term": "55"})
}

// toolkit-inverter-ocpd. Source: California Solar Permitting Guidebook toolkit,
// standard plan, from memory: smallest breaker and copper conductor for an
// inverter's output at 75 °C terminals.
//
// Slip: for 40 A the plan (as remembered) prints 6 AWG. 8 AWG carries 50 A at
// 75 °C, which is 1.25 × 40 A exactly, so the code asks no more than 8.
func TestPublishedStandardPlan(t *testing.T) {
	sizes := []string{"14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG"}
	for _, row := range []struct {
		output        float64
		breaker, size string
	}{{12, "15", "14 AWG"}, {16, "20", "12 AWG"}, {24, "30", "10 AWG"}, {32, "40", "8 AWG"}, {40, "50", "8 AWG"}, {48, "60", "6 AWG"}} {
		doc := sixteen(t, row.output, "decisions.connections.PV.breaker = "+row.breaker+" A")
		published(t, doc, "output-breaker", "output", working.OK, map[string]string{"I_std": row.breaker})
		thinnest := ""
		for _, s := range sizes {
			try := with(t, doc, "decisions.runs.output.conductors.size = "+s)
			if judge(t, try, "terminals")["output"].Verdict == working.OK &&
				judge(t, try, "conductor-carries")["output"].Verdict == working.OK &&
				judge(t, try, "breaker-protects")["output"].Verdict == working.OK {
				thinnest = s
				break
			}
		}
		if thinnest != row.size {
			t.Errorf("%v A: %s, want %s", row.output, thinnest, row.size)
		}
	}
}

func TestPublishedBusbars(t *testing.T) {
	// bus-120-table. Source: plan-check notes on article 705 with the quick table
	// of California standard plans (2023 base): the largest source by bus and main.
	for _, row := range []struct{ bus, main, most float64 }{
		{100, 100, 20}, {125, 100, 50}, {125, 125, 25}, {200, 150, 90}, {200, 175, 65},
		{200, 200, 40}, {225, 175, 95}, {225, 200, 70}, {225, 225, 45},
	} {
		panel := []string{"site.code = 2023", fmt.Sprintf("panels.MP.busbar = %v A", row.bus), fmt.Sprintf("panels.MP.main = %v A", row.main)}
		most := sixteen(t, row.most/1.25, panel...)
		f := judge(t, most, "busbar-120")["MP/bus"]
		if f.Test == nil || f.Test.Margin != 0 {
			t.Errorf("bus %v A, main %v A: %v A should meet the limit exactly\n%s", row.bus, row.main, row.most, f.Text())
		}
		if v := judge(t, sixteen(t, row.most/1.25+0.16, panel...), "busbar-120")["MP/bus"].Verdict; v != working.Stop {
			t.Errorf("bus %v A, main %v A: 0.2 A over %v A is %q, want stop", row.bus, row.main, row.most, v)
		}
	}

	// bus-sum-200. Source: forum thread on the sum of all breakers, 2585503: 60 A of
	// source on a 200 A bar with a 200 A main fails by 120 %. (Its sum of all
	// breakers, 90 A, is a choice for load centers that no rule here offers.)
	published(t, sixteen(t, 48), "busbar-120", "MP/bus", working.Stop, map[string]string{"I_sum": "260", "I_max": "240"})

	// bus-combiner-400. Source: forum thread 2586554 (2017): twenty 20 A circuits fill
	// a 400 A bar; a 20 A monitoring breaker is too much. Here two of 200 A.
	full := []string{"site.code = 2017", "equipment.combiners.C3.busbar = 400 A", "decisions.branches.A.breaker = 200 A", "decisions.branches.B.breaker = 200 A"}
	published(t, with(t, base(t), append(full, "equipment.combiners.C3.gateway_breaker = 20 A")...), "busbar-sum", "combiner/bus", working.Stop, map[string]string{"I_sum": "420"})
	bare := parsed(t, []byte(strings.Replace(string(base(t).Source), "      gateway_breaker: 15 A\n", "", 1)))
	published(t, with(t, bare, full...), "busbar-sum", "combiner/bus", working.Look, map[string]string{"I_sum": "400"})

	// bus-centre-downsize. Source: forum thread on center-fed panels, post 1580044
	// (2011): 100 A main, 40 A of source on a 200 A bar: 140 A, acceptable.
	published(t, sixteen(t, 32, "panels.MP.main = 100 A", "panels.MP.feed = center"), "busbar-100", "MP/bus", working.OK, map[string]string{"I_sum": "140", "I_bus": "200"})

	// feedthrough-221. Source: forum thread 2580629 (2020): 200 A and 16.8 A of
	// source could feed 221 A; 16.8 A is inferred from the 221.
	published(t, sixteen(t, 16.8), "busbar-120", "MP/bus", working.OK, map[string]string{"I_sum": "221"})
}

// Grounds raised with their line conductors. Where one size passes, the next one
// down is stopped.
func TestPublishedGrounds(t *testing.T) {
	for _, example := range []struct {
		name, breaker, from, to, cmil, ground, thinner string
	}{
		// egc-250-350. Source: training notes quoting the handbook example.
		{"250 to 350 kcmil at 300 A", "300 A", "250 kcmil", "350 kcmil", "58436", "2 AWG", "3 AWG"},
		// egc-3-0-500. Source: mepanet.com 287. Slip: the published 77932.8 cmil come
		// from a ratio cut to 2.97; 500000 / 167800 × 26240 is 78188.
		{"3/0 to 500 at 200 A", "200 A", "3/0 AWG", "500 kcmil", "78188", "1 AWG", "2 AWG"},
		// egc-12-6. Source: ecmag.com, question column.
		{"12 to 6 AWG at 20 A", "20 A", "12 AWG", "6 AWG", "26240", "6 AWG", "8 AWG"},
	} {
		run := "decisions.runs.output.conductors."
		doc := with(t, base(t), "site.code = 2017", "decisions.connections.PV.breaker = "+example.breaker,
			"equipment.inverters.U.current_240V = 1 A", run+"size = "+example.to)
		published(t, with(t, doc, run+"ground = "+example.ground), "equipment-ground", "output", working.OK, map[string]string{"G_up": example.cmil})
		published(t, with(t, doc, run+"ground = "+example.thinner), "equipment-ground", "output", working.Stop, map[string]string{"G_up": example.cmil})
		if v, _ := said(judge(t, with(t, doc, run+"ground = "+example.ground), "equipment-ground")["output"], "least size"); v != example.from {
			t.Errorf("%s: least size %s, published %s", example.name, v, example.from)
		}
	}
}

func TestPublishedFill(t *testing.T) {
	// fill-sch80-mixed. Source: forum thread, showthread 184265 (2014): ten 12, five
	// 10 and three 8 AWG THHN in schedule 80 PVC: 1-1/4.
	// fill-3x6. Source: electrical design calculation notes: three 6 AWG THHN take
	// 0.1521 in² and 3/4 EMT.
	for _, example := range []struct {
		name     string
		wires    map[quantity.Size]int
		raceway  tables.RacewayKind
		area     string
		smallest quantity.TradeSize
	}{
		{"schedule 80, mixed", map[quantity.Size]int{quantity.AWG12: 10, quantity.AWG10: 5, quantity.AWG8: 3}, "PVC-80", "0.3483", quantity.Trade1_1_4},
		{"three 6 AWG", map[quantity.Size]int{quantity.AWG6: 3}, tables.EMT, "0.1521", quantity.Trade3_4},
	} {
		var area float64
		n := 0
		for size, count := range example.wires {
			a, err := tables.ConductorArea("THHN", size)
			if err != nil {
				t.Fatal(err)
			}
			area += float64(count) * a.Float()
			n += count
		}
		if !withinPrint(area, example.area) {
			t.Errorf("%s: %v in², published %s", example.name, area, example.area)
		}
		for _, trade := range quantity.TradeSizes() {
			room, err := tables.FillRoom(example.raceway, trade, n, false)
			if err == nil && quantity.Compare(room.Float(), area) >= 0 {
				if trade != example.smallest {
					t.Errorf("%s: %v, published %v", example.name, trade, example.smallest)
				}
				break
			}
		}
	}
}

func TestPublishedVoltageDrop(t *testing.T) {
	drop := func(r quantity.OhmsPerKFt, ft quantity.Feet, i quantity.Amps) float64 {
		w := working.NewSheet(2020)
		of := func(q quantity.Quantity) working.Term {
			return working.Of(q, "", working.Origin{Kind: working.Given})
		}
		return circuit.RunRise(w, "V", "drop", of(i), of(r), of(ft)).Float()
	}
	// vd-12awg-120V. Source: voltage drop page, calculators9.com: 12 AWG, 100 ft,
	// 15 A: 5.94 V, 4.95 %. It names K = 12.9, which gives 5.926 V; the printed
	// figure is the one of table 8, 2 × 15 × 1.98 × 100 / 1000.
	r, err := tables.Resistance(quantity.AWG12, tables.Copper, tables.Stranded)
	if err != nil {
		t.Fatal(err)
	}
	if v := drop(r, 100, 15); !withinPrint(v, "5.94") || !withinPrint(v/1.20, "4.95") {
		t.Errorf("12 AWG: %v V, %v %%; published 5.94 V, 4.95 %%", v, v/1.20)
	}
	// vd-16awg-24V. Source: low voltage lesson, electrician2.com: 4.99 Ω/kft, 100 ft,
	// 4 A: 4.0 V. Slip: its 16.7 % comes from the rounded 4.0 V; 3.992 V is 16.63 %.
	if v := drop(4.99, 100, 4); !withinPrint(v, "4.0") {
		t.Errorf("16 AWG: %v V, published 4.0 V", v)
	}
}

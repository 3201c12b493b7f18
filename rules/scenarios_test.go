package rules_test

import (
	"testing"

	"legwork/working"
)

// The lines of scenarios S2 to S7 that these rules cover, typed from
// scenarios.md, "What a good tool says"; the whole tables are another issue.

func TestLarkbarrow(t *testing.T) { // S2
	judgeLines(t, "larkbarrow", []line{
		{"9 × 1.67 = 15.03 ≤ 16", nil, "branch-current", "A", working.OK, [][2]string{{"I", "15.03 A"}, {"I_max", "16 A"}}},
		{"output 45.09 A, 56.36 A, 60 A breaker", nil, "output-breaker", "pv_output", working.OK,
			[][2]string{{"I_out", "45.09 A"}, {"I_125", "56.36 A"}, {"I_std", "60 A"}, {"I_b", "60 A"}}},
		{"6 AWG 65 A at 75 °C", nil, "terminals", "pv_output", working.OK, [][2]string{{"A_term", "65 A"}}},
		{"8 AWG 50 A fails", []string{"decisions.runs.pv_output.conductors.size = 8 AWG"}, "terminals", "pv_output", working.Stop, [][2]string{{"A_term", "50 A"}}},
		{"busbar as labelled 256.36 ≤ 270", nil, "busbar-120", "MP/bus", working.OK, [][2]string{{"I_sum", "256.36 A"}, {"I_max", "270 A"}}},
		{"busbar as the sales form says 256.36 > 240", []string{"panels.MP.busbar = 200 A"}, "busbar-120", "MP/bus", working.Stop, [][2]string{{"I_sum", "256.36 A"}, {"I_max", "240 A"}}},
		{"branch spaces 3 of 3", nil, "combiner-spaces", "combiner/bus", working.Look, [][2]string{{"n", "3"}, {"n_max", "3"}}},
		{"combiner 3 × 20 + 15 = 75 ≤ 150", nil, "busbar-sum", "combiner/bus", working.OK, [][2]string{{"I_sum", "75 A"}, {"I_bus", "150 A"}}},
		{"home run 40 × 0.76 × 0.80 = 24.3, no adder at 1.0 in", nil, "conductor-carries", "home", working.OK, [][2]string{{"f_T", "0.76"}, {"f_N", "0.8"}, {"A", "24.32 A"}}},
		{"fill 7 × 0.0211 = 0.1477 of 0.213", nil, "raceway-fill", "home", working.OK, [][2]string{{"a_sum", "0.1477 in²"}, {"a_max", "0.213 in²"}}},
		{"1/2 would fail", []string{"decisions.runs.home.conductors.trade_size = 1/2 in"}, "raceway-fill", "home", working.Stop, [][2]string{{"a_max", "0.122 in²"}}},
		{"rise B1 1.19 + 2.31 + 0.53 = 4.03 V = 1.68 %", nil, "voltage-rise", "A", working.OK,
			[][2]string{{"V_trunk", "1.19 V"}, {"V_home", "2.31 V"}, {"V_pv_output", "0.53 V"}, {"V_rise", "4.03 V"}, {"rise", "1.68 %"}}},
		{"rise B2 trunk 1.93, 4.77 V = 1.99 %, pass by 0.01 %", nil, "voltage-rise", "B", working.Look,
			[][2]string{{"V_trunk", "1.93 V"}, {"V_rise", "4.77 V"}, {"rise", "1.99 %"}, {"margin", "0.01 % to spare, a hair"}}},
		{"rise B3 1.55, 4.39 V = 1.83 %", nil, "voltage-rise", "C", working.OK, [][2]string{{"V_trunk", "1.55 V"}, {"V_rise", "4.39 V"}, {"rise", "1.83 %"}}},
	})
}

func TestCandlewick(t *testing.T) { // S3
	twelve := []string{"planes.S.grid.columns = 12", "decisions.branches.A.units[0] = S-r1-c1..c12", "decisions.branches.B.units[0] = S-r2-c1"}
	judgeLines(t, "candlewick", []line{
		{"16 units: 21.28 A, 26.60 A, 30 A breaker", nil, "output-breaker", "pv_output", working.OK, [][2]string{{"I_out", "21.28 A"}, {"I_125", "26.6 A"}, {"I_std", "30 A"}}},
		{"busbar 126.6 > 120", nil, "busbar-120", "MP/bus", working.Stop, [][2]string{{"I_sum", "126.6 A"}, {"I_max", "120 A"}}},
		{"12 units on one branch: 15.96 A", twelve, "branch-current", "A", working.OK, [][2]string{{"I", "15.96 A"}}},
		{"90 A main: 116.6 ≤ 120 by the bus alone", []string{"panels.MP.main = 90 A"}, "busbar-120", "MP/bus", working.OK, [][2]string{{"I_sum", "116.6 A"}, {"I_max", "120 A"}}},
		{"90 A main: 230.79(C) wants 100 A", []string{"panels.MP.main = 90 A"}, "main-minimum", "MP/main", working.Stop, [][2]string{{"I_main", "90 A"}, {"margin", "10 A too little"}}},
		{"space: PV at [17, 19], where the dryer sits", nil, "spaces-free", "MP/17-19", working.Stop, nil},
		{"space: free 12 and 13 are on opposite sides", []string{"decisions.connections.output.spaces[0] = 12", "decisions.connections.output.spaces[1] = 13"}, "spaces-free", "MP/12-13", working.Stop, nil},
		{"survey says 125 A: 126.6 ≤ 150", []string{"panels.MP.busbar = 125 A"}, "busbar-120", "MP/bus", working.OK, [][2]string{{"I_max", "150 A"}}},
		{"rise 16 units: 2.61 + 0.21 = 2.82 V = 1.17 %", nil, "voltage-rise", "A", working.OK, [][2]string{{"V_pv_output", "0.21 V"}, {"V_rise", "2.82 V"}, {"rise", "1.17 %"}}},
	})
}

func TestSaltgrass(t *testing.T) { // S4
	judgeLines(t, "saltgrass", []line{
		{"output 31.92 A, 39.90 A, 40 A", nil, "output-breaker", "pv_output", working.OK, [][2]string{{"I_out", "31.92 A"}, {"I_125", "39.9 A"}, {"I_std", "40 A"}}},
		{"busbar 239.90 ≤ 240, by 0.10 A", nil, "busbar-center", "MP/bus", working.Look, [][2]string{{"I_sum", "239.9 A"}, {"I_max", "240 A"}, {"margin", "0.1 A to spare, a hair"}}},
		{"draft position [18, 20] is free, that is the trap", nil, "spaces-free", "MP/18-20", working.OK, nil},
		{"draft position [18, 20] beside the main", nil, "busbar-end", "MP/18-20", working.Stop, nil},
		{"[2, 4] is an end", []string{"decisions.connections.output.spaces[0] = 2", "decisions.connections.output.spaces[1] = 4"}, "busbar-end", "MP/2-4", working.OK, nil},
		{"[37, 39] is an end", []string{"decisions.connections.output.spaces[0] = 37", "decisions.connections.output.spaces[1] = 39"}, "busbar-end", "MP/37-39", working.OK, nil},
		{"PV output 8 AWG 50 A ≥ 39.9", nil, "terminals", "pv_output", working.OK, [][2]string{{"A_term", "50 A"}, {"I_125", "39.9 A"}}},
		{"PV output protected by 40", nil, "breaker-protects", "pv_output", working.OK, [][2]string{{"I_b", "40 A"}}},
		{"home run 40 × 0.91 × 0.80 = 29.1", nil, "conductor-carries", "home", working.OK, [][2]string{{"f_T", "0.91"}, {"A", "29.12 A"}}},
		{"rise 1.64 + 1.58 + 0.75 = 3.97 V = 1.65 %", nil, "voltage-rise", "A", working.OK,
			[][2]string{{"V_trunk", "1.64 V"}, {"V_home", "1.58 V"}, {"V_pv_output", "0.75 V"}, {"V_rise", "3.97 V"}, {"rise", "1.65 %"}}},
	})
}

func TestOtterbend(t *testing.T) { // S5
	center := []string{"decisions.branches.A.feed = center", "decisions.branches.B.feed = center"}
	with := func(size string, more ...string) []string {
		return append([]string{"runs.feeder.conductors.size = " + size}, more...)
	}
	judgeLines(t, "otterbend", []line{
		{"garage bus 60 + 37.58 = 97.58 ≤ 100 on the plain sum", nil, "busbar-100", "GP/bus", working.OK, [][2]string{{"I_src", "30.06 A"}, {"I_sum", "97.58 A"}, {"I_bus", "100 A"}}},
		{"house bus 237.58 ≤ 240, not 260", nil, "busbar-120", "MP/bus", working.OK, [][2]string{{"I_sum", "237.58 A"}, {"I_max", "240 A"}}},
		{"one source beside the utility", nil, "busbar-two", "MP/bus", working.OK, [][2]string{{"n", "1"}}},
		{"garage breakers free", nil, "spaces-free", "GP/9-11", working.OK, nil},
		{"feeder breaker at [5, 7]", nil, "busbar-end", "MP/5-7", working.Stop, nil},
		{"feeder 4 AWG Al 65 A", nil, "terminals", "feeder", working.OK, [][2]string{{"A_term", "65 A"}}},
		{"feeder behind 60 A", nil, "breaker-protects", "feeder", working.OK, [][2]string{{"I_b", "60 A"}}},
		{"rise to the garage bus 5.50 V, in all 7.62 V = 3.17 %", nil, "voltage-rise", "A", working.Stop,
			[][2]string{{"V_feeder", "5.5 V"}, {"V_home", "0.93 V"}, {"V_trunk", "1.19 V"}, {"V_rise", "7.62 V"}, {"rise", "3.17 %"}}},
		{"1/0 Al end-fed 4.30 V 1.79 %", with("1/0 AWG"), "voltage-rise", "A", working.OK, [][2]string{{"V_rise", "4.3 V"}, {"rise", "1.79 %"}}},
		{"1 Al end-fed 4.86 V 2.03 %", with("1 AWG"), "voltage-rise", "A", working.Stop, [][2]string{{"V_rise", "4.86 V"}, {"rise", "2.03 %"}}},
		{"1 Al center-fed 4.07 V 1.69 %", with("1 AWG", center...), "voltage-rise", "A", working.OK, [][2]string{{"V_rise", "4.07 V"}, {"rise", "1.69 %"}}},
		{"2 Al center-fed 4.78 V 1.99 %, a hair", with("2 AWG", center...), "voltage-rise", "A", working.Look, [][2]string{{"V_rise", "4.78 V"}, {"rise", "1.99 %"}}},
		{"center-feeding alone 6.83 V 2.84 %", center, "voltage-rise", "A", working.Stop, [][2]string{{"V_rise", "6.83 V"}, {"rise", "2.84 %"}}},
		{"three 1 Al and a 4 Al ground 0.5416 of 0.581 in²", with("1 AWG", "runs.feeder.conductors.neutral = 1 AWG", "runs.feeder.conductors.ground = 4 AWG"),
			"raceway-fill", "feeder", working.OK, [][2]string{{"a_sum", "0.5416 in²"}, {"a_max", "0.581 in²"}}},
		{"three 1/0 and a 3 Al ground 0.6437", with("1/0 AWG", "runs.feeder.conductors.neutral = 1/0 AWG", "runs.feeder.conductors.ground = 3 AWG"),
			"raceway-fill", "feeder", working.Stop, [][2]string{{"a_sum", "0.6437 in²"}}},
		{"two 1/0, neutral reduced to 3 Al: 0.5574", with("1/0 AWG", "runs.feeder.conductors.neutral = 3 AWG", "runs.feeder.conductors.ground = 3 AWG"),
			"raceway-fill", "feeder", working.OK, [][2]string{{"a_sum", "0.5574 in²"}}},
	})
}

func TestPennywhistle(t *testing.T) { // S6
	judgeLines(t, "pennywhistle", []line{
		{"output 41.76 A, 52.20 A, 60 A fuses", nil, "output-breaker", "pv_output", working.OK, [][2]string{{"I_out", "41.76 A"}, {"I_125", "52.2 A"}, {"I_b", "60 A"}}},
		{"service: 41.76 A ≤ 150 A", nil, "supply-rating", "pv_output/tap", working.OK, [][2]string{{"I_out", "41.76 A"}, {"I_sv", "150 A"}, {"A", "150 A"}, {"I_max", "150 A"}}},
		{"tap conductors 6 AWG copper 65 A ≥ 52.2", nil, "terminals", "pv_output", working.OK, [][2]string{{"A_term", "65 A"}, {"I_125", "52.2 A"}}},
		{"tap conductors at least the 6 AWG minimum", nil, "supply-size", "pv_output/tap", working.OK, [][2]string{{"k", "26240 cmil"}, {"clause", "705.11(B)"}}},
		{"tap to fuses, 2023: indoors or out?", nil, "tap-to-fuses", "pv_output/tap", working.Ask, [][2]string{{"missing", "disconnects.PV_switch.outside"}}},
		{"tap to fuses, 2017: 6 ft of 10 ft", []string{"site.code = 2017"}, "tap-to-fuses", "pv_output/tap", working.OK, [][2]string{{"margin", "4 ft to spare"}}},
		{"disconnect service rated", nil, "supply-service-rated", "pv_output/tap", working.OK, nil},
		{"grounded conductor at least 8 AWG copper", nil, "supply-neutral", "pv_output/tap", working.OK, [][2]string{{"k_n", "16510 cmil"}, {"k_min", "16510 cmil"}}},
		{"no equipment ground ahead of the fuses: to be looked at", nil, "supply-ground-ahead", "pv_output/tap", working.Ask, nil},
		{"grounded conductor bonded in the disconnect: to be looked at", nil, "supply-bond", "pv_output/tap", working.Ask, nil},
		{"raceway bonded per 250.92: to be looked at", nil, "supply-raceway", "pv_output/tap", working.Ask, [][2]string{{"clause", "250.92, 250.102(C)"}}},
		{"utility rule on taps", nil, "supply-consent", "pv_output/tap", working.Ask, nil},
		{"branch spaces 3 of 3", nil, "combiner-spaces", "combiner/bus", working.Look, nil},
		{"rise B1 1.24 + 1.94 + 0.74 = 3.91 V = 1.63 %", nil, "voltage-rise", "A", working.OK,
			[][2]string{{"V_trunk", "1.24 V"}, {"V_home", "1.94 V"}, {"V_pv_output", "0.74 V"}, {"V_rise", "3.91 V"}, {"rise", "1.63 %"}}},
		{"rise B3 0.95 + 1.82 + 0.74 = 3.51 V = 1.46 %", nil, "voltage-rise", "C", working.OK,
			[][2]string{{"V_trunk", "0.95 V"}, {"V_home", "1.82 V"}, {"V_rise", "3.51 V"}, {"rise", "1.46 %"}}},
		{"one model on each branch", nil, "branch-model", "C", working.OK, nil},
	})
}

func TestOcotillo(t *testing.T) { // S7
	lifted := []string{"runs.home.segments[0].height = 3/4 in"}
	thick := []string{"decisions.runs.home.conductors.size = 8 AWG"}
	judgeLines(t, "ocotillo", []line{
		{"output 46.86 A, 58.58 A, 60 A", nil, "output-breaker", "pv_output", working.OK, [][2]string{{"I_out", "46.86 A"}, {"I_125", "58.58 A"}, {"I_b", "60 A"}}},
		{"busbar 200 + 58.58 = 258.58 ≤ 270", nil, "busbar-120", "MP/bus", working.OK, [][2]string{{"I_sum", "258.58 A"}, {"I_max", "270 A"}}},
		{"roof piece 43 + 33 = 76 °C, 0.41, 13.12 A < 15.62 A", nil, "conductor-carries", "home", working.Stop,
			[][2]string{{"T", "76 °C"}, {"f_T", "0.41"}, {"f_N", "0.8"}, {"A", "13.12 A"}, {"I", "15.62 A"}}},
		{"remedy A: lift to 3/4 in, 40 × 0.87 × 0.80 = 27.84 A", lifted, "conductor-carries", "home", working.OK, [][2]string{{"f_T", "0.87"}, {"A", "27.84 A"}}},
		{"remedy A protects with 20 A", lifted, "breaker-protects", "home", working.OK, nil},
		{"remedy B: XHHW-2, the same 27.84 A", []string{"decisions.runs.home.conductors.insulation = XHHW-2"}, "conductor-carries", "home", working.OK, [][2]string{{"A", "27.84 A"}}},
		{"remedy C: 8 AWG 55 × 0.41 × 0.80 = 18.04 A ≥ 15.62", thick, "conductor-carries", "home", working.OK, [][2]string{{"A", "18.04 A"}}},
		{"remedy C: 20 A by next size up", thick, "breaker-protects", "home", working.OK, [][2]string{{"I_next", "20 A"}}},
		{"remedy C: fill 0.2407 > 0.213", thick, "raceway-fill", "home", working.Stop, [][2]string{{"a_sum", "0.2407 in²"}, {"a_max", "0.213 in²"}}},
		{"remedy C needs 1 in, 0.346", append(thick[:1:1], "decisions.runs.home.conductors.trade_size = 1 in"), "raceway-fill", "home", working.OK, [][2]string{{"a_max", "0.346 in²"}}},
		{"rise 1.48 + 2.71 + 0.46 = 4.66 V = 1.94 %", nil, "voltage-rise", "A", working.OK,
			[][2]string{{"V_trunk", "1.48 V"}, {"V_home", "2.71 V"}, {"V_pv_output", "0.46 V"}, {"V_rise", "4.66 V"}, {"rise", "1.94 %"}}},
		{"8 AWG: 3.65 V = 1.52 %", thick, "voltage-rise", "A", working.OK, [][2]string{{"V_rise", "3.65 V"}, {"rise", "1.52 %"}}},
	})
}

package rules_test

import (
	"testing"

	"legwork/working"
)

// The highest-voltage lines of the scenarios, typed from scenarios.md, "What a
// good tool says". Its 0.1 V is the last digit there; ours prints 0.01 V.
func TestHighestVoltage(t *testing.T) {
	judgeLines(t, "quillfeather", []line{ // S1
		{"244.2 + 2.0 = 246.2 V", nil, "voltage-trip", "A", working.OK, [][2]string{{"V_svc", "244.2 V"}, {"V_rise", "2.03 V"}, {"V_top", "246.23 V"}}},
	})
	judgeLines(t, "larkbarrow", []line{ // S2
		{"246.8 + 4.77 = 251.6 V < 254.4", nil, "voltage-curtail", "B", working.OK, [][2]string{{"V_top", "251.57 V"}, {"V_knee", "254.4 V"}}},
	})
	judgeLines(t, "otterbend", []line{ // S5
		{"248.9 + 7.62 = 256.5 V > 254.4, volt-watt curtails, no violation", nil, "voltage-curtail", "A", working.Look, [][2]string{{"V_top", "256.52 V"}, {"V_knee", "254.4 V"}}},
		{"not a trip (264)", nil, "voltage-trip", "A", working.OK, [][2]string{{"V_trip", "264 V"}}},
		{"1/0 Al end-fed: 253.2 V", []string{"runs.feeder.conductors.size = 1/0 AWG"}, "voltage-curtail", "A", working.OK, [][2]string{{"V_rise", "4.3 V"}, {"V_top", "253.2 V"}}},
	})
	judgeLines(t, "ocotillo", []line{ // S7
		{"249.6 + 4.66 = 254.3 V, touches the knee of 254.4", nil, "voltage-curtail", "A", working.Look, [][2]string{{"V_top", "254.26 V"}, {"V_knee", "254.4 V"}}},
		{"8 AWG gives 253.2", []string{"decisions.runs.home.conductors.size = 8 AWG"}, "voltage-curtail", "A", working.OK, [][2]string{{"V_top", "253.25 V"}}},
	})
}

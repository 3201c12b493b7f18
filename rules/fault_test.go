package rules_test

import (
	"testing"

	"legwork/internal/houses"
	"legwork/working"
)

// Lines of the scenarios' tables on grounds, fault current, relief and separate
// buildings, typed from scenarios.md, "What a good tool says".

// Common check of every job: the fault-current rating of every new device is at
// least the available fault current; the equipment ground is large enough. The
// ratings of the main panels are invented.
func TestEveryHouseWithstandsItsFault(t *testing.T) {
	for _, house := range houses.All(t) {
		for _, rule := range []string{"interrupting", "interrupting-neutral", "equipment-ground"} {
			for place, f := range judge(t, house.Doc, rule) {
				if f.Verdict != working.OK {
					t.Errorf("%s: %s at %s: %s\n%s", house.Name, rule, place, f.Verdict, f.Text())
				}
			}
		}
	}
}

func TestOtterbendGround(t *testing.T) { // S5
	feeder := func(size, ground string) []string {
		return []string{"runs.feeder.conductors.size = " + size, "runs.feeder.conductors.ground = " + ground}
	}
	short := judge(t, with(t, houses.Get(t, "otterbend").Doc, feeder("2 AWG", "6 AWG")...), "equipment-ground")["feeder"]
	if len(short.Notes) == 0 || short.Notes[0] != "short by 8 cmil of 26248: strictly the next size; show it to the inspector" {
		t.Errorf("8 cmil: %q", short.Notes)
	}
	judgeLines(t, "otterbend", []line{
		{"8 Al ground behind 60 A", nil, "equipment-ground", "feeder", working.OK, [][2]string{{"G_min", "16510 cmil"}}},
		{"4 to 2 Al: 26248 cmil > 26240, short by 8", feeder("2 AWG", "6 AWG"), "equipment-ground", "feeder", working.Stop,
			[][2]string{{"G_up", "26248 cmil"}, {"G", "26240 cmil"}, {"least size", "4 AWG"}, {"margin", "8 cmil too little"}}},
		{"strictly 4 Al", feeder("2 AWG", "4 AWG"), "equipment-ground", "feeder", working.OK, [][2]string{{"G", "41740 cmil"}}},
		{"1/0 Al: 41769 cmil, 29 over 4 AWG", feeder("1/0 AWG", "4 AWG"), "equipment-ground", "feeder", working.Stop,
			[][2]string{{"G_up", "41769 cmil"}, {"margin", "29 cmil too little"}}},
		{"1/0 Al takes a 3 Al ground", feeder("1/0 AWG", "3 AWG"), "equipment-ground", "feeder", working.OK, nil},
		{"1 Al takes a 4 Al ground", feeder("1 AWG", "4 AWG"), "equipment-ground", "feeder", working.OK, nil},
		{"separate building: four-wire feeder", nil, "building-ground", "GP/ground", working.OK, nil},
		{"separate building: disconnect", nil, "building-disconnect", "GP", working.Ask, nil},
		{"separate building: electrode", nil, "building-electrode", "GP/electrode", working.Ask, nil},
		{"separate building: neutral apart", nil, "building-neutral", "GP", working.Ask, nil},
		{"separate building: directory at both", nil, "building-directory", "GP", working.Ask, nil},
	})
}

func TestPennywhistleFault(t *testing.T) { // S6
	judgeLines(t, "pennywhistle", []line{
		// By hand: f = 2 × 6 × 14200 / (2425 × 240) = 0.2928; 14200 / 1.2928 = 10984 A.
		{"14.2 kA at the tap, 11.0 kA after 6 ft of 6 AWG > 10 kA", nil, "switch-rating", "pv_output/PV_switch", working.Stop,
			[][2]string{{"I_sc", "14.2 kA"}, {"I_switch", "10.98 kA"}, {"I_IR", "10 kA"}}},
		{"a switch for 12 kA is good only behind its 6 ft", []string{"disconnects.PV_switch.interrupting = 12 kA"}, "switch-rating", "pv_output/PV_switch", working.Look, nil},
		{"a switch for what stands at the tap", []string{"disconnects.PV_switch.interrupting = 14.2 kA"}, "switch-rating", "pv_output/PV_switch", working.OK, nil},
		{"18 ft of 6 AWG in steel: 7.6 kA ≤ 10 kA at the combiner", nil, "interrupting", "combiner/bus", working.OK,
			[][2]string{{"I_combiner", "7.56 kA"}, {"I_IR", "10 kA"}}},
		{"the neutral of the output is at least 8 AWG", nil, "neutral-size", "pv_output", working.OK, [][2]string{{"N", "16510 cmil"}}},
		{"is the trough indoors or out: the initiator is asked for", nil, "rapid-shutdown", "MP/rapid-shutdown", working.Ask, nil},
	})
}

func TestOcotilloRelief(t *testing.T) { // S7
	f := judge(t, houses.Get(t, "ocotillo").Doc, "conductor-carries")["home"]
	want := "the relief for short stretches (10 ft or 10 %) does not apply: 38 ft of 70 ft"
	if f.Verdict != working.Stop || len(f.Notes) == 0 || f.Notes[0] != want {
		t.Errorf("38 of 70 ft is neither 10 ft nor 10 %%: %s", f.Text())
	}
	judgeLines(t, "ocotillo", []line{
		{"remedy C: raised for temperature, 10 AWG ground stays", []string{"decisions.runs.home.conductors.size = 8 AWG"}, "equipment-ground", "home", working.OK,
			[][2]string{{"G_min", "6530 cmil"}}},
		{"so in 2017 too", []string{"site.code = 2017", "decisions.runs.home.conductors.size = 8 AWG"}, "equipment-ground", "home", working.OK, nil},
	})
}

// One edit of a conductor is judged again by every rule of the chain.
func TestChainInOnePass(t *testing.T) {
	thick := with(t, houses.Get(t, "ocotillo").Doc, "decisions.runs.home.conductors.size = 8 AWG")
	for rule, want := range map[string]working.Verdict{
		"conductor-carries": working.OK, "terminals": working.OK, "breaker-protects": working.OK,
		"raceway-fill": working.Stop, "equipment-ground": working.OK,
	} {
		if f := judge(t, thick, rule)["home"]; f.Verdict != want {
			t.Errorf("%s: %s, want %s", rule, f.Verdict, want)
		}
	}
	if f := judge(t, thick, "box-fill")["roof_box"]; f.Verdict != working.OK {
		t.Errorf("box-fill: %s", f.Text())
	}
}

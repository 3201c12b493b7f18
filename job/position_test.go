package job_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"legwork/job"
)

func TestStretch(t *testing.T) {
	for written, want := range map[string]string{
		"E-r1-c2":           "E-r1-c2",
		"S-r1-c1..c3":       "S-r1-c1 S-r1-c2 S-r1-c3",
		"S-r2-c3..c1":       "S-r2-c3 S-r2-c2 S-r2-c1",
		"porch-r1..r2-c4":   "porch-r1-c4 porch-r2-c4",
		"S-r3..r1-c1":       "S-r3-c1 S-r2-c1 S-r1-c1",
		"north-east-r1-c10": "north-east-r1-c10",
		"S-r1-c2..c2":       "S-r1-c2",
		"S-r0-c1":           "",
		"S-r1-c101":         "",
		"S-r1..r2-c1..c2":   "", // no straight stretch
		"-r1-c1":            "",
		"S-c1-r1":           "",
		"S-r1-c1..":         "",
		"S-r1-c9999999":     "",
		"":                  "",
	} {
		got, err := job.ExpandUnits([]string{written})
		if strings.Join(got, " ") != want || (err != nil) != (want == "") {
			t.Errorf("%q = %v, %v; want %q", written, got, err, want)
		}
	}
}

func TestPositionRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := job.Position{
			Plane: rapid.StringMatching(`[A-Za-z][a-z]{0,8}(-[a-z]{1,5})?`).Draw(t, "plane"),
			Row:   rapid.IntRange(1, 100).Draw(t, "row"), Col: rapid.IntRange(1, 100).Draw(t, "col"),
		}
		back, err := job.ParsePosition(p.String())
		if err != nil || back != p {
			t.Fatalf("%v came back as %v, %v", p, back, err)
		}
	})
}

func TestParsePositionRefusesStretches(t *testing.T) {
	for _, s := range []string{"S-r1-c1..c2", "S-r1-c2..c2", "S-r01-c1"} {
		if p, err := job.ParsePosition(s); err == nil {
			t.Errorf("%q read as %v", s, p)
		}
	}
}

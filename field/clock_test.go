package field

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func clock(t *testing.T, s string) HLC {
	t.Helper()
	h, err := ParseHLC(s)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// Worked by hand from Kulkarni et al. 2014, figure 5: a local or send event
// takes l' = max(l, wall) and counts on when l' = l; a received one takes
// l' = max(l, l of the message, wall).
func TestHLCByHand(t *testing.T) {
	for _, c := range []struct{ name, last, heard, wall, want string }{
		{"clock moved on", "2026-05-04T15:30:00.000Z-0003", "", "2026-05-04T15:30:00.001Z", "2026-05-04T15:30:00.001Z-0000"},
		{"same millisecond", "2026-05-04T15:30:00.000Z-0003", "", "2026-05-04T15:30:00.000Z", "2026-05-04T15:30:00.000Z-0004"},
		{"clock set back an hour", "2026-05-04T15:30:00.000Z-0000", "", "2026-05-04T14:30:00.000Z", "2026-05-04T15:30:00.000Z-0001"},
		{"full count carries", "2026-05-04T15:30:00.000Z-ffff", "", "2026-05-04T14:30:00.000Z", "2026-05-04T15:30:00.001Z-0000"},
		{"heard of a later one", "2026-05-04T15:30:00.000Z-0000", "2026-05-04T15:31:00.000Z-0007", "2026-05-04T15:30:02.000Z", "2026-05-04T15:31:00.000Z-0008"},
		{"heard of an earlier one", "2026-05-04T15:30:00.000Z-0002", "2026-05-04T15:29:00.000Z-0007", "2026-05-04T15:29:30.000Z", "2026-05-04T15:30:00.000Z-0003"},
		{"heard at one millisecond", "2026-05-04T15:30:00.000Z-0002", "2026-05-04T15:30:00.000Z-0007", "2026-05-04T15:30:00.000Z", "2026-05-04T15:30:00.000Z-0008"},
		{"heard, but the wall is ahead", "2026-05-04T15:30:00.000Z-0002", "2026-05-04T15:31:00.000Z-0007", "2026-05-04T15:32:00.000Z", "2026-05-04T15:32:00.000Z-0000"},
	} {
		t.Run(c.name, func(t *testing.T) {
			wall, err := ParseTime(c.wall)
			if err != nil {
				t.Fatal(err)
			}
			got := clock(t, c.last).Next(wall)
			if c.heard != "" {
				got = clock(t, c.last).Hear(clock(t, c.heard), wall)
			}
			if got != clock(t, c.want) {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
}

func anyClock(t *rapid.T, label string) HLC {
	return HLC{
		ms:    rapid.Int64Range(-62135596800000, 253402300799998).Draw(t, label+" ms"), // years 1 to 9999
		count: rapid.Uint16().Draw(t, label+" count"),
	}
}

func TestHLCNeverRunsBackwards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mine, other := anyClock(t, "mine"), anyClock(t, "other")
		wall := time.UnixMilli(rapid.Int64Range(-1e12, 1e13).Draw(t, "wall"))
		if next := mine.Next(wall); next.Compare(mine) <= 0 {
			t.Fatalf("%s follows %s", next, mine)
		}
		if heard := mine.Hear(other, wall); heard.Compare(mine) <= 0 || heard.Compare(other) <= 0 {
			t.Fatalf("%s follows %s and %s", heard, mine, other)
		}
	})
}

func TestHLCTextSortsAndReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyClock(t, "a"), anyClock(t, "b")
		back, err := ParseHLC(a.String())
		if err != nil || back != a {
			t.Fatalf("%s read back as %s, %v", a, back, err)
		}
		if (a.Compare(b) < 0) != (a.String() < b.String()) {
			t.Fatalf("%s and %s sort otherwise as text", a, b)
		}
	})
}

func TestParseHLCRefuses(t *testing.T) {
	for name, s := range map[string]string{
		"empty":            "",
		"no count":         "2026-05-04T15:30:00.000Z",
		"offset":           "2026-05-04T15:30:00.000+00:00-0003",
		"seconds only":     "2026-05-04T15:30:00Z-0003",
		"microseconds":     "2026-05-04T15:30:00.000000Z-0003",
		"upper case count": "2026-05-04T15:30:00.000Z-000A",
		"signed count":     "2026-05-04T15:30:00.000Z-+003",
		"month 13":         "2026-13-04T15:30:00.000Z-0003",
		"other separator":  "2026-05-04T15:30:00.000Z_0003",
	} {
		t.Run(name, func(t *testing.T) {
			if h, err := ParseHLC(s); err == nil {
				t.Errorf("got %s, want an error", h)
			}
		})
	}
}

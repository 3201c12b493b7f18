package store

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestDifference(t *testing.T) {
	for _, tt := range []struct{ name, newest, draft, want string }{
		{"the same", "a\nb\n", "a\nb\n", " a, b"},
		{"one line each", "name: oak\nmain: 200 A\nroof: S\n", "name: oak\nmain: 225 A\nroof: S\n", " name: oak,-main: 200 A,+main: 225 A, roof: S"},
		{"added and taken away", "a\nb\nc\n", "b\nc\nd\n", "-a, b, c,+d"},
		{"the end of a line", "a\r\nb\n", "a\nb\n", "-a\r,+a, b"},
		{"nothing yet", "", "a\n", "+a"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := &Conflict{Draft: Draft{Bytes: []byte(tt.draft)}, Newest: Revision{Bytes: []byte(tt.newest)}}
			var got []string
			for _, l := range c.Difference() {
				got = append(got, string(l.Sign)+l.Text)
			}
			if strings.Join(got, ",") != tt.want {
				t.Errorf("got %q, want %q", strings.Join(got, ","), tt.want)
			}
		})
	}
}

// Both sides can be read back from a difference.
func TestDifferenceHoldsBothSides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.SliceOfN(rapid.SampledFrom([]string{"a", "b", "c", ""}), 0, 12)
		was, now := side.Draw(t, "newest"), side.Draw(t, "draft")
		var gotWas, gotNow []string
		for _, l := range difference(was, now) {
			if l.Sign != '+' {
				gotWas = append(gotWas, l.Text)
			}
			if l.Sign != '-' {
				gotNow = append(gotNow, l.Text)
			}
		}
		if !slices.Equal(gotWas, was) || !slices.Equal(gotNow, now) {
			t.Fatalf("%q and %q came back as %q and %q", was, now, gotWas, gotNow)
		}
	})
}

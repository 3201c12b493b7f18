package field

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"testing"
	"time"

	"legwork/where"
)

// The example of RFC 9562, appendix A.6: unix_ts_ms 0x017F22E279B0 (Tuesday,
// February 22, 2022, 2:22:22 PM GMT-05:00), rand_a 0xCC3, rand_b
// 0b01, 0x8C4DC0C0C07398F.
func TestNewIDOfTheRFC(t *testing.T) {
	at := time.Date(2022, 2, 22, 14, 22, 22, 0, time.FixedZone("", -5*3600))
	// The version and variant bits of the entropy are overwritten: any do.
	entropy := []byte{0xfc, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f}
	id, err := NewID(at, bytes.NewReader(entropy))
	if err != nil {
		t.Fatal(err)
	}
	if want := ID("017f22e2-79b0-7cc3-98c4-dc0c0c07398f"); id != want {
		t.Errorf("got %s, want %s", id, want)
	}
	if !id.Time().Equal(at) {
		t.Errorf("time: got %s, want %s", id.Time(), at)
	}
}

func TestNewIDWantsTenBytes(t *testing.T) {
	if id, err := NewID(time.UnixMilli(0), bytes.NewReader(make([]byte, 9))); err == nil {
		t.Errorf("got %s from nine bytes, want an error", id)
	}
}

func TestNewIDsParseAndSortByTime(t *testing.T) {
	src := rand.NewChaCha8([32]byte{1})
	last := ID("")
	for ms := int64(0); ms < 1<<47; ms = ms*3 + 1 {
		id, err := NewID(time.UnixMilli(ms), src)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := ParseID(string(id)); err != nil {
			t.Error(err)
		}
		if id <= last {
			t.Errorf("%s came after %s but sorts before it", id, last)
		}
		last = id
	}
}

func TestParseIDRefuses(t *testing.T) {
	for name, s := range map[string]string{
		"empty":          "",
		"upper case":     "017F22E2-79B0-7CC3-98C4-DC0C0C07398F",
		"version 4":      "919108f7-52d1-4320-9bac-f847db4148a8",
		"variant 110":    "017f22e2-79b0-7cc3-d8c4-dc0c0c07398f",
		"braces":         "{017f22e2-79b0-7cc3-98c4-dc0c0c07398f}",
		"no hyphens":     "017f22e279b07cc398c4dc0c0c07398f",
		"hyphen misset":  "017f22e27-9b0-7cc3-98c4-dc0c0c07398f",
		"path":           "../../../../../../../etc/passwd7aaaaa",
		"not hex":        "017f22e2-79b0-7cc3-98c4-dc0c0c07398g",
		"trailing space": "017f22e2-79b0-7cc3-98c4-dc0c0c07398f ",
	} {
		t.Run(name, func(t *testing.T) {
			var at where.Error
			if _, err := ParseID(s); !errors.As(err, &at) || at.Came == "" {
				t.Errorf("got %v, want an error that shows what came", err)
			}
		})
	}
}

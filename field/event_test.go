package field

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"slices"
	"strings"
	"testing"

	"legwork/where"
)

// oneEvent is the torque of a landing, as a phone might send it.
const oneEvent = `{
  "id": "019df3a2-4c40-7a01-8000-000000000001",
  "job": "019df39a-0000-7000-8000-00000000000a",
  "device": "019df390-0000-7000-8000-0000000000d1",
  "seq": 7,
  "hlc": "2026-05-04T15:30:00.000Z-0003",
  "kind": "torque",
  "v": 1,
  "body": {"value": {"value": 35.0, "unit": "in-lb"}, "at": "CB/out/L1", "tool": "TW-2"}
}`

// The canonical form, written by hand after RFC 8785: sorted names, no space,
// 35.0 as 35.
const oneCanonical = `{"body":{"at":"CB/out/L1","tool":"TW-2","value":{"unit":"in-lb","value":35}},` +
	`"device":"019df390-0000-7000-8000-0000000000d1","hlc":"2026-05-04T15:30:00.000Z-0003",` +
	`"id":"019df3a2-4c40-7a01-8000-000000000001","job":"019df39a-0000-7000-8000-00000000000a",` +
	`"kind":"torque","seq":7,"v":1}`

func TestDecode(t *testing.T) {
	e, err := Decode([]byte(oneEvent), "upload")
	if err != nil {
		t.Fatal(err)
	}
	if e.Kind != Torque || e.Seq != 7 || e.V != 1 || e.HLC.String() != "2026-05-04T15:30:00.000Z-0003" ||
		e.ID != "019df3a2-4c40-7a01-8000-000000000001" || e.Job != "019df39a-0000-7000-8000-00000000000a" ||
		e.Device != "019df390-0000-7000-8000-0000000000d1" {
		t.Errorf("got %+v", e)
	}
	got, err := e.Canonical()
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != oneCanonical {
		t.Errorf("got  %s\nwant %s", got, oneCanonical)
	}
	hash, err := e.Hash()
	if sum := sha256.Sum256([]byte(oneCanonical)); err != nil || hash != hex.EncodeToString(sum[:]) {
		t.Errorf("hash %s, %v", hash, err)
	}
}

func TestHashSeesMeaningOnly(t *testing.T) {
	hash := func(src string) string {
		t.Helper()
		e, err := Decode([]byte(src), "upload")
		if err != nil {
			t.Fatal(err)
		}
		h, err := e.Hash()
		if err != nil {
			t.Fatal(err)
		}
		return h
	}
	first := hash(oneEvent)
	if hash(oneCanonical) != first {
		t.Error("the same event in another spelling has another hash")
	}
	if hash(strings.Replace(oneEvent, "35.0", "35.1", 1)) == first {
		t.Error("another torque has the same hash")
	}
	if hash(strings.Replace(oneEvent, `"seq": 7`, `"seq": 8`, 1)) == first {
		t.Error("another count has the same hash")
	}
}

func TestDecodeRefuses(t *testing.T) {
	change := func(old, new string) string {
		if !strings.Contains(oneEvent, old) {
			t.Fatalf("the sample has no %s", old)
		}
		return strings.Replace(oneEvent, old, new, 1)
	}
	for _, c := range []struct{ name, in, want string }{
		{"array", `[]`, `upload:1:1: an array; expected an object`},
		{"broken", `{"id"`, `upload:1:6: the text ends; expected a colon`},
		{"unknown member", change(`"v": 1,`, `"v": 1, "when": "now",`), `upload:8:19: when: unknown member "when"; expected only body, device,`},
		{"missing seq", change(`"seq": 7,`, ``), `upload:1:1: seq: nothing; expected the member "seq"`},
		{"upper case id", change(`019df3a2-4c40-7a01`, `019DF3A2-4C40-7A01`), `upload:2:9: id: "019DF3A2-4C40-7A01-8000-000000000001"; expected a version 7 UUID in lower case`},
		{"unknown kind", change(`"torque"`, `"torq"`), `upload:7:11: kind: "torq"; expected one of as-built, correction,`},
		{"newer version", change(`"v": 1`, `"v": 2`), `upload:8:8: v: version 2 of torque; expected version 1 at most`},
		{"seq zero", change(`"seq": 7`, `"seq": 0`), `upload:5:10: seq: the value 0; expected a whole number from 1 to 9007199254740991`},
		{"seq fraction", change(`"seq": 7`, `"seq": 7.5`), `upload:5:10: seq: the value 7.5; expected a whole number`},
		{"seq beyond a double", change(`"seq": 7`, `"seq": 9007199254740993`), `upload:5:10: seq: the value 9007199254740992; expected a whole number`},
		{"seq in quotes", change(`"seq": 7`, `"seq": "7"`), `upload:5:10: seq: the value "7"; expected a whole number`},
		{"clock without count", change(`Z-0003`, `Z`), `upload:6:10: hlc: "2026-05-04T15:30:00.000Z"; expected a clock such as`},
		{"body is a list", change(`{"value": {"value": 35.0, "unit": "in-lb"}, "at": "CB/out/L1", "tool": "TW-2"}`, `[]`), `upload:9:11: body: an array; expected an object`},
		{"body null", change(`{"value": {"value": 35.0, "unit": "in-lb"}, "at": "CB/out/L1", "tool": "TW-2"}`, `null`), `upload:9:11: body: the value null; expected an object`},
		{"too long", `{"body":"` + strings.Repeat("x", MaxEvent) + `"}`, `upload: 1048587 bytes; expected an event of at most 1048576 bytes`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Decode([]byte(c.in), "upload")
			var all where.Errors
			if !errors.As(err, &all) || len(all) != 1 {
				t.Fatalf("got %v, want one fault", err)
			}
			if !strings.HasPrefix(err.Error(), c.want) {
				t.Errorf("got  %s\nwant %s…", err, c.want)
			}
		})
	}
}

func TestDecodeTellsAllFaultsInOrder(t *testing.T) {
	_, err := Decode([]byte("{\"v\": 0,\n\"kind\": 3,\n\"body\": 1}"), "upload")
	var all where.Errors
	if !errors.As(err, &all) {
		t.Fatal(err)
	}
	var paths []string
	for _, e := range all {
		paths = append(paths, e.Path)
	}
	want := []string{"id", "job", "device", "hlc", "seq", "v", "kind", "body"}
	if !slices.Equal(paths, want) {
		t.Errorf("got %q, want %q", paths, want)
	}
}

func TestEventsSortByClockThenDeviceThenCount(t *testing.T) {
	const early, late = "2026-05-04T15:30:00.000Z-0000", "2026-05-04T15:30:00.000Z-0001"
	sorted := []Event{
		{ID: "9", Device: "b", Seq: 9, HLC: clock(t, early)},
		{ID: "8", Device: "a", Seq: 1, HLC: clock(t, late)},
		{ID: "7", Device: "a", Seq: 2, HLC: clock(t, late)},
		{ID: "1", Device: "b", Seq: 1, HLC: clock(t, late)},
		{ID: "2", Device: "b", Seq: 1, HLC: clock(t, late)}, // a device that counts wrongly
	}
	for i := range sorted {
		for j := range sorted {
			got := Compare(sorted[i], sorted[j])
			if want := (i > j) && got == 1 || (i < j) && got == -1 || i == j && got == 0; !want {
				t.Errorf("event %d against %d: got %d", i, j, got)
			}
		}
	}
}

func TestKindsAreTheContract(t *testing.T) {
	want := []Kind{"as-built", "correction", "ct-proof", "hold-point", "measurement", "note",
		"photo", "serial", "signature", "step-done", "torque"}
	if got := Kinds(); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// FuzzDecode holds that an accepted event is sent on as the same event.
func FuzzDecode(f *testing.F) {
	f.Add([]byte(oneEvent))
	f.Add([]byte(oneCanonical))
	f.Add([]byte(`{"id":1,"id":2}`))
	f.Fuzz(func(t *testing.T, in []byte) {
		e, err := Decode(in, "in")
		if err != nil {
			return
		}
		once, err := e.Canonical()
		if err != nil {
			t.Fatal(err)
		}
		again, err := Decode(once, "once")
		if err != nil {
			t.Fatal(err)
		}
		twice, err := again.Canonical()
		if err != nil || !bytes.Equal(once, twice) {
			t.Fatalf("%s became %s, %v", once, twice, err)
		}
	})
}

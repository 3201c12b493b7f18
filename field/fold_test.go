package field

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// made is the n-th event of a device, at a clock of its own.
func made(device, n int, ms int64, kind Kind, body string) Event {
	return Event{ID: ID(fmt.Sprintf("019df3a2-4c40-7a01-8000-%04d%08d", device, n)), Job: "019df39a-0000-7000-8000-00000000000a",
		Device: ID(fmt.Sprintf("019df390-0000-7000-8000-%012d", device)), Seq: int64(n), HLC: HLC{ms: 1777900000000 + ms}, Kind: kind, V: 1, Body: []byte(body)}
}

func note(text string) string { return fmt.Sprintf(`{"by":"Ana","text":%q}`, text) }

func replace(target ID, text string) string {
	return fmt.Sprintf(`{"because":"misread","body":%s,"by":"Ben","of":"note","target":%q}`, note(text), target)
}

func withdraw(target ID) string {
	return fmt.Sprintf(`{"because":"wrong job","by":"Ben","of":"note","target":%q,"withdraw":true}`, target)
}

func fold(t interface{ Fatal(...any) }, events []Event) State {
	s, err := Fold(events)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestCorrectionsCompose(t *testing.T) {
	first := made(1, 1, 0, Note, note("L1 120.1"))
	c1 := made(1, 2, 10, Correction, replace(first.ID, "L1 121.1"))
	c2 := made(2, 1, 20, Correction, replace(c1.ID, "L1 121.7"))
	later := made(2, 2, 30, Correction, replace(first.ID, "L1 122.0"))
	for _, c := range []struct {
		name   string
		events []Event
		want   string // "" is withdrawn
	}{
		{"none", []Event{first}, "L1 120.1"},
		{"one", []Event{first, c1}, "L1 121.1"},
		{"a correction corrected", []Event{first, c1, c2}, "L1 121.7"},
		{"the later of two", []Event{first, c1, later}, "L1 122.0"},
		{"the later stands against the corrected earlier", []Event{first, c1, c2, later}, "L1 122.0"},
		{"withdrawn", []Event{first, made(1, 3, 40, Correction, withdraw(first.ID))}, ""},
		{"withdrawal withdrawn", []Event{first, made(1, 3, 40, Correction, withdraw(first.ID)),
			made(1, 4, 50, Correction, withdraw(made(1, 3, 40, Note, "").ID))}, "L1 120.1"},
		{"a correction withdrawn", []Event{first, c1, made(1, 3, 40, Correction, withdraw(c1.ID))}, "L1 120.1"},
		{"withdrawn, then said anew", []Event{first, made(1, 3, 5, Correction, withdraw(first.ID)), later}, "L1 122.0"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := fold(t, c.events)
			if len(s.Entries) != 1 || len(s.Orphans)+len(s.Faults)+len(s.Conflicts) != 0 {
				t.Fatalf("got %+v", s)
			}
			e := s.Entries[0]
			got := ""
			if b, ok := e.Body.(NoteBody); ok {
				got = b.Text
			}
			if got != c.want || e.Withdrawn != (c.want == "") || len(e.Corrections) != len(c.events)-1 {
				t.Errorf("got %q, withdrawn %v, %d corrections; want %q", got, e.Withdrawn, len(e.Corrections), c.want)
			}
			if !slices.Equal(e.Event.Body, first.Body) {
				t.Error("the first story is lost")
			}
		})
	}
}

func TestTwoStoriesOfOneEventAreBothKept(t *testing.T) {
	a, b := made(1, 1, 0, Note, note("20 in-lb")), made(1, 1, 0, Note, note("30 in-lb"))
	s := fold(t, []Event{a, b, a})
	if len(s.Conflicts) != 1 || len(s.Conflicts[0].Events) != 2 || s.Conflicts[0].Hashes[0] == s.Conflicts[0].Hashes[1] {
		t.Fatalf("conflicts %+v", s.Conflicts)
	}
	if e := s.Entries[0]; !e.Disputed || e.Body != nil {
		t.Errorf("a disputed event counts: %+v", e)
	}
	s = fold(t, []Event{b, a, made(2, 1, 9, Correction, replace(a.ID, "30 in-lb, read again"))})
	if e := s.Entries[0]; e.Disputed || e.Body.(NoteBody).Text != "30 in-lb, read again" || len(s.Conflicts) != 1 {
		t.Errorf("a correction does not settle the dispute: %+v", e)
	}
}

func TestWhatCannotBeReadOrPlacedIsKept(t *testing.T) {
	lost := made(1, 1, 0, Correction, replace("019df3a2-4c40-7a01-8000-000099999999", "x"))
	bad := made(1, 2, 1, Note, `{"text":"nobody signed"}`)
	other := made(1, 3, 2, Serial, `{"by":"Ana","position":"S-r1-c1","serial":"000000000001"}`)
	wrong := made(1, 4, 3, Correction, replace(other.ID, "x"))
	s := fold(t, []Event{lost, bad, other, wrong})
	if len(s.Orphans) != 1 || s.Orphans[0].ID != lost.ID {
		t.Errorf("orphans %+v", s.Orphans)
	}
	if len(s.Faults) != 2 || s.Faults[0].Event.ID != bad.ID || s.Faults[1].Event.ID != wrong.ID {
		t.Errorf("faults %+v", s.Faults)
	}
	if got := s.Serials()["S-r1-c1"]; got != "000000000001" {
		t.Errorf("serial %q", got)
	}
}

// events draws a record of up to three devices with corrections of anything
// before, twins with other bodies, and orphans.
func events(t *rapid.T) []Event {
	var out []Event
	n := rapid.IntRange(0, 12).Draw(t, "events")
	for i := range n {
		device := rapid.IntRange(1, 3).Draw(t, "device")
		ms := rapid.Int64Range(0, 5).Draw(t, "ms")
		body, kind := note(fmt.Sprint("n", i)), Note
		if len(out) > 0 && rapid.Bool().Draw(t, "corrects") {
			target := out[rapid.IntRange(0, len(out)-1).Draw(t, "target")].ID
			kind = Correction
			if body = replace(target, fmt.Sprint("c", i)); rapid.Bool().Draw(t, "withdraws") {
				body = withdraw(target)
			}
		}
		e := made(device, i, ms, kind, body)
		out = append(out, e)
		if rapid.IntRange(0, 5).Draw(t, "twin") == 0 {
			e.Body = []byte(note("another story"))
			e.Kind = Note
			out = append(out, e)
		}
	}
	return out
}

func TestOrderDuplicationAndSplittingChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		es := events(t)
		want := fold(t, es)
		shuffled := rapid.Permutation(es).Draw(t, "order")
		for _, e := range es {
			if rapid.Bool().Draw(t, "again") {
				shuffled = append(shuffled, e)
			}
		}
		same(t, "order and duplicates", fold(t, shuffled), want)
		byDevice := map[ID][]Event{}
		for _, e := range shuffled {
			byDevice[e.Device] = append(byDevice[e.Device], e)
		}
		var split []Event
		for _, device := range rapid.Permutation([]int{1, 2, 3}).Draw(t, "devices") {
			split = append(split, byDevice[made(device, 0, 0, Note, "").Device]...)
		}
		same(t, "split over devices", fold(t, split), want)
		ids := map[ID]bool{}
		for _, e := range es {
			ids[e.ID] = true
		}
		if kept := len(everyID(want)); kept != len(ids) {
			t.Fatalf("%d ids came, %d are kept", len(ids), kept)
		}
	})
}

// everyID is every id that a state still shows.
func everyID(s State) map[ID]bool {
	out := map[ID]bool{}
	for _, e := range s.Entries {
		out[e.Event.ID] = true
		for _, c := range e.Corrections {
			out[c] = true
		}
	}
	for _, c := range s.Conflicts {
		out[c.ID] = true
	}
	for _, e := range s.Orphans {
		out[e.ID] = true
	}
	for _, f := range s.Faults {
		out[f.Event.ID] = true
	}
	return out
}

func same(t *rapid.T, what string, got, want State) {
	t.Helper()
	if !reflect.DeepEqual(got, want) {
		a, _ := json.Marshal(got)
		b, _ := json.Marshal(want)
		t.Fatalf("%s changed the state:\n got %s\nwant %s", what, a, b)
	}
}

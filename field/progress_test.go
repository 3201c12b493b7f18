package field_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"legwork/field"
)

// record makes events of one device, one a minute, from kinds and bodies.
func record(t *testing.T, told ...string) field.State {
	t.Helper()
	var events []field.Event
	var h field.HLC
	for i := 0; i < len(told); i += 2 {
		h = h.Next(time.Date(2026, 5, 4, 15, i, 0, 0, time.UTC))
		e := field.Event{ID: field.ID(fmt.Sprintf("019df3a2-4c40-7a01-8000-%012d", i)), Job: "019df39a-0000-7000-8000-00000000000a",
			Device: "019df390-0000-7000-8000-0000000000d1", Seq: int64(i + 1), HLC: h, Kind: field.Kind(told[i]), V: 1, Body: []byte(told[i+1])}
		events = append(events, e)
	}
	s, err := field.Fold(events)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Faults) > 0 {
		t.Fatal(s.Faults[0].Err)
	}
	return s
}

func reading(step, id string, v float64, unit string) string {
	return fmt.Sprintf(`{"step":%q,"reading":%q,"value":{"value":%g,"unit":%q},"instrument":{"name":"meter 7","calibrated":"2026-01-10"},"by":"Ana"}`, step, id, v, unit)
}

func decision(step, d, reason string) string {
	if reason != "" {
		reason = fmt.Sprintf(`"reason":%q,`, reason)
	}
	return fmt.Sprintf(`{"step":%q,"decision":%q,%s"by":"Ana"}`, step, d, reason)
}

// only keeps the steps with these ids, so that no earlier hold locks them.
func only(p field.Procedure, ids ...string) field.Procedure {
	var out field.Procedure
	for _, id := range ids {
		out.Steps = append(out.Steps, *p.Step(id))
	}
	return out
}

func TestHowAHoldPasses(t *testing.T) {
	p := field.Generate(plant(t, "quillfeather"))
	cts := []string{"measurement", reading("cts", "cts", 4, "")}
	few := []string{"measurement", reading("cts", "cts", 3, "")}
	wait := func(v float64) []string { return []string{"measurement", reading("wait-A", "delay", v, "s")} }
	mains := func(v float64) []string {
		return []string{"measurement", reading("loss-of-mains", "volts", v, "V"), "measurement", reading("loss-of-mains", "production", 0, "A")}
	}
	for _, c := range []struct {
		name, step string
		told       []string
		want       field.Status
	}{
		{"nothing told", "cts", nil, field.Open},
		{"reading inside", "cts", cts, field.Passed},
		{"reading outside", "cts", few, field.Held},
		{"outside, with reason and name", "cts", append(few, "hold-point", decision("cts", "pass-with-reason", "G2 waits for a part")), field.PassedWithReason},
		{"outside, a plain pass is no reason", "cts", append(few, "hold-point", decision("cts", "pass", "")), field.Held},
		{"missing, with reason", "cts", []string{"hold-point", decision("cts", "pass-with-reason", "behind the barrier")}, field.PassedWithReason},
		{"inside, but somebody says hold", "cts", append(cts, "hold-point", decision("cts", "hold", "arrow looks wrong")), field.Held},
		{"hold, then pass", "cts", append(cts, "hold-point", decision("cts", "hold", "wait"), "hold-point", decision("cts", "pass", "")), field.Passed},
		{"measured again", "wait-A", append(wait(20), wait(310)...), field.Passed},
		{"legal but odd", "wait-A", wait(700), field.Passed},
		{"too soon", "wait-A", wait(20), field.Held},
		{"no reason allowed", "loss-of-mains", append(mains(118), "hold-point", decision("loss-of-mains", "pass-with-reason", "in a hurry")), field.Held},
		{"gone in 2 s", "loss-of-mains", mains(2), field.Passed},
		{"eyes, nobody said so", "lockout", nil, field.Open},
		{"eyes and a name", "lockout", []string{"hold-point", decision("lockout", "pass", "")}, field.Passed},
		{"eyes, no reason allowed", "lockout", []string{"hold-point", decision("lockout", "pass-with-reason", "no lock at hand")}, field.Open},
		{"eyes, with a reason allowed", "labels", []string{"hold-point", decision("labels", "pass-with-reason", "directory is at the printer")}, field.PassedWithReason},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := record(t, c.told...).Against(only(p, c.step)).Steps[0].Status
			if got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
}

func TestAHoldLocksWhatFollows(t *testing.T) {
	p := only(field.Generate(plant(t, "quillfeather")), "lockout", "dead-front", "labels")
	front := []string{"step-done", `{"step":"dead-front","by":"Ana"}`}
	got := record(t, front...).Against(p)
	if got.Steps[1].Status != field.Locked || got.Steps[2].Status != field.Locked || got.Next().Step.ID != "lockout" {
		t.Errorf("got %s, %s; next %s", got.Steps[1].Status, got.Steps[2].Status, got.Next().Step.ID)
	}
	got = record(t, append(front, "hold-point", decision("lockout", "pass", ""))...).Against(p)
	if got.Steps[1].Status != field.Done || got.Steps[2].Status != field.Open || got.Next().Step.ID != "labels" {
		t.Errorf("got %s, %s", got.Steps[1].Status, got.Steps[2].Status)
	}
}

// What was recorded of a step that the plan no longer has is shown, not dropped.
func TestStepsOfAnOldPlanAreShown(t *testing.T) {
	got := record(t, "measurement", reading("output-Z", "wire1", 4, "A")).Against(field.Generate(plant(t, "quillfeather")))
	if len(got.Unknown) != 1 {
		t.Errorf("got %d", len(got.Unknown))
	}
}

func TestReadLines(t *testing.T) {
	const line = `{"id":"019df3a2-4c40-7a01-8000-000000000001","job":"019df39a-0000-7000-8000-00000000000a","device":"019df390-0000-7000-8000-0000000000d1","seq":1,"hlc":"2026-05-04T15:30:00.000Z-0000","kind":"note","v":1,"body":{}}` + "\n"
	const job = "019df39a-0000-7000-8000-00000000000a"
	for _, c := range []struct {
		name, src string
		job       field.ID
		events    int
		cut, want string
	}{
		{"none", "", job, 0, "", ""},
		{"two and an empty line", line + "\n" + line, job, 2, "", ""},
		{"cut short", line + line[:50], job, 1, line[:50], ""},
		{"another job", line, "019df39a-0000-7000-8000-00000000000b", 0, "", "log:1: job: "},
		{"second line broken", line + "{]\n", job, 1, "", "log:2:2: "},
	} {
		t.Run(c.name, func(t *testing.T) {
			events, cut, err := field.ReadLines([]byte(c.src), "log", c.job)
			if len(events) != c.events || string(cut) != c.cut || (err == nil) != (c.want == "") || err != nil && !strings.HasPrefix(err.Error(), c.want) {
				t.Errorf("got %d events, cut %q, %v", len(events), cut, err)
			}
		})
	}
}

// A file of events is read or refused with the line, whatever stands in it, and
// a fold never fails on what was read.
func FuzzReadLines(f *testing.F) {
	f.Add([]byte("{}\n\n[]\n"))
	f.Add([]byte(`{"id":"019df3a2-4c40-7a01-8000-000000000001","job":"019df39a-0000-7000-8000-00000000000a","device":"019df390-0000-7000-8000-0000000000d1","seq":1,"hlc":"2026-05-04T15:30:00.000Z-0000","kind":"correction","v":1,"body":{"target":"019df3a2-4c40-7a01-8000-000000000001","of":"note","withdraw":true,"because":"x","by":"y"}}` + "\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		events, _, err := field.ReadLines(src, "log", "019df39a-0000-7000-8000-00000000000a")
		if err != nil {
			return
		}
		if _, err := field.Fold(events); err != nil {
			t.Fatal(err)
		}
	})
}

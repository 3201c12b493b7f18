package desk

import (
	"bytes"
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"legwork"
	"legwork/field"
	"legwork/store"
	"legwork/web"
	"legwork/where"
)

var today = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

func open(t *testing.T) store.Store {
	t.Helper()
	s, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s
}

// enter makes a job of a document; "" enters a job with nothing written yet.
func enter(t *testing.T, s store.Store, document string) field.ID {
	t.Helper()
	id, err := field.NewID(today, strings.NewReader("ten bytes of chance"))
	if err == nil {
		err = s.CreateJob(t.Context(), store.Job{ID: id, Name: "as entered", Created: today})
	}
	if err == nil && document != "" {
		_, err = s.SaveRevision(t.Context(), store.Draft{Job: id, Bytes: []byte(document), Author: "a test", Time: today})
	}
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func houseFile(t *testing.T, name string) string {
	t.Helper()
	b, err := legwork.Houses.ReadFile("testdata/houses/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// edited replaces one text of a document and fails when it is not there.
func edited(t *testing.T, document, old, now string) string {
	t.Helper()
	if !strings.Contains(document, old) {
		t.Fatalf("%q is not in the document", old)
	}
	return strings.Replace(document, old, now, 1)
}

// TestSaid holds the sentence on top of Proof against what the scenarios are
// about.
func TestSaid(t *testing.T) {
	quillfeather := houseFile(t, "quillfeather")
	for _, tt := range []struct {
		name, document string
		says           []string
	}{
		// 200 + 1.25 × 19.88 = 224.85 A on a 200 A bar that may be offered 240 A.
		{"nothing broken (S1)", quillfeather, []string{"Nothing that is judged here stands between this plan and the counter"}},
		// On a bar of 175 A: 224.85 − 1.2 × 175 = 14.85 A too much.
		{"a smaller busbar", edited(t, quillfeather, "busbar: 200 A", "busbar: 175 A"),
			[]string{"One broken rule stands between", "within 120 % of the busbar” at the main panel (14.85 A too much)"}},
		{"busbar not read", edited(t, quillfeather, "busbar: 200 A", "busbar: ?"),
			[]string{"One missing fact stands between this plan and the counter: busbar rating of the main panel"}},
		{"breaker beside the main (S4)", houseFile(t, "saltgrass"), []string{"One broken rule stands", "far end", "at the main panel"}},
		{"edition not known", edited(t, quillfeather, "code: 2020", "code: ?"), []string{"Which edition of NFPA 70 is adopted here is not known", "building department"}},
		{"edition of which no rule speaks", edited(t, quillfeather, "code: 2020", "code: 2014"), []string{"No rule here covers the edition of 2014"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := open(t)
			p, err := New(s).Proof(t.Context(), string(enter(t, s, tt.document)), 0)
			if err != nil {
				t.Fatal(err)
			}
			for _, want := range tt.says {
				if !strings.Contains(p.Said, want) {
					t.Errorf("%q is not in: %s", want, p.Said)
				}
			}
		})
	}
}

// TestFaultyDocument holds that the pages of a faulty document still answer
// what can be answered.
func TestFaultyDocument(t *testing.T) {
	s := open(t)
	document := edited(t, houseFile(t, "quillfeather"), "length: 45 ft", "length: 45")
	id, d := string(enter(t, s, document)), New(s)
	j, err := d.Job(t.Context(), id)
	if err != nil || j.Name != "as entered" || len(j.Faults) != 1 || !strings.Contains(j.Faults[0].Came, "no unit") {
		t.Errorf("head: %+v, %v", j, err)
	}
	sv, err := d.Survey(t.Context(), id)
	if err != nil || string(sv.Source) != document || len(sv.Faults) != 1 {
		t.Errorf("survey: %d faults, %v", len(sv.Faults), err)
	}
	var faults where.Errors
	for page, ask := range pagesOf(d) {
		if err := ask(t.Context(), id); !errors.As(err, &faults) {
			t.Errorf("%s: %v, want the faults", page, err)
		}
	}
}

func pagesOf(d *Desk) map[string]func(context.Context, string) error {
	return map[string]func(context.Context, string) error{
		"plan":   func(ctx context.Context, id string) error { _, err := d.Plan(ctx, id); return err },
		"proof":  func(ctx context.Context, id string) error { _, err := d.Proof(ctx, id, 0); return err },
		"sheets": func(ctx context.Context, id string) error { _, err := d.Sheets(ctx, id); return err },
	}
}

// TestContradiction holds that decisions against the facts are a fault of the
// document too: there is no third row on this roof.
func TestContradiction(t *testing.T) {
	s := open(t)
	id, d := string(enter(t, s, edited(t, houseFile(t, "quillfeather"), "[S-r2-c1..c7]", "[S-r3-c1..c7]"))), New(s)
	j, err := d.Job(t.Context(), id)
	if err != nil || len(j.Faults) == 0 {
		t.Errorf("head: %d faults, %v", len(j.Faults), err)
	}
	if _, err := d.Plan(t.Context(), id); err == nil {
		t.Error("a plan was made")
	}
}

func TestNotFound(t *testing.T) {
	s := open(t)
	d := New(s)
	empty := string(enter(t, s, ""))
	if j, err := d.Job(t.Context(), empty); err != nil || j.Name != "as entered" || j.Tally.All() != 0 {
		t.Errorf("job with nothing written: %+v, %v", j, err)
	}
	for _, id := range []string{"nobody", empty} {
		for page, ask := range pagesOf(d) {
			if err := ask(t.Context(), id); !errors.Is(err, web.ErrNotFound) {
				t.Errorf("%s of %s: %v, want not found", page, id, err)
			}
		}
	}
	if _, err := d.Proof(t.Context(), empty, 1999); !errors.Is(err, web.ErrNotFound) {
		t.Errorf("edition 1999: %v", err)
	}
}

// TestSurveyAsWritten holds that facts stand in the words of the document, and
// that each leads to its line.
func TestSurveyAsWritten(t *testing.T) {
	s := open(t)
	document := edited(t, houseFile(t, "larkbarrow"), "    busbar: 225 A", "    busbar: ?")
	sv, err := New(s).Survey(t.Context(), string(enter(t, s, document)))
	if err != nil {
		t.Fatal(err)
	}
	lines := bytes.Split([]byte(document), []byte("\n"))
	for path, want := range map[string]string{
		"site.latitude":                    "39.74 deg",
		"site.elevation":                   "1609 m",
		"service.fault_current.current":    "9.4 kA",
		"equipment.modules.PV-435.length":  "69.4 in",
		"runs.home.segments[0]":            "6 ft, roof, 34 C, 1.0 in above the roof, in the sun",
		"panels.MP.breakers[0]":            "50 A, car charger",
		"equipment.combiners.CB-3.busbar":  "150 A",
		"planes.W.grid.from_eave":          "2 ft",
		"equipment.inverters.MI-400.power": "401 VA",
	} {
		f, ok := factAt(sv, path)
		if !ok || !f.Known || f.Value != want {
			t.Errorf("%s: %q (there: %v), want %q", path, f.Value, ok, want)
			continue
		}
		if first := strings.Split(want, ", ")[0]; !bytes.Contains(lines[f.From.At.Line-1], []byte(first)) {
			t.Errorf("%s leads to line %d: %s", path, f.From.At.Line, lines[f.From.At.Line-1])
		}
	}
	if f, ok := factAt(sv, "panels.MP.busbar"); !ok || f.Known || !strings.Contains(f.Find, "inside the panel door") {
		t.Errorf("unknown busbar: %+v", f)
	}
	if _, ok := factAt(sv, "service.load_calculated"); ok {
		t.Error("a fact left out that nothing waits for has a row")
	}
}

func factAt(s web.Survey, path string) (web.Fact, bool) {
	for _, g := range s.Groups {
		if i := slices.IndexFunc(g.Facts, func(f web.Fact) bool { return f.From.Path == path }); i >= 0 {
			return g.Facts[i], true
		}
	}
	return web.Fact{}, false
}

// TestNewRevisionShows holds that what is kept never outlives its document.
func TestNewRevisionShows(t *testing.T) {
	s := open(t)
	first := houseFile(t, "quillfeather")
	id := enter(t, s, first)
	d := New(s)
	before, _, err := d.newest(t.Context(), string(id))
	if err != nil {
		t.Fatal(err)
	}
	if again, _, err := d.newest(t.Context(), string(id)); err != nil || again != before {
		t.Errorf("worked out twice: %v", err)
	}
	newest, err := s.Newest(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.SaveRevision(t.Context(), store.Draft{Job: id, Parent: newest.SHA256, Bytes: []byte(edited(t, first, "name: 118 Quillfeather Lane", "name: another")), Author: "a test", Time: today.Add(time.Hour)}); err != nil {
		t.Fatal(err)
	}
	if j, err := d.Job(t.Context(), string(id)); err != nil || j.Name != "another" || !j.Changed.Equal(today.Add(time.Hour)) {
		t.Errorf("after a new revision: %+v, %v", j, err)
	}
}

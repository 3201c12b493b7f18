package field_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwork/field"
	"legwork/internal/houses"
	"legwork/job"
	"legwork/site"
	"legwork/words"
)

var update = flag.Bool("update", false, "rewrite golden files")

// plant is a house as planned, after some edits of its text.
func plant(t *testing.T, name string, edits ...string) *site.Plant {
	t.Helper()
	text := string(houses.Get(t, name).Bytes)
	for i := 0; i < len(edits); i += 2 {
		if !strings.Contains(text, edits[i]) {
			t.Fatalf("%s has no %q", name, edits[i])
		}
		text = strings.Replace(text, edits[i], edits[i+1], 1)
	}
	doc, err := job.Parse(name+".yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	p, err := site.Resolve(doc, doc.Decisions)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func english(t field.Text) (string, error) { return words.Embedded().Say("en", t.Key, t.Slots) }
func spanish(t field.Text) (string, error) { return words.Embedded().Say("es", t.Key, t.Slots) }

func text(t *testing.T, p field.Procedure, say func(field.Text) (string, error)) string {
	t.Helper()
	var b strings.Builder
	if err := p.Print(&b, say); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The golden files are for form: order, cautions, wording. Figures are judged by
// hand in figures_test.go.
func TestProceduresReadAsACrewReadsThem(t *testing.T) {
	for _, name := range houses.Names() {
		t.Run(name, func(t *testing.T) {
			got := text(t, field.Generate(plant(t, name)), english)
			golden(t, name, got)
		})
	}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", "procedures", name+".golden")
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s is not as in the golden file; -update rewrites it, then read it through", name)
	}
}

package sheets_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"legwork/internal/houses"
	"legwork/job"
	"legwork/plan"
	"legwork/scene"
	"legwork/scene/pdf"
	"legwork/sheets"
)

var (
	update = flag.Bool("update", false, "rewrite golden files")
	keep   = flag.String("keep", "", "folder to write PDFs to, to be looked at")
)

// input plans a document and judges it.
func input(t testing.TB, doc *job.Document) *sheets.Input {
	t.Helper()
	p, err := plan.Fill(doc)
	if err != nil {
		t.Fatal(err)
	}
	return sheets.From(p)
}

func set(t testing.TB, in *sheets.Input) []*scene.Scene {
	t.Helper()
	drawn, err := sheets.Draw(in, sheets.All())
	if err != nil {
		t.Fatal(err)
	}
	return drawn
}

func printed(t testing.TB, drawn []*scene.Scene) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := pdf.Write(&b, drawn, pdf.Options{Title: "test", Created: time.Unix(0, 0)}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// words is all lettering of a scene, one text a line.
func words(items []scene.Item) []string {
	var out []string
	for _, i := range items {
		switch i := i.(type) {
		case scene.Text:
			out = append(out, i.Value)
		case scene.Group:
			out = append(out, words(i.Items)...)
		}
	}
	return out
}

// sheet joins the lettering of all pages of a sheet.
func sheet(drawn []*scene.Scene, number string) string {
	var out []string
	for _, s := range drawn {
		if s.Number == number || strings.HasPrefix(s.Number, number+".") {
			out = append(out, words(s.Items)...)
		}
	}
	return strings.Join(out, "\n")
}

func TestNothingCollides(t *testing.T) {
	for _, c := range cases(t) {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			drawn := set(t, input(t, c.doc))
			if *keep != "" {
				if err := os.WriteFile(filepath.Join(*keep, c.name+".pdf"), printed(t, drawn), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			for _, s := range drawn {
				for _, fault := range scene.Overlaps(s) {
					t.Errorf("%s: %s", s.Number, fault)
				}
			}
		})
	}
}

// house is a document to draw.
type house struct {
	name string
	doc  *job.Document
}

// cases are the seven houses and the extremes.
func cases(t testing.TB) []house {
	t.Helper()
	var out []house
	for _, h := range houses.All(t) {
		out = append(out, house{h.Name, h.Doc})
	}
	for _, x := range extremes(t) {
		doc, err := job.Parse(x.name+".yaml", []byte(x.yaml))
		if err != nil {
			t.Fatalf("%s: %v", x.name, err)
		}
		out = append(out, house{x.name, doc})
	}
	return out
}

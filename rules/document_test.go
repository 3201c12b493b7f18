package rules_test

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"

	"legwork/job"
	"legwork/rules"
	"legwork/site"
	"legwork/working"
)

// base is the house that the cases start from.
func base(t testing.TB) *job.Document {
	t.Helper()
	src, err := os.ReadFile("testdata/base.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return parsed(t, src)
}

func parsed(t testing.TB, src []byte) *job.Document {
	t.Helper()
	doc, err := job.Parse("case.yaml", src)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// with sets values of a document: with(t, doc, "panels.MP.main = 100 A").
func with(t testing.TB, doc *job.Document, edits ...string) *job.Document {
	t.Helper()
	for _, e := range edits {
		path, value, ok := strings.Cut(e, " = ")
		if !ok {
			t.Fatalf("%q: expected path = value", e)
		}
		out, err := doc.Set(indexed(t, doc, path), value)
		if err != nil {
			t.Fatalf("%s: %v", e, err)
		}
		doc = out
	}
	return doc
}

// indexed turns ids in a path into the indexes that Set takes: panels.MP.main
// into panels[0].main.
func indexed(t testing.TB, doc *job.Document, path string) string {
	t.Helper()
	var root yaml.Node
	if err := yaml.Unmarshal(doc.Source, &root); err != nil {
		t.Fatal(err)
	}
	n, out := root.Content[0], ""
	for _, step := range strings.Split(strings.ReplaceAll(path, "[", ".["), ".") {
		switch {
		case n != nil && n.Kind == yaml.SequenceNode && !strings.HasPrefix(step, "["):
			i := itemOf(n, step)
			if i < 0 {
				t.Fatalf("%s: no item %q", path, step)
			}
			out, n = out+fmt.Sprintf("[%d]", i), n.Content[i]
		case strings.HasPrefix(step, "["):
			i, err := strconv.Atoi(strings.Trim(step, "[]"))
			if err != nil || n == nil || i >= len(n.Content) {
				t.Fatalf("%s: no item %s", path, step)
			}
			out, n = out+step, n.Content[i]
		default:
			out, n = out+"."+step, valueOf(n, step)
		}
	}
	return strings.TrimPrefix(out, ".")
}

// itemOf finds the item of a list by its id.
func itemOf(list *yaml.Node, id string) int {
	for i, item := range list.Content {
		for _, key := range []string{"id", "run", "panel"} {
			if v := valueOf(item, key); v != nil && v.Value == id {
				return i
			}
		}
	}
	return -1
}

func valueOf(n *yaml.Node, key string) *yaml.Node {
	if n == nil || n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// resolved is the plant of a document as it stands: nothing is planned.
func resolved(t testing.TB, doc *job.Document) *site.Plant {
	t.Helper()
	p, err := site.Resolve(doc, doc.Decisions)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// judge checks a document by one rule under its own edition, by place.
func judge(t testing.TB, doc *job.Document, rule string) map[string]working.Finding {
	t.Helper()
	p := resolved(t, doc)
	out := map[string]working.Finding{}
	for _, f := range rules.Find(rule).Check(p, p.Edition.Value) {
		out[f.Place] = f
	}
	return out
}

// value prints the last step of a symbol, as people read it.
func value(f working.Finding, sym string) (string, bool) {
	for i := len(f.Steps) - 1; i >= 0; i-- {
		if f.Steps[i].Sym == sym {
			return f.Steps[i].Result.String(), true
		}
	}
	return "", false
}

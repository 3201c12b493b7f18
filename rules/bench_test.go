package rules_test

import (
	"testing"

	"legwork/internal/houses"
	"legwork/rules"
	"legwork/site"
	"legwork/working"
)

// BenchmarkCheck resolves and judges a house: the smallest, and the one with the
// most units.
func BenchmarkCheck(b *testing.B) {
	for _, name := range []string{"quillfeather", "ocotillo"} {
		b.Run(name, func(b *testing.B) {
			doc := houses.Get(b, name).Doc
			b.ReportAllocs()
			for b.Loop() {
				p, err := site.Resolve(doc, doc.Decisions)
				if err != nil {
					b.Fatal(err)
				}
				if found := rules.Check(p, working.Edition(doc.Site.Code.Value)); len(found) == 0 {
					b.Fatal("no findings")
				}
			}
		})
	}
}

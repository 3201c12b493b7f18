// Package houses gives tests the invented houses: bytes and parsed documents,
// nothing derived.
package houses

import (
	"io/fs"
	"path"
	"strings"
	"testing"

	"legwork"
	"legwork/job"
)

// House is one invented job.
type House struct {
	Name  string // quillfeather
	Bytes []byte
	Doc   *job.Document
}

// Names lists the houses by name.
func Names() []string {
	files, err := fs.Glob(legwork.Houses, "testdata/houses/*.yaml")
	if err != nil {
		panic(err)
	}
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = strings.TrimSuffix(path.Base(f), ".yaml")
	}
	return names
}

// Get reads one house.
func Get(t testing.TB, name string) House {
	t.Helper()
	file := "testdata/houses/" + name + ".yaml"
	b, err := legwork.Houses.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := job.Parse(file, b)
	if err != nil {
		t.Fatal(err)
	}
	return House{Name: name, Bytes: b, Doc: doc}
}

// All reads every house, by name.
func All(t testing.TB) []House {
	t.Helper()
	var all []House
	for _, name := range Names() {
		all = append(all, Get(t, name))
	}
	return all
}

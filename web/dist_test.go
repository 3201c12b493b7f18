package web_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// TestDistIsCurrent bundles ui/ anew and compares with what is committed.
func TestDistIsCurrent(t *testing.T) {
	tmp := t.TempDir()
	program := filepath.Join(tmp, "gen")
	build := exec.Command("go", "build", "-C", "gen", "-o", program, ".")
	if out, err := build.CombinedOutput(); err != nil {
		lacking(t, "dist not compared: the bundler does not build here: "+string(out))
	}
	fresh := filepath.Join(tmp, "dist")
	bundle := exec.Command(program, "-out", fresh)
	bundle.Dir = "gen"
	if out, err := bundle.CombinedOutput(); err != nil {
		t.Fatalf("the bundler: %v\n%s", err, out)
	}
	want, got := names(t, fresh), names(t, "dist")
	if len(want) != len(got) || len(want) == 0 {
		t.Fatalf("dist holds %v, ui/ gives %v; run go generate ./web", got, want)
	}
	for _, name := range want {
		w, err := os.ReadFile(filepath.Join(fresh, name))
		if err != nil {
			t.Fatal(err)
		}
		g, err := os.ReadFile(filepath.Join("dist", name))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(w, g) {
			t.Errorf("dist/%s is not what ui/ gives; run go generate ./web", name)
		}
	}
}

func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return all
}

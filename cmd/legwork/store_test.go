package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwork/store"
	"legwork/web/desk"
)

// Everything of one store goes into a file and into another store; a name that
// is taken and a file that is no archive are refused.
func TestStore(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	s, err := store.Open(at("jobs"))
	if err != nil {
		t.Fatal(err)
	}
	environment := environment(nil, nil)
	if err := desk.MoveIn(t.Context(), s, environment.Now()); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(at("text"), []byte("oak"), 0o600); err != nil {
		t.Fatal(err)
	}
	const all = "7 jobs, 7 revisions, 0 events, 0 disputed events, 0 files"
	for _, tt := range []struct {
		name string
		args []string
		code int
		says string
	}{
		{"export", []string{"export", "--data", at("jobs"), at("a.zip")}, exitDone, all},
		{"export over a file", []string{"export", "--data", at("jobs"), at("a.zip")}, exitInput, "a name that is free"},
		{"export into no folder", []string{"export", "--data", at("jobs"), at("none/a.zip")}, exitInput, "a folder that is there"},
		{"import", []string{"import", "--data", at("other"), at("a.zip")}, exitDone, all},
		{"import again", []string{"import", "--data", at("other"), at("a.zip")}, exitDone, all},
		{"import of no archive", []string{"import", "--data", at("other"), at("text")}, exitInput, "nothing was brought in"},
		{"import of nothing", []string{"import", "--data", at("other"), at("none")}, exitInput, "an archive as"},
		{"backup", []string{"backup", "--data", at("jobs"), at("b.db")}, exitDone, ""},
		{"backup over a file", []string{"backup", "--data", at("jobs"), at("b.db")}, exitInput, "a name that is free"},
		{"which store", []string{"export", at("c.zip")}, exitInput, "expected --data DIR or --db URL"},
		{"which file", []string{"export", "--data", at("jobs")}, exitInput, "the name of a file"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var out, errs bytes.Buffer
			env := environment
			env.Stdout, env.Stderr = &out, &errs
			if code := run(t.Context(), append([]string{"store"}, tt.args...), env); code != tt.code || !strings.Contains(errs.String(), tt.says) {
				t.Errorf("exit %d, want %d with %q: %s", code, tt.code, tt.says, &errs)
			}
		})
	}
	left, err := filepath.Glob(at(".legwork-*"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

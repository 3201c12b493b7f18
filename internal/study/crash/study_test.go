package main

import (
	"os"
	"strings"
	"testing"

	"legwork/internal/postgres"
)

// TestSlice is a slice of the study: some uploads under every fault, and 20
// devices at once. Disks are filled only where one can be mounted; store's own
// test of a full disk needs none.
func TestSlice(t *testing.T) {
	dir := t.TempDir()
	for d := dir; d != "/" && os.Getuid() == 0; d = d[:strings.LastIndex(d, "/")] { // PostgreSQL runs as somebody else
		if d == "" || d == "/tmp" {
			break
		}
		if err := os.Chmod(d, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	program, err := build(dir)
	if err != nil {
		t.Fatal(err)
	}
	_, noPostgres := postgres.Find()
	for _, sc := range scenarios {
		t.Run(sc.database+" "+sc.fault, func(t *testing.T) {
			if sc.database == "PostgreSQL" && noPostgres != nil && os.Getenv("LEGWORK_REQUIRE_ALL") == "" {
				t.Skip("postgresql: ", noPostgres)
			}
			r, err := sc.run(dir, program, 15, 3)
			if err != nil {
				t.Fatal(err)
			}
			if r.skipped != "" {
				t.Log("not run: ", r.skipped)
				return
			}
			if r.uploads < 15 || r.events == 0 || r.strikes == 0 {
				t.Errorf("nothing was tried: %+v", r)
			}
			if r.lost+r.twice+r.moved+r.photosLost > 0 {
				t.Errorf("the promise is broken: %+v", r)
			}
		})
	}
	t.Run("load", func(t *testing.T) {
		line, err := measureOne(dir, program, "SQLite", 20, 2, 10, 3)
		if err != nil || !strings.HasPrefix(line, "| SQLite | 400 |") {
			t.Errorf("%s, %v", line, err)
		}
	})
}

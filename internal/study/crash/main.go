// Command crash kills the server, its database and its disk while devices send,
// and counts what was acknowledged and is not there afterwards, or there twice.
//
//	go run ./internal/study/crash -uploads 1000 -seed 1 > docs/studies/crash.md
//	go run ./internal/study/crash -load > docs/studies/load.md
//
// It runs the real program, legwork serve, as a process of its own, on SQLite and
// on PostgreSQL. Filling a disk needs the right to mount one.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	uploads := flag.Int("uploads", 1000, "acknowledged uploads in each row")
	seed := flag.Uint64("seed", 1, "seed")
	load := flag.Bool("load", false, "measure 200 devices at once instead")
	flag.Parse()
	if err := run(*uploads, *seed, *load); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(3)
	}
}

func run(uploads int, seed uint64, load bool) error {
	dir, err := os.MkdirTemp("", "crash-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := os.Chmod(dir, 0o755); err != nil { // the database may run as somebody else
		return err
	}
	program, err := build(dir)
	if err != nil {
		return err
	}
	if load {
		t, err := measure(dir, program, 200, 6, 25, seed)
		fmt.Print(t)
		return err
	}
	var rows []row
	for _, sc := range scenarios {
		fmt.Fprintln(os.Stderr, sc.database, sc.fault)
		r, err := sc.run(dir, program, uploads, seed)
		if err != nil {
			return fmt.Errorf("%s, %s: %w", sc.database, sc.fault, err)
		}
		rows = append(rows, r)
	}
	fmt.Print(table(rows, uploads, seed))
	return nil
}

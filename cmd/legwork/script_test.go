package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"legwork/internal/houses"
)

func environment(stdout, stderr io.Writer) Env {
	return Env{Stdin: strings.NewReader(""), Stdout: stdout, Stderr: stderr, Now: time.Now, ReadFile: os.ReadFile, TempDir: os.MkdirTemp}
}

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"legwork": func() {
		env := environment(os.Stdout, os.Stderr)
		env.Stdin = os.Stdin
		os.Exit(run(context.Background(), os.Args[1:], env))
	}})
}

// Scripts run the real program: testdata/script. The invented houses lie in the
// work folder under their names. "exits N legwork …" holds the exit code and
// keeps the output in stdout and stderr; "swap FILE OLD NEW" edits a file and
// fails when there is nothing to swap.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			for _, h := range houses.All(t) {
				if err := os.WriteFile(e.WorkDir+"/"+h.Name+".yaml", h.Bytes, 0o666); err != nil {
					return err
				}
			}
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "swap": swap, "big": big,
		},
	})
}

func exits(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) < 2 || args[1] != "legwork" {
		ts.Fatalf("usage: exits N legwork …")
	}
	dir := ts.Getenv("WORK")
	for i, a := range args[2:] { // the program runs in this process: paths from the work folder
		if _, err := os.Stat(ts.MkAbs(a)); err == nil || strings.HasSuffix(a, ".yaml") {
			args[2+i] = ts.MkAbs(a)
		}
	}
	var stdout, stderr bytes.Buffer
	code := run(context.Background(), args[2:], environment(&stdout, &stderr))
	for name, b := range map[string]*bytes.Buffer{"out": &stdout, "err": &stderr} {
		text := strings.ReplaceAll(b.String(), dir+"/", "")
		ts.Check(os.WriteFile(ts.MkAbs(name), []byte(text), 0o666))
	}
	if fmt.Sprint(code) != args[0] {
		ts.Fatalf("exit code %d, want %s\n%s%s", code, args[0], &stdout, &stderr)
	}
}

func swap(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) != 3 {
		ts.Fatalf("usage: swap FILE OLD NEW")
	}
	old := ts.ReadFile(args[0])
	if !strings.Contains(old, args[1]) {
		ts.Fatalf("%s holds no %q", args[0], args[1])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(old, args[1], args[2], 1)), 0o666))
}

// big writes a document of ten million bytes of comment.
func big(ts *testscript.TestScript, _ bool, args []string) {
	line := "# " + strings.Repeat("x", 97) + "\n"
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte("legwork: 1\n"+strings.Repeat(line, 100_000)), 0o666))
}

// Command testrun runs `go test -json` with its arguments and tells briefly what
// happened: a line a package, the output of what failed, and at the end every
// skipped test with its reason, so that a green run never hides what it left out.
package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
)

func main() {
	cmd := exec.Command("go", append([]string{"test", "-json"}, os.Args[1:]...)...)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(3)
	}
	readErr := tell(out, os.Stdout)
	var failed *exec.ExitError
	switch err := cmd.Wait(); {
	case errors.As(err, &failed):
		os.Exit(failed.ExitCode())
	case err != nil || readErr != nil:
		fmt.Fprintln(os.Stderr, errors.Join(err, readErr))
		os.Exit(3)
	}
}

// event is a line of `go test -json`; see `go doc test2json`.
type event struct {
	Action, Package, Test, Output, ImportPath string
	Elapsed                                   float64
}

// tell copies what matters of a test run to w.
func tell(run io.Reader, w io.Writer) error {
	said := map[[2]string][]string{} // output by package and test
	var skipped []string
	in := bufio.NewReader(run)
	for {
		line, err := in.ReadString('\n')
		if line != "" {
			var e event
			if json.Unmarshal([]byte(line), &e) != nil {
				fmt.Fprint(w, line) // not of test2json: show it
			} else if reason := e.tell(said, w); reason != "" {
				skipped = append(skipped, reason)
			}
		}
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
	}
	if len(skipped) > 0 {
		fmt.Fprintf(w, "\nskipped: %d\n", len(skipped))
		for _, s := range skipped {
			fmt.Fprintln(w, " ", s)
		}
	}
	return nil
}

// tell handles one line and returns why a test was skipped, if it was.
func (e event) tell(said map[[2]string][]string, w io.Writer) (skipped string) {
	key := [2]string{e.Package, e.Test}
	name := strings.TrimSuffix(e.Package+" "+e.Test, " ")
	switch e.Action {
	case "build-output":
		fmt.Fprint(w, e.Output)
	case "output":
		said[key] = append(said[key], e.Output)
	case "fail":
		fmt.Fprintf(w, "FAIL  %s  %.1f s\n", name, e.Elapsed)
		fmt.Fprint(w, "    ", strings.Join(said[key], "    "))
	case "pass":
		if e.Test == "" {
			fmt.Fprintf(w, "ok    %s  %.1f s\n", name, e.Elapsed)
		}
	case "skip":
		if e.Test == "" {
			fmt.Fprintf(w, "none  %s\n", name)
			break
		}
		return name + ": " + reason(said[key])
	}
	return ""
}

// reason is what a skipped test said, without the marks of the test run.
func reason(output []string) string {
	var words []string
	for _, line := range output {
		line = strings.TrimSpace(line)
		if line != "" && !strings.HasPrefix(line, "=== ") && !strings.HasPrefix(line, "--- ") {
			words = append(words, line)
		}
	}
	if len(words) == 0 {
		return "no reason given"
	}
	return strings.Join(words, " ")
}

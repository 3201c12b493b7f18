package arch

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// listed asks the go command for all packages of the module.
func listed(t *testing.T) []Package {
	t.Helper()
	visit(t)
	cmd := exec.Command("go", "list", "-e", "-json=ImportPath,Dir,GoFiles,Imports", Module+"/...")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, stderr.String())
	}
	var all []Package
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p Package
		err := d.Decode(&p)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	if !slices.ContainsFunc(all, func(p Package) bool { return p.ImportPath == Module+"/internal/arch" }) {
		t.Fatalf("go list gave %d packages and this one is not among them", len(all))
	}
	return all
}

// visit opens every folder of the module. The test cache keeps a pass until
// something changes that the test itself has opened; what the go command reads
// for us it does not see.
func visit(t *testing.T) {
	t.Helper()
	err := filepath.WalkDir(filepath.Join("..", ".."), func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() && slices.Contains([]string{".git", "build", "testdata", "node_modules"}, d.Name()) {
			return fs.SkipDir
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestImportsPointDown(t *testing.T) {
	for _, fault := range Judge(listed(t)) {
		t.Error(fault)
	}
}

func TestBelowTheFacesNobodyAsksClockOrEnvironment(t *testing.T) {
	for _, p := range listed(t) {
		faults, err := Asks(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, fault := range faults {
			t.Error(fault)
		}
	}
}

// A row names only packages that stand above it, so that no ring can form.
func TestTableStandsBottomFirst(t *testing.T) {
	var above []string
	for _, row := range Table {
		if slices.Contains(above, row.Package) {
			t.Errorf("%s stands twice", row.Package)
		}
		for _, other := range row.May {
			if other != All && !slices.Contains(above, other) {
				t.Errorf("%s may import %s, which does not stand above it", row.Package, other)
			}
		}
		above = append(above, row.Package)
	}
}

func TestJudge(t *testing.T) {
	for _, c := range []struct {
		name, pkg, imports string
		want               string // "" when allowed
	}{
		{"down", "legwork/site", "legwork/job", ""},
		{"the foundation", "legwork/sun", "legwork/quantity", ""},
		{"standard library and modules", "legwork/where", "modernc.org/sqlite", ""},
		{"a module whose name begins alike", "legwork/where", "legworks/job", ""},
		{"a face takes all", "legwork/web", "legwork/store", ""},
		{"the command takes the face", "legwork/cmd/legwork", "legwork/web", ""},
		{"the command takes the demo", "legwork/cmd/legwork", "legwork", ""},
		{"internal takes all", "legwork/internal/houses", "legwork/web", ""},
		{"the root takes the document", "legwork", "legwork/job", ""},
		{"up", "legwork/job", "legwork/site", "job imports site;"},
		{"the judged and the simulator", "legwork/ctproof", "legwork/rehearse", "ctproof imports rehearse;"},
		{"the simulator and the judged", "legwork/rehearse", "legwork/ctproof", "rehearse imports ctproof;"},
		{"the bottom looks up", "legwork/where", "legwork/working", "where imports working;"},
		{"words stand alone", "legwork/words", "legwork/quantity", "words imports quantity;"},
		{"a rule draws", "legwork/rules", "legwork/scene", "rules imports scene;"},
		{"a face of a face", "legwork/web", "legwork/cmd/legwork", "web imports cmd/legwork;"},
		{"test help in the product", "legwork/web", "legwork/internal/houses", "web imports internal/houses;"},
		{"package without a row", "legwork/util", "legwork/job", "util is not in the table"},
		{"import without a row", "legwork/web", "legwork/util", "web imports util;"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := strings.Join(Judge([]Package{{ImportPath: c.pkg, Imports: []string{"fmt", c.imports}}}), "\n")
			if c.want == "" && got != "" || !strings.HasPrefix(got, c.want) {
				t.Errorf("got %q, want %q…", got, c.want)
			}
		})
	}
}

func TestAsks(t *testing.T) {
	const src = `package x
import (
	"os"
	clock "time"
)
var _ = clock.Now()
var _ = os.Getenv("HOME")
var _ = clock.Second
func f(time interface{ Now() int }) int { return time.Now() } // not the package
`
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "x.go"), []byte(src), 0o600); err != nil {
		t.Fatal(err)
	}
	for pkg, want := range map[string][]string{
		"legwork/field": {"x.go:6:9: time.Now;", "x.go:7:9: os.Getenv;"},
		"legwork/web":   nil,
	} {
		got, err := Asks(Package{ImportPath: pkg, Dir: dir, GoFiles: []string{"x.go"}})
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != len(want) {
			t.Fatalf("%s: got %q, want %q", pkg, got, want)
		}
		for i := range want {
			if !strings.Contains(got[i], want[i]) {
				t.Errorf("%s: got %q, want %q", pkg, got[i], want[i])
			}
		}
	}
}

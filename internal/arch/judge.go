package arch

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// Package is what `go list -json` tells about one package.
type Package struct {
	ImportPath string
	Dir        string
	GoFiles    []string
	Imports    []string // without those of tests
}

// short is the package's name in the table, and whether it is of this module.
func short(importPath string) (string, bool) {
	if importPath == Module {
		return Root, true
	}
	return strings.CutPrefix(importPath, Module+"/")
}

// internal packages serve tests and the build; they import as they need, and no
// other package imports them.
func internal(pkg string) bool { return strings.HasPrefix(pkg, "internal/") }

func command(pkg string) bool { return strings.HasPrefix(pkg, "cmd/") }

// Allowed reports whether pkg may import other, both named as in the table.
func Allowed(pkg, other string) bool {
	i := slices.IndexFunc(Table, func(r Row) bool { return r.Package == pkg })
	switch {
	case internal(pkg):
		return true
	case i < 0 || internal(other):
		return false
	case slices.Contains(Table[i].May, other):
		return true
	case slices.Contains(Table[i].May, All):
		return other != pkg && !command(other) && slices.ContainsFunc(Table, func(r Row) bool { return r.Package == other })
	}
	return slices.Contains(Everywhere, other) && !slices.Contains(Everywhere, pkg) && pkg != "words"
}

// Judge tells every package that is not in the table and every import that it
// does not allow.
func Judge(packages []Package) []string {
	var faults []string
	for _, p := range packages {
		pkg, ok := short(p.ImportPath)
		if !ok || internal(pkg) {
			continue
		}
		if !slices.ContainsFunc(Table, func(r Row) bool { return r.Package == pkg }) {
			faults = append(faults, fmt.Sprintf("%s is not in the table of internal/arch; "+
				"put it where it belongs, with what it may import", pkg))
			continue
		}
		for _, path := range p.Imports {
			if other, ours := short(path); ours && !Allowed(pkg, other) {
				faults = append(faults, fmt.Sprintf("%s imports %s; the table of internal/arch does not allow it", pkg, other))
			}
		}
	}
	return faults
}

// asking names the functions that ask the clock or the environment.
var asking = map[string][]string{
	"time": {"Now", "Since", "Until"},
	"os":   {"Getenv", "LookupEnv", "Environ", "ExpandEnv"},
}

// Asks tells every place of a clockless package that asks the clock or the
// environment.
func Asks(p Package) ([]string, error) {
	if pkg, ok := short(p.ImportPath); !ok || !clockless(pkg) {
		return nil, nil
	}
	var faults []string
	files := token.NewFileSet()
	for _, name := range p.GoFiles {
		file, err := parser.ParseFile(files, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		names := map[string]string{} // as the file calls the package
		for _, spec := range file.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return nil, err
			}
			if _, ok := asking[path]; ok {
				names[path] = path
				if spec.Name != nil {
					names[path] = spec.Name.Name
				}
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			sel, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			x, ok := sel.X.(*ast.Ident)
			if !ok {
				return true
			}
			for path, called := range names {
				if x.Name == called && slices.Contains(asking[path], sel.Sel.Name) {
					faults = append(faults, fmt.Sprintf("%s: %s.%s; take it as an argument",
						files.Position(sel.Pos()), path, sel.Sel.Name))
				}
			}
			return true
		})
	}
	return faults, nil
}

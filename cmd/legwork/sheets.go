package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"legwork/plan"
	"legwork/scene"
	"legwork/scene/pdf"
	"legwork/scene/svg"
	"legwork/sheets"
	"legwork/where"
)

func sheetsCommand(env Env) *cobra.Command {
	var (
		out, format string
		only        []string
	)
	c := &cobra.Command{
		Use:   "sheets JOB -o FILE.pdf",
		Short: "Draw the plan set",
		Long: "Draws the plan set as one PDF, or as SVG: one sheet to a file, several to a folder, a file a sheet named by its number.\n" +
			"Open decisions are filled as legwork plan does; what is not known prints as \"?\".\n\nSheets:\n" + sheetList(),
		Args: oneJob,
		RunE: func(_ *cobra.Command, args []string) error {
			if out == "" {
				return inputError{fmt.Errorf("sheets: no -o; expected -o FILE.pdf, or -o DIR for several svg")}
			}
			if format == "" {
				format = strings.TrimPrefix(strings.ToLower(filepath.Ext(out)), ".")
			}
			switch format {
			case "pdf", "svg":
			case "dxf":
				return inputError{fmt.Errorf("sheets: dxf is not there yet; expected pdf or svg")}
			default:
				return inputError{fmt.Errorf("sheets: format %q; expected pdf or svg", format)}
			}
			which, err := sheets.Pick(only)
			if err != nil {
				return inputError{err}
			}
			doc, err := readJob(env, args[0])
			if err != nil {
				return err
			}
			p, err := plan.Fill(doc)
			if err != nil {
				return where.Error{File: args[0], Came: err.Error()}
			}
			drawn, err := sheets.Draw(sheets.From(p), which)
			if err != nil {
				return faultError{err}
			}
			files, warnings, err := render(drawn, format, out, title(doc), doc.People.Firm.Value)
			if err != nil {
				return faultError{err}
			}
			for _, w := range slices.Compact(warnings) {
				fmt.Fprintln(env.Stderr, w)
			}
			return writeAll(files)
		},
	}
	c.Flags().StringVarP(&out, "out", "o", "", "file, or folder for several svg")
	c.Flags().StringVar(&format, "format", "", "pdf or svg; by default what the file's name ends in")
	c.Flags().StringSliceVar(&only, "only", nil, "sheets by number or name: E-601,cover")
	return c
}

func sheetList() string {
	var b strings.Builder
	for _, s := range sheets.All() {
		fmt.Fprintf(&b, "  %s  %-14s %s\n", s.Number, s.Name, s.Answers)
	}
	return b.String()
}

// undated stands in the PDF for the time it was made: the same input gives the
// same bytes, so the clock is not asked.
var undated = time.Unix(0, 0).UTC()

// file is a file to be written.
type file struct {
	name  string
	bytes []byte
}

// render makes the files of a set. Several svg go into a folder.
func render(drawn []*scene.Scene, format, out, name, firm string) ([]file, []string, error) {
	var b bytes.Buffer
	if format == "pdf" {
		warnings, err := pdf.Write(&b, drawn, pdf.Options{Title: name, Author: firm, Created: undated})
		return []file{{out, b.Bytes()}}, warnings, err
	}
	single := len(drawn) == 1 && strings.EqualFold(filepath.Ext(out), ".svg")
	var files []file
	var warnings []string
	for _, s := range drawn {
		o := svg.Options{SelfContained: true, SheetURL: func(number string) string {
			if single {
				return ""
			}
			return number + ".svg"
		}}
		b.Reset()
		w, err := svg.Write(&b, s, o)
		if err != nil {
			return nil, nil, err
		}
		for _, said := range w {
			warnings = append(warnings, s.Number+": "+said)
		}
		f := file{filepath.Join(out, s.Number+".svg"), bytes.Clone(b.Bytes())}
		if single {
			f.name = out
		}
		files = append(files, f)
	}
	return files, warnings, nil
}

// writeAll writes files, making the folder they go to.
func writeAll(files []file) error {
	for _, f := range files {
		err := os.MkdirAll(filepath.Dir(f.name), 0o755)
		if err == nil {
			err = os.WriteFile(f.name, f.bytes, 0o644)
		}
		if err != nil {
			return faultError{where.Error{File: f.name, Came: plainFileError(err), Expected: "a place that can be written to"}}
		}
	}
	return nil
}

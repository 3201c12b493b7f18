package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"legwork/tables"
)

func tableCommand(env Env) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "table [NAME [COLUMN=VALUE…]]",
		Short: "Any embedded table, with its source",
		Long:  "Without a name lists the tables. A filter keeps the rows whose column has the value: legwork table ampacity size=10",
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return written(fmt.Fprintln(env.Stdout, strings.Join(tables.Names(), "\n")))
			}
			t, err := tables.Get(args[0])
			if err != nil {
				return inputError{err}
			}
			for _, f := range args[1:] {
				column, value, ok := strings.Cut(f, "=")
				if !ok {
					return inputError{fmt.Errorf("filter %q: expected COLUMN=VALUE; columns are %s", f, strings.Join(t.Header, ", "))}
				}
				if t, err = t.Filter(column, value); err != nil {
					return inputError{err}
				}
			}
			if asJSON {
				return written(0, writeJSON(env.Stdout, struct {
					Schema string     `json:"schema"`
					Name   string     `json:"name"`
					Title  string     `json:"title"`
					Source string     `json:"source"`
					Status string     `json:"status"`
					Header []string   `json:"header"`
					Rows   [][]string `json:"rows"`
				}{"table/1", t.Name, t.Title, t.Source, t.Status, t.Header, t.Rows}))
			}
			fmt.Fprintf(env.Stdout, "%s\nsource: %s\nstatus: %s\n\n", t.Title, t.Source, t.Status)
			w := tabwriter.NewWriter(env.Stdout, 0, 0, 2, ' ', 0)
			fmt.Fprintln(w, strings.Join(t.Header, "\t"))
			for _, r := range t.Rows {
				fmt.Fprintln(w, strings.Join(r, "\t"))
			}
			return written(0, w.Flush())
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "machine form, schema table/1")
	return c
}

// written makes a failed write a fault of the machine, not of the input.
func written(_ int, err error) error {
	if err != nil {
		return faultError{err}
	}
	return nil
}

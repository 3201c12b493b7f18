package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"legwork/rules"
	"legwork/where"
)

func rulesCommand(env Env) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "rules [ID]",
		Short: "The rule catalogue: what must hold, why, and the clause by edition",
		Args:  cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			list := rules.All()
			if len(args) == 1 {
				r := rules.Find(args[0])
				if r == nil {
					var ids []string
					for _, r := range list {
						ids = append(ids, r.ID)
					}
					return inputError{fmt.Errorf("rule %q: there is none; %s", args[0], where.Suggest(args[0], ids))}
				}
				list = []*rules.Rule{r}
			}
			var err error
			switch {
			case asJSON:
				err = writeJSON(env.Stdout, struct {
					Schema string        `json:"schema"`
					Rules  []*rules.Rule `json:"rules"`
				}{"rules/1", list})
			case len(args) == 1:
				_, err = io.WriteString(env.Stdout, list[0].Text())
			default:
				var b strings.Builder
				for _, r := range list {
					fmt.Fprintf(&b, "%-18s %s\n", r.ID, r.Title)
				}
				_, err = io.WriteString(env.Stdout, b.String())
			}
			if err != nil {
				return faultError{err}
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "machine form, schema rules/1")
	return c
}

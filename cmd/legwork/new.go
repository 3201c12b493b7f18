package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"legwork/job"
)

func newCommand(env Env) *cobra.Command {
	return &cobra.Command{
		Use:   "new NAME",
		Short: "Print a commented starting document",
		Long:  "Prints a starting document with every fact still to be fetched. Keep it with: legwork new \"12 Elm Street\" > elm.yaml",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) != 1 || strings.TrimSpace(args[0]) == "" {
				return inputError{fmt.Errorf("%s: expected one name, such as \"12 Elm Street\"", c.CommandPath())}
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			return written(env.Stdout.Write(job.Starting(args[0])))
		},
	}
}

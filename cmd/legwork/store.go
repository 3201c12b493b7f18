package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"legwork/store"
	"legwork/where"
)

func storeCommand(env Env) *cobra.Command {
	c := &cobra.Command{
		Use:   "store",
		Short: "Take everything out of a store, bring it in, copy it while it runs",
		Args:  cobra.NoArgs,
		RunE:  func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(storeExport(env), storeImport(env), storeBackup(env))
	return c
}

// oneFile asks for the name of one file.
func oneFile(c *cobra.Command, args []string) error {
	if len(args) != 1 {
		return inputError{fmt.Errorf("%s: %d arguments came, expected the name of a file", c.CommandPath(), len(args))}
	}
	return nil
}

func storeExport(env Env) *cobra.Command {
	var from storeFlags
	c := &cobra.Command{
		Use:   "export (--data DIR | --db URL) FILE",
		Short: "Write all jobs, revisions, events and photos as one archive, while the store runs",
		Args:  oneFile,
		RunE: func(c *cobra.Command, args []string) (err error) {
			s, err := from.open(c.Context())
			if err != nil {
				return err
			}
			defer func() { err = errors.Join(err, s.Close()) }()
			all, err := exportTo(c.Context(), s, args[0], env)
			if err != nil {
				return err
			}
			fmt.Fprintf(env.Stderr, "%s: %s\n", args[0], all)
			return nil
		},
	}
	from.register(c.Flags())
	return c
}

// exportTo writes a new file, which has its name only once the disk has it all.
func exportTo(ctx context.Context, s store.Store, name string, env Env) (all store.Contents, err error) {
	part, err := os.CreateTemp(filepath.Dir(name), ".legwork-export-*")
	if err != nil {
		return all, inputError{where.Error{File: name, Came: plainFileError(err), Expected: "a file to write in a folder that is there"}}
	}
	defer os.Remove(part.Name())
	defer part.Close()
	if all, err = s.Export(ctx, part, env.Now()); err != nil {
		return all, faultError{err}
	}
	if err := part.Sync(); err != nil {
		return all, faultError{err}
	}
	if err := os.Link(part.Name(), name); err != nil {
		return all, inputError{where.Error{File: name, Came: plainFileError(err), Expected: "a name that is free"}}
	}
	return all, syncFolder(filepath.Dir(name))
}

func storeImport(env Env) *cobra.Command {
	var to storeFlags
	c := &cobra.Command{
		Use:   "import (--data DIR | --db URL) FILE",
		Short: "Bring an archive in, all of it or nothing",
		Args:  oneFile,
		RunE: func(c *cobra.Command, args []string) (err error) {
			f, err := os.Open(args[0])
			var size int64
			if err == nil {
				defer f.Close()
				size, err = f.Seek(0, io.SeekEnd)
			}
			if err != nil {
				return inputError{where.Error{File: args[0], Came: plainFileError(err), Expected: "an archive as legwork store export writes it"}}
			}
			s, err := to.open(c.Context())
			if err != nil {
				return err
			}
			defer func() { err = errors.Join(err, s.Close()) }()
			all, err := s.Import(c.Context(), f, size)
			if err != nil {
				return inputError{fmt.Errorf("%s: nothing was brought in: %w", args[0], err)}
			}
			fmt.Fprintf(env.Stderr, "%s: %s\n", args[0], all)
			return nil
		},
	}
	to.register(c.Flags())
	return c
}

func storeBackup(Env) *cobra.Command {
	var data string
	c := &cobra.Command{
		Use:   "backup --data DIR FILE",
		Short: "Copy the database of a folder into a new file, while programs write in it",
		Args:  oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			if data == "" {
				return inputError{errors.New("backup: expected --data DIR; a PostgreSQL database is copied by pg_dump")}
			}
			if err := store.Backup(c.Context(), data, args[0]); err != nil {
				return inputError{where.Error{File: args[0], Came: plainFileError(err), Expected: "a store in --data and a name that is free"}}
			}
			return nil
		},
	}
	c.Flags().StringVar(&data, "data", "", "folder that holds the jobs")
	return c
}

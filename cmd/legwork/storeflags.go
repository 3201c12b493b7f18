package main

import (
	"context"
	"errors"

	"github.com/spf13/pflag"

	"legwork/store"
	"legwork/where"
)

// storeFlags say which store a command works on.
type storeFlags struct{ data, db string }

func (s *storeFlags) register(f *pflag.FlagSet) {
	f.StringVar(&s.data, "data", "", "folder that holds the jobs; made when it is not there")
	f.StringVar(&s.db, "db", "", "PostgreSQL database that holds the jobs, as a URL")
}

// open opens the store, which is the caller's to close.
func (s storeFlags) open(ctx context.Context) (store.Store, error) {
	switch {
	case (s.data != "") == (s.db != ""):
		return nil, inputError{errors.New("expected --data DIR or --db URL, one of them")}
	case s.db != "":
		opened, err := store.OpenPostgres(ctx, s.db)
		if err != nil {
			return nil, inputError{err}
		}
		return opened, nil
	}
	opened, err := store.Open(s.data)
	if err != nil {
		return nil, inputError{where.Error{File: s.data, Came: plainFileError(err), Expected: "a folder to keep jobs in, on a local disk"}}
	}
	return opened, nil
}

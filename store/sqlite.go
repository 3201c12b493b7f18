package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"

	_ "modernc.org/sqlite" // the driver "sqlite", without C
)

// Open opens the SQLite store in a folder, making both when they are not there,
// for the owner's eyes only. The folder must be on a local disk: the write-ahead
// log needs shared memory.
func Open(dir string) (Store, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	file := filepath.Join(dir, "legwork.db")
	s, err := openSQLite(file)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return s, nil
}

// How connections behave. Writing returns after the disk has it (synchronous
// FULL) and hinders no reader (WAL); the write lock is taken at once, because a
// read lock that cannot be raised fails without waiting. Readers cannot write.
const (
	writing = "_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)" +
		"&_pragma=busy_timeout(5000)&_pragma=foreign_keys(1)&_txlock=immediate"
	reading = "mode=ro&_pragma=busy_timeout(5000)"
)

func openSQLite(file string) (Store, error) {
	at := (&url.URL{Scheme: "file", OmitHost: true, Path: filepath.ToSlash(file)}).String()
	write, err := sql.Open("sqlite", at+"?"+writing)
	if err != nil {
		return nil, err
	}
	write.SetMaxOpenConns(1)
	steps, err := onSQLite.embedded()
	if err == nil {
		err = migrate(context.Background(), write, onSQLite, steps)
	}
	if err != nil {
		return nil, errors.Join(err, write.Close())
	}
	read, err := sql.Open("sqlite", at+"?"+reading)
	if err != nil {
		return nil, errors.Join(err, write.Close())
	}
	return &database{onSQLite, read, write}, nil
}

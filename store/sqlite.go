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

// Backup copies the SQLite store of a folder into a new file, as it is at one
// instant, while programs go on writing. The copy is a whole database: put it
// into a folder as legwork.db and open that. The file appears under its name
// only when the disk has all of it; one that is there is not touched.
func Backup(ctx context.Context, dir, file string) (err error) {
	from := filepath.Join(dir, "legwork.db")
	if _, err := os.Stat(from); err != nil {
		return err
	}
	if from, err = filepath.Abs(from); err != nil {
		return err
	}
	db, err := sql.Open("sqlite", (&url.URL{Scheme: "file", OmitHost: true, Path: filepath.ToSlash(from)}).String()+"?"+reading)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	part, err := os.CreateTemp(filepath.Dir(file), ".legwork-backup-*")
	if err != nil {
		return err
	}
	defer os.Remove(part.Name())
	defer part.Close()
	if _, err := db.ExecContext(ctx, "VACUUM INTO $1", part.Name()); err != nil { // it takes an empty file for none
		return err
	}
	if err := part.Sync(); err != nil {
		return err
	}
	if err := os.Link(part.Name(), file); err != nil { // refuses a name that is taken
		return err
	}
	return syncFolder(filepath.Dir(file))
}

// syncFolder makes a new file's name last, where the system can.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	return nil
}

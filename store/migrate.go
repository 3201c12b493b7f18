package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"
)

//go:embed sql
var files embed.FS

// dialect is a database's way to say things.
type dialect string

const (
	onSQLite   dialect = ""
	onPostgres dialect = ".pg"
)

// statement is the SQL text of sql/NAME.sql, or of sql/NAME.pg.sql where
// PostgreSQL has to be told otherwise.
func (d dialect) statement(name string) string {
	b, err := files.ReadFile("sql/" + name + string(d) + ".sql")
	if err != nil && d != onSQLite {
		return onSQLite.statement(name)
	}
	if err != nil {
		panic(err)
	}
	return string(b)
}

// embedded are the steps of a dialect.
func (d dialect) embedded() ([]migration, error) {
	dir, err := fs.Sub(files, "sql/migrate"+string(d))
	if err != nil {
		return nil, err
	}
	return migrations(dir)
}

// migration is one numbered step of the database's shape.
type migration struct {
	n      int
	name   string // 001_jobs_events_blobs.sql
	text   string
	sha256 string
}

// migrations reads the steps of a folder; their numbers must be 1, 2, 3 …
func migrations(from fs.FS) ([]migration, error) {
	names, err := fs.Glob(from, "*.sql") // sorted
	if err != nil {
		return nil, err
	}
	var out []migration
	for i, name := range names {
		b, err := fs.ReadFile(from, name)
		if err != nil {
			return nil, err
		}
		number, _, _ := strings.Cut(name, "_")
		if n, err := strconv.Atoi(number); err != nil || n != i+1 {
			return nil, fmt.Errorf("migration %s; expected number %03d", name, i+1)
		}
		out = append(out, migration{i + 1, path.Base(name), string(b), Hash(b)})
	}
	return out, nil
}

// migrate brings a database to the shape of the given steps, each in its own
// transaction with its note, so that a killed program leaves whole steps only.
// A database that is newer, or whose past differs, is refused untouched. Two
// programs that start at once wait for one another.
func migrate(ctx context.Context, db *sql.DB, d dialect, steps []migration) error {
	for {
		more, err := migrateOne(ctx, db, d, steps)
		if err != nil || !more {
			return err
		}
	}
}

// migrateOne runs the first step that is not noted yet and tells whether there
// was one.
func migrateOne(ctx context.Context, db *sql.DB, d dialect, steps []migration) (more bool, err error) {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return false, err
	}
	defer tx.Rollback()
	if _, err := tx.ExecContext(ctx, d.statement("migration_table")); err != nil {
		return false, err
	}
	done, err := applied(ctx, tx, d)
	if err != nil {
		return false, err
	}
	if len(done) > len(steps) {
		return false, fmt.Errorf("the database has the migration %s, which this program does not know; "+
			"use the newer program that wrote it", done[len(done)-1].name)
	}
	for i, m := range done {
		if s := steps[i]; m.n != s.n || m.sha256 != s.sha256 {
			return false, fmt.Errorf("the database was shaped by another %s than this program's %s", m.name, s.name)
		}
	}
	if len(done) == len(steps) {
		return false, tx.Commit()
	}
	s := steps[len(done)]
	if _, err := tx.ExecContext(ctx, s.text); err != nil {
		return false, fmt.Errorf("migration %s: %w", s.name, err)
	}
	if _, err := tx.ExecContext(ctx, d.statement("migration_insert"), s.n, s.name, s.sha256); err != nil {
		return false, fmt.Errorf("migration %s: %w", s.name, err)
	}
	return true, tx.Commit()
}

func applied(ctx context.Context, tx *sql.Tx, d dialect) ([]migration, error) {
	rows, err := tx.QueryContext(ctx, d.statement("migration_list"))
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []migration
	for rows.Next() {
		var m migration
		if err := rows.Scan(&m.n, &m.name, &m.sha256); err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, rows.Err()
}

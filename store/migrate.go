package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"
)

//go:embed sql
var files embed.FS

// statement is the SQL text of sql/NAME.sql.
func statement(name string) string {
	b, err := files.ReadFile("sql/" + name + ".sql")
	if err != nil {
		panic(err)
	}
	return string(b)
}

// hashOf is the SHA-256 of b in lower case hexadecimal.
func hashOf(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
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
		out = append(out, migration{i + 1, path.Base(name), string(b), hashOf(b)})
	}
	return out, nil
}

// migrate brings a database to the shape of the given steps, each in its own
// transaction with its note, so that a killed program leaves whole steps only.
// A database that is newer, or whose past differs, is refused untouched.
func migrate(ctx context.Context, db *sql.DB, steps []migration) error {
	if _, err := db.ExecContext(ctx, statement("migration_table")); err != nil {
		return err
	}
	done, err := applied(ctx, db)
	if err != nil {
		return err
	}
	if len(done) > len(steps) {
		return fmt.Errorf("the database has the migration %s, which this program does not know; "+
			"use the newer program that wrote it", done[len(done)-1].name)
	}
	for i, d := range done {
		if s := steps[i]; d.n != s.n || d.sha256 != s.sha256 {
			return fmt.Errorf("the database was shaped by another %s than this program's %s", d.name, s.name)
		}
	}
	for _, s := range steps[len(done):] {
		if err := s.run(ctx, db); err != nil {
			return fmt.Errorf("migration %s: %w", s.name, err)
		}
	}
	return nil
}

func applied(ctx context.Context, db *sql.DB) ([]migration, error) {
	rows, err := db.QueryContext(ctx, statement("migration_list"))
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

func (m migration) run(ctx context.Context, db *sql.DB) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if _, err := tx.ExecContext(ctx, m.text); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, statement("migration_insert"), m.n, m.name, m.sha256); err != nil {
		return err
	}
	return tx.Commit()
}

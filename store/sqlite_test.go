package store

import (
	"context"
	"database/sql"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"legwork/field"
)

func openDir(t *testing.T, dir string) Store {
	t.Helper()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSQLite(t *testing.T) { testStore(t, openDir) }

// A folder's name may hold what a URL would take for its own.
func TestOpenAnyFolderName(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("windows: a folder's name has no question mark there")
	}
	dir := filepath.Join(t.TempDir(), "Ana's jobs? 100% #1 ñ")
	s := openDir(t, dir)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "legwork.db")); err != nil {
		t.Error(err)
	}
	if info, err := os.Stat(dir); err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("folder: %v, %v; want it for the owner only", info.Mode(), err)
	}
}

func TestOpenRefusesAnotherFile(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "legwork.db")
	text := []byte(strings.Repeat("this is no database\n", 100))
	if err := os.WriteFile(file, text, 0o600); err != nil {
		t.Fatal(err)
	}
	if s, err := Open(dir); err == nil {
		s.Close()
		t.Fatal("opened a text file")
	} else if !strings.HasPrefix(err.Error(), file) {
		t.Errorf("got %v, want the file's name in front", err)
	}
	if after, err := os.ReadFile(file); err != nil || string(after) != string(text) {
		t.Errorf("the file was changed: %v", err)
	}
}

// What a call has answered must survive a power cut: SQLite promises it with
// synchronous FULL (2), and readers go on beside the writer with WAL.
func TestDurableAndReadOnly(t *testing.T) {
	s := openDir(t, t.TempDir()).(*database)
	defer s.Close()
	for pragma, want := range map[string]string{"synchronous": "2", "journal_mode": "wal", "foreign_keys": "1"} {
		var got string
		if err := s.write.QueryRow("PRAGMA " + pragma).Scan(&got); err != nil || got != want {
			t.Errorf("%s: got %s, %v; want %s", pragma, got, err, want)
		}
	}
	if _, err := s.read.Exec("DELETE FROM job"); err == nil {
		t.Error("the readers' pool can write")
	}
}

func TestDamagedBlobIsNamed(t *testing.T) {
	s := openDir(t, t.TempDir()).(*database)
	defer s.Close()
	hash, err := s.PutBlob(ctx, []byte("photo"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.write.Exec("UPDATE blob SET bytes = $1 WHERE sha256 = $2", []byte("phot0"), hash); err != nil {
		t.Fatal(err)
	}
	if b, err := s.Blob(ctx, hash); err == nil || !strings.Contains(err.Error(), "damaged") {
		t.Errorf("got %q, %v; want an error", b, err)
	}
}

func bare(t *testing.T) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		t.Fatal(err)
	}
	db.SetMaxOpenConns(1)
	t.Cleanup(func() { db.Close() })
	return db
}

func steps(t *testing.T, texts ...string) []migration {
	t.Helper()
	dir := fstest.MapFS{}
	for i, text := range texts {
		dir["00"+string(rune('1'+i))+"_step.sql"] = &fstest.MapFile{Data: []byte(text)}
	}
	out, err := migrations(dir)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestMigrate(t *testing.T) {
	const one, two = "CREATE TABLE a (x TEXT); CREATE TABLE b (x TEXT);", "ALTER TABLE a ADD COLUMN y TEXT;"
	for _, c := range []struct {
		name      string
		was, now  []string
		want      string // start of the error
		wantSteps int
	}{
		{"new database", nil, []string{one, two}, "", 2},
		{"up to date", []string{one, two}, []string{one, two}, "", 2},
		{"one step behind", []string{one}, []string{one, two}, "", 2},
		{"newer database", []string{one, two}, []string{one}, "the database has the migration 002_step.sql, which", 2},
		{"edited migration", []string{one}, []string{one + "\n"}, "the database was shaped by another 001_step.sql", 1},
		{"step that fails half way", []string{one}, []string{one, two + "CREATE TABLE a (z TEXT);"}, "migration 002_step.sql: ", 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			db := bare(t)
			if err := migrate(context.Background(), db, onSQLite, steps(t, c.was...)); err != nil {
				t.Fatal(err)
			}
			err := migrate(context.Background(), db, onSQLite, steps(t, c.now...))
			if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.HasPrefix(err.Error(), c.want)) {
				t.Errorf("got %v, want %s…", err, c.want)
			}
			tx, err := db.Begin()
			if err != nil {
				t.Fatal(err)
			}
			done, err := applied(context.Background(), tx, onSQLite)
			if err := tx.Rollback(); err != nil {
				t.Fatal(err)
			}
			if err != nil || len(done) != c.wantSteps {
				t.Errorf("%d steps noted, %v; want %d", len(done), err, c.wantSteps)
			}
			// The column of the second step is there exactly when it is noted.
			if _, err := db.Exec("SELECT y FROM a"); (err == nil) != (c.wantSteps == 2) {
				t.Errorf("column y: %v with %d steps noted", err, c.wantSteps)
			}
		})
	}
}

func TestMigrationsAreNumbered(t *testing.T) {
	for name, file := range map[string]string{"gap": "002_b.sql", "no number": "first.sql"} {
		if _, err := migrations(fstest.MapFS{file: {Data: []byte("SELECT 1;")}}); err == nil {
			t.Errorf("%s: took %s as the first", name, file)
		}
	}
}

// A disk that is full refuses what comes and keeps what is there; with room
// again the same store goes on. The database's own limit of pages stands in for
// the disk.
func TestDiskFull(t *testing.T) {
	s := openDir(t, t.TempDir()).(*database)
	defer s.Close()
	src := seed(30)
	job, phone := newID(t, src), newID(t, src)
	if err := s.CreateJob(ctx, Job{job, "oak", noon}); err != nil {
		t.Fatal(err)
	}
	var pages int
	if err := s.write.QueryRow("PRAGMA page_count").Scan(&pages); err != nil {
		t.Fatal(err)
	}
	if _, err := s.write.Exec("PRAGMA max_page_count = " + strconv.Itoa(pages+10)); err != nil {
		t.Fatal(err)
	}
	var kept []field.Event
	var refused field.Event
	for n := 1; refused.ID == ""; n++ {
		e := note(newID(t, src), job, phone, n, strings.Repeat("x", 3000))
		acks, err := s.Append(ctx, []field.Event{e})
		switch {
		case err == nil && acks[0].Cursor == int64(n):
			kept = append(kept, e)
		case err != nil && acks == nil:
			refused = e
		default:
			t.Fatalf("got %+v, %v", acks, err)
		}
		if n > 100 {
			t.Fatal("the disk is never full")
		}
	}
	checkOnce(t, s, job, kept)
	if _, err := s.PutBlob(ctx, make([]byte, 100<<10)); err == nil {
		t.Error("a photo on a full disk: no error")
	}
	if _, err := s.write.Exec("PRAGMA max_page_count = 1000000"); err != nil {
		t.Fatal(err)
	}
	mustAppend(t, s, refused)
	checkOnce(t, s, job, append(kept, refused))
}

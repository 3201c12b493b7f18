// Package postgres starts a PostgreSQL server of its own for tests and studies,
// on a loopback port, with its data in a temporary folder.
package postgres

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver "pgx"
)

// Server is a cluster of databases.
type Server struct {
	Dir  string // its data
	port int
	bin  string
	as   *syscall.Credential // PostgreSQL refuses to run as root
	cmd  *exec.Cmd
	log  *os.File
}

// Find is the folder of PostgreSQL's programs: the one of pg_ctl on the search
// path, else the newest where Debian keeps them.
func Find() (string, error) {
	if ctl, err := exec.LookPath("pg_ctl"); err == nil {
		return filepath.Dir(ctl), nil
	}
	found, err := filepath.Glob("/usr/lib/postgresql/*/bin/pg_ctl")
	if err == nil && len(found) == 0 {
		err = errors.New("no pg_ctl on the search path, nor under /usr/lib/postgresql")
	}
	if err != nil {
		return "", err
	}
	return filepath.Dir(found[len(found)-1]), nil
}

// Start makes a cluster in a new folder below dir ("" for the system's) and
// starts it as PostgreSQL starts it: it waits for the disk at every commit.
func Start(dir string) (*Server, error) {
	bin, err := Find()
	if err != nil {
		return nil, err
	}
	s := &Server{bin: bin}
	if s.Dir, err = os.MkdirTemp(dir, "pg-*"); err != nil {
		return nil, err
	}
	if err := s.begin(); err != nil {
		return nil, errors.Join(err, s.Remove())
	}
	return s, nil
}

func (s *Server) begin() error {
	if os.Getuid() == 0 {
		if err := s.asPostgres(); err != nil {
			return err
		}
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	s.port = l.Addr().(*net.TCPAddr).Port
	if err := l.Close(); err != nil {
		return err
	}
	if s.log, err = os.Create(filepath.Join(s.Dir, "log")); err != nil {
		return err
	}
	make := s.command("initdb", "--pgdata", s.data(), "--username", "test", "--auth", "trust", "--encoding", "UTF8", "--locale", "C")
	if out, err := make.CombinedOutput(); err != nil {
		return fmt.Errorf("initdb: %w: %s", err, out)
	}
	return s.Run()
}

// asPostgres gives the folder to the user that Debian makes for PostgreSQL.
func (s *Server) asPostgres() error {
	u, err := user.Lookup("postgres")
	if err != nil {
		return err
	}
	uid, errU := strconv.ParseUint(u.Uid, 10, 32)
	gid, errG := strconv.ParseUint(u.Gid, 10, 32)
	if err := errors.Join(errU, errG); err != nil {
		return err
	}
	s.as = &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
	return os.Chown(s.Dir, int(uid), int(gid))
}

func (s *Server) data() string { return filepath.Join(s.Dir, "data") }

func (s *Server) command(name string, args ...string) *exec.Cmd {
	c := exec.Command(filepath.Join(s.bin, name), args...)
	c.Dir = s.Dir
	c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Credential: s.as}
	return c
}

// Run starts a server that is not running and waits until it answers.
func (s *Server) Run() error {
	s.cmd = s.command("postgres", "-D", s.data(), "-p", strconv.Itoa(s.port), "-c", "listen_addresses=127.0.0.1",
		"-c", "unix_socket_directories=", "-c", "max_connections=60", "-c", "shared_buffers=16MB", "-c", "max_wal_size=64MB", "-c", "min_wal_size=32MB")
	s.cmd.Stdout, s.cmd.Stderr = s.log, s.log
	if err := s.cmd.Start(); err != nil {
		return err
	}
	for deadline := time.Now().Add(30 * time.Second); ; time.Sleep(50 * time.Millisecond) {
		err := s.exec("postgres", "SELECT 1")
		if err == nil || time.Now().After(deadline) {
			return err
		}
	}
}

// Kill ends the server as a power cut of its processes would: no checkpoint, no
// farewell. Run brings it back.
func (s *Server) Kill() error { return s.end(syscall.SIGKILL) }

// end signals all processes of the server and waits for the first of them.
func (s *Server) end(sig syscall.Signal) error {
	if s.cmd == nil || s.cmd.Process == nil {
		return nil
	}
	pid := s.cmd.Process.Pid
	if err := syscall.Kill(pid, sig); err != nil {
		return err
	}
	_ = s.cmd.Wait() // it was killed, and says so
	if sig == syscall.SIGKILL {
		for syscall.Kill(-pid, sig) == nil { // the others of its group
			time.Sleep(10 * time.Millisecond)
		}
	}
	s.cmd = nil
	return nil
}

// Remove ends the server and takes its data away.
func (s *Server) Remove() error {
	err := s.end(syscall.SIGQUIT)
	if s.log != nil {
		err = errors.Join(err, s.log.Close())
	}
	return errors.Join(err, os.RemoveAll(s.Dir))
}

// URL is the address of a database.
func (s *Server) URL(database string) string {
	return fmt.Sprintf("postgres://test@127.0.0.1:%d/%s?sslmode=disable", s.port, database)
}

// Create makes an empty database; an existing one is left alone.
func (s *Server) Create(database string) error {
	err := s.exec("postgres", `CREATE DATABASE "`+strings.ReplaceAll(database, `"`, `""`)+`"`)
	if err != nil && strings.Contains(err.Error(), "42P04") { // duplicate_database
		return nil
	}
	return err
}

func (s *Server) exec(database, query string) error {
	db, err := sql.Open("pgx", s.URL(database))
	if err != nil {
		return err
	}
	defer db.Close()
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	_, err = db.ExecContext(ctx, query)
	return err
}

// Running reports whether the server is still there after a fault of its own.
func (s *Server) Running() bool {
	return s.cmd != nil && s.exec("postgres", "SELECT 1") == nil
}

package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"time"

	"legwork/field"
	"legwork/internal/postgres"
	"legwork/store"
)

// build makes the program.
func build(dir string) (string, error) {
	program := filepath.Join(dir, "legwork")
	out, err := exec.Command("go", "build", "-o", program, "legwork/cmd/legwork").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("go build: %w: %s", err, out)
	}
	return program, nil
}

// server is legwork serve as a process, on a store of its own.
type server struct {
	program string
	args    []string         // which store
	pg      *postgres.Server // nil on SQLite
	dir     string           // data of the store
	disk    string           // mounted at dir, "" for none

	guard sync.Mutex
	cmd   *exec.Cmd
	base  string // address while it runs, "" while it does not
}

// newServer makes a store with one job and serves it. size is the size of the
// disk that holds the store, 0 for the one that is there.
func newServer(dir, program, database, size string, job field.ID) (s *server, err error) {
	s = &server{program: program}
	if s.dir, err = os.MkdirTemp(dir, "store-*"); err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, s.remove())
		}
	}()
	if size != "" {
		if err := syscall.Mount("tmpfs", s.dir, "tmpfs", 0, "mode=755,size="+size); err != nil {
			return s, fmt.Errorf("%w: %w", errNoDisk, err)
		}
		s.disk = s.dir
	}
	var made store.Store
	if database == "PostgreSQL" {
		if err := os.Chmod(s.dir, 0o755); err != nil {
			return s, err
		}
		if s.pg, err = postgres.Start(s.dir); err != nil {
			return s, err
		}
		if err := s.pg.Create("jobs"); err != nil {
			return s, err
		}
		s.args = []string{"--db", s.pg.URL("jobs")}
		made, err = store.OpenPostgres(context.Background(), s.pg.URL("jobs"))
	} else {
		s.args = []string{"--data", filepath.Join(s.dir, "jobs")}
		made, err = store.Open(s.args[1])
	}
	if err != nil {
		return s, err
	}
	err = made.CreateJob(context.Background(), store.Job{ID: job, Name: "crash", Created: time.Unix(0, 0)})
	if err := errors.Join(err, made.Close()); err != nil {
		return s, err
	}
	return s, s.start()
}

var errNoDisk = errors.New("no disk can be mounted here")

// start runs the program until it says its address.
func (s *server) start() error {
	cmd := exec.Command(s.program, append([]string{"serve", "--listen", "127.0.0.1:0"}, s.args...)...)
	r, w := io.Pipe()
	cmd.Stderr = w
	cmd.Env = append(os.Environ(), "GOMAXPROCS=2")
	if err := cmd.Start(); err != nil {
		return err
	}
	lines := bufio.NewScanner(r)
	var said strings.Builder
	ended := make(chan struct{})
	go func() { _ = cmd.Wait(); _ = w.Close(); close(ended) }()
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), "http://") {
			go func() { _, _ = io.Copy(io.Discard, r) }()
			s.guard.Lock()
			s.cmd, s.base = cmd, strings.TrimSuffix(lines.Text(), "/")
			s.guard.Unlock()
			return nil
		}
		fmt.Fprintln(&said, lines.Text())
	}
	return fmt.Errorf("the server did not start: %s", said.String())
}

// kill ends the program without a farewell.
func (s *server) kill() error {
	s.guard.Lock()
	defer s.guard.Unlock()
	s.base = ""
	if s.cmd == nil {
		return nil
	}
	err := s.cmd.Process.Signal(syscall.SIGKILL)
	s.cmd = nil
	return err
}

func (s *server) address() string {
	s.guard.Lock()
	defer s.guard.Unlock()
	return s.base
}

// peak is the most memory that the program has had resident, in bytes; 0 where
// the system does not tell.
func (s *server) peak() int64 {
	s.guard.Lock()
	defer s.guard.Unlock()
	b, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", s.cmd.Process.Pid))
	if err != nil {
		return 0
	}
	var kb int64
	for line := range strings.Lines(string(b)) {
		if rest, ok := strings.CutPrefix(line, "VmHWM:"); ok {
			_, _ = fmt.Sscan(rest, &kb)
		}
	}
	return kb << 10
}

func (s *server) remove() error {
	err := s.kill()
	if s.pg != nil {
		err = errors.Join(err, s.pg.Remove())
	}
	if s.disk != "" {
		time.Sleep(100 * time.Millisecond) // the killed program lets go of its files
		err = errors.Join(err, syscall.Unmount(s.disk, syscall.MNT_DETACH))
	}
	return errors.Join(err, os.RemoveAll(s.dir))
}

// fill writes until the disk is full; the file is removed to make room again.
func (s *server) fill() (ballast string, err error) {
	ballast = filepath.Join(s.dir, "ballast")
	f, err := os.Create(ballast)
	if err != nil {
		return ballast, err
	}
	defer f.Close()
	for block := make([]byte, 64<<10); len(block) > 0; {
		if _, err := f.Write(block); err != nil { // full: try the half, down to a byte
			if !errors.Is(err, syscall.ENOSPC) {
				return ballast, err
			}
			block = block[:len(block)/2]
		}
	}
	return ballast, nil
}

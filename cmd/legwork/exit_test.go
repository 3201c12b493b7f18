package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"strings"
	"testing"

	"legwork/internal/houses"
)

type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, errors.New("broken pipe") }

// A reader that hangs up is no bad input, whatever the command.
func TestBrokenOutput(t *testing.T) {
	for _, args := range [][]string{
		{"check", "job.yaml"}, {"check", "job.yaml", "--json"}, {"check", "job.yaml", "--missing"},
		{"plan", "job.yaml", "--json"}, {"plan", "job.yaml"}, {"rules"}, {"rules", "--json"}, {"new", "12 Elm Street"},
		{"table"}, {"table", "ampacity"}, {"table", "ampacity", "--json"},
	} {
		var stderr bytes.Buffer
		env := environment(brokenPipe{}, &stderr)
		env.ReadFile = func(string) ([]byte, error) { return houses.Get(t, "quillfeather").Bytes, nil }
		if code := run(context.Background(), args, env); code != exitFault {
			t.Errorf("%v: exit %d, want %d", args, code, exitFault)
		}
	}
}

// Exit 3 is for the program and the machine it runs on, never for what came in.
func TestExitThree(t *testing.T) {
	house := houses.Get(t, "quillfeather").Bytes
	read := func(string) ([]byte, error) { return house, nil }
	for _, c := range []struct {
		name string
		env  func(*Env)
		want int
		says string
	}{
		{"all well", func(e *Env) {}, exitDone, ""},
		{"output cannot be written", func(e *Env) { e.Stdout = brokenPipe{} }, exitFault, "broken pipe"},
		{"a fault of our own", func(e *Env) { e.ReadFile = func(string) ([]byte, error) { panic("index out of range") } }, exitFault, "this is a fault of the program: index out of range"},
		{"the file may not be read", func(e *Env) { e.ReadFile = func(string) ([]byte, error) { return nil, fs.ErrPermission } }, exitInput, "permission denied"},
		{"bytes that are no text", func(e *Env) { e.ReadFile = func(string) ([]byte, error) { return []byte{0xff, 0xfe, 0x00}, nil } }, exitInput, "no text"},
	} {
		var stdout, stderr bytes.Buffer
		env := environment(&stdout, &stderr)
		env.ReadFile = read
		c.env(&env)
		if code := run(context.Background(), []string{"check", "job.yaml"}, env); code != c.want || !strings.Contains(stderr.String(), c.says) {
			t.Errorf("%s: exit %d, %q; want %d and %q", c.name, code, stderr.String(), c.want, c.says)
		}
	}
}

// Package where says where something is and what was wrong there.
//
// One error type serves documents, tables, logs, devices and events, so that
// every face can print the same four things: where, what came, what was
// expected, what to try. It knows no units, no rules and no files of its own.
package where

import (
	"fmt"
	"strings"
)

// Pos is a place in a source: a file or other source name, and a line and
// column counted from 1 (column in runes). The zero Pos is "nowhere known".
type Pos struct {
	File string `json:"file,omitempty"`
	Line int    `json:"line,omitempty"`
	Col  int    `json:"col,omitempty"`
}

// IsZero reports whether nothing is known about the place.
func (p Pos) IsZero() bool { return p == Pos{} }

// String prints file:line:col, leaving out what is unknown.
func (p Pos) String() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		if b.Len() > 0 {
			b.WriteByte(':')
		}
		fmt.Fprintf(&b, "%d", p.Line)
		if p.Col > 0 {
			fmt.Fprintf(&b, ":%d", p.Col)
		}
	}
	return b.String()
}

// Error is one fault in what a person or a device gave us.
type Error struct {
	File     string `json:"file,omitempty"`
	Line     int    `json:"line,omitempty"`
	Col      int    `json:"col,omitempty"`
	Path     string `json:"path,omitempty"`     // runs[0].length, register 40072, column "W"
	Came     string `json:"came"`               // what stood there, as it stood
	Expected string `json:"expected,omitempty"` // what should have stood there
	Try      string `json:"try,omitempty"`      // what to do about it
}

// At returns a copy of e placed at p.
func (e Error) At(p Pos) Error {
	e.File, e.Line, e.Col = p.File, p.Line, p.Col
	return e
}

// Pos is the place of the error.
func (e Error) Pos() Pos { return Pos{File: e.File, Line: e.Line, Col: e.Col} }

// Error prints "file:line:col: path: came; expected; try", lower case, no stop.
func (e Error) Error() string {
	var parts []string
	if p := e.Pos().String(); p != "" {
		parts = append(parts, p)
	}
	if e.Path != "" {
		parts = append(parts, e.Path)
	}
	said := e.Came
	if e.Expected != "" {
		said += "; expected " + e.Expected
	}
	if e.Try != "" {
		said += "; " + e.Try
	}
	return strings.Join(append(parts, said), ": ")
}

// Errors is every fault found in one pass, in the order of the source.
type Errors []Error

// Error prints one fault a line.
func (es Errors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap lets errors.As find a single Error in the list.
func (es Errors) Unwrap() []error {
	out := make([]error, len(es))
	for i, e := range es {
		out[i] = e
	}
	return out
}

// OrNil returns nil for an empty list, so that callers can return it as error.
func (es Errors) OrNil() error {
	if len(es) == 0 {
		return nil
	}
	return es
}

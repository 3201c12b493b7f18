package main

import (
	"bytes"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"legwork/field"
	"legwork/where"
)

// recordFile is the file of events beside a job.
type recordFile struct {
	name string
	job  field.ID
}

// read gives the events of the file; a file that is not there holds none.
func (f recordFile) read(env Env) (events []field.Event, cut []byte, err error) {
	src, err := env.ReadFile(f.name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil, nil
	case err != nil:
		return nil, nil, where.Error{File: f.name, Came: plainFileError(err), Expected: "a file of events"}
	}
	return field.ReadLines(src, f.name, f.job)
}

// add writes events behind the last whole line, in one write, and returns when
// the disk has them. A line that an earlier crash cut short was never
// acknowledged; it is taken off and said aloud.
func (f recordFile) add(env Env, events []field.Event) error {
	var lines []byte
	for _, e := range events {
		b, err := e.Canonical()
		if err != nil {
			return err
		}
		lines = append(append(lines, b...), '\n')
	}
	file, err := os.OpenFile(f.name, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return faultError{err}
	}
	defer file.Close()
	if err := lock(file); err != nil {
		return faultError{err}
	}
	src, err := io.ReadAll(file)
	if err != nil {
		return faultError{err}
	}
	end := int64(bytes.LastIndexByte(src, '\n') + 1)
	if cut := src[end:]; len(cut) > 0 {
		fmt.Fprintf(env.Stderr, "%s: the last line was cut short in writing and is taken off: %q\n", f.name, cut)
		if err := file.Truncate(end); err != nil {
			return faultError{err}
		}
	}
	if _, err := file.WriteAt(lines, end); err != nil {
		return faultError{err}
	}
	if err := file.Sync(); err != nil {
		return faultError{err}
	}
	return syncFolder(filepath.Dir(f.name))
}

// syncFolder makes a new file's name last.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return faultError{err}
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) {
		return faultError{err}
	}
	return nil
}

// jobID is the id of the job; a document without one is told how to get one.
func jobID(env Env, file, id string) (field.ID, error) {
	if id != "" {
		job, err := field.ParseID(id)
		if e, ok := err.(where.Error); ok {
			e.File, e.Path = file, "id"
			return "", e
		}
		return job, err
	}
	fresh, err := field.NewID(env.Now(), rand.Reader)
	if err != nil {
		return "", faultError{err}
	}
	return "", where.Error{File: file, Path: "id", Came: "nothing", Expected: "the id of the job, which its events carry",
		Try: "add the line  id: " + string(fresh)}
}

// appendFlags are the flags of append.
type appendFlags struct {
	kind, value, instrument, calibrated, device string
	set                                         []string
	over, whole                                 bool
}

func (a *appendFlags) register(f *pflag.FlagSet) {
	f.StringVar(&a.kind, "kind", "", "append: kind of event")
	f.StringArrayVar(&a.set, "set", nil, "append: a member of the body in words, such as by=Ana; without any the body is read from standard input")
	f.StringVar(&a.value, "value", "", `append: a reading with its unit, such as "120.4 V"`)
	f.BoolVar(&a.over, "over", false, "append: the display showed OL, the value is the end of its range")
	f.StringVar(&a.instrument, "instrument", "", "append: instrument or tool that the value is from")
	f.StringVar(&a.calibrated, "calibrated", "", "append: day of its calibration, 2026-01-10")
	f.StringVar(&a.device, "device", "", "append: id of this device (default: the one that began the file)")
	f.BoolVar(&a.whole, "whole", false, "append: whole events on standard input, one a line")
}

func (a appendFlags) run(env Env, file recordFile) error {
	there, _, err := file.read(env)
	if err != nil {
		return err
	}
	if a.whole {
		return takeWhole(env, file, there)
	}
	kind := field.Kind(a.kind)
	src, err := a.body(env, kind)
	if err != nil {
		return err
	}
	e, err := a.event(env, file.job, kind, src, there)
	if err != nil {
		return err
	}
	if err := file.add(env, []field.Event{e}); err != nil {
		return err
	}
	fmt.Fprintln(env.Stdout, e.ID)
	return nil
}

// body is the JSON of the body, from flags or from standard input.
func (a appendFlags) body(env Env, kind field.Kind) ([]byte, error) {
	if len(a.set) == 0 && a.value == "" {
		return io.ReadAll(io.LimitReader(env.Stdin, field.MaxEvent+1))
	}
	m := map[string]any{}
	for _, s := range a.set {
		name, value, ok := strings.Cut(s, "=")
		if _, twice := m[name]; !ok || twice {
			return nil, inputError{fmt.Errorf("--set %q: expected member=words, each member once", s)}
		}
		m[name] = value
	}
	if a.value != "" {
		v, err := readingOf(a.value)
		if err != nil {
			return nil, err
		}
		if a.over {
			v["over"] = true
		}
		m["value"] = v
		tool := "instrument"
		if kind == field.Torque {
			tool = "tool"
		}
		m[tool] = map[string]string{"name": a.instrument, "calibrated": a.calibrated}
	}
	return json.Marshal(m)
}

// spoken are spellings of units that a keyboard has, with their scale.
var spoken = map[string]struct {
	unit  string
	scale float64
}{"ohm": {"Ω", 1}, "kohm": {"Ω", 1e3}, "Mohm": {"Ω", 1e6}, "MΩ": {"Ω", 1e6}, "C": {"°C", 1}, "mA": {"A", 1e-3}, "kW": {"W", 1e3}}

func readingOf(s string) (map[string]any, error) {
	number, unit, _ := strings.Cut(strings.TrimSpace(s), " ")
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return nil, inputError{fmt.Errorf("--value %q: expected a number and its unit, such as \"120.4 V\"", s)}
	}
	if x, ok := spoken[strings.TrimSpace(unit)]; ok {
		return map[string]any{"value": v * x.scale, "unit": x.unit}, nil
	}
	return map[string]any{"value": v, "unit": strings.TrimSpace(unit)}, nil
}

// event gives a body its id, its clock after every event that is there, and its
// count on this device, and reads it back as any other.
func (a appendFlags) event(env Env, job field.ID, kind field.Kind, body []byte, there []field.Event) (field.Event, error) {
	if _, err := field.DecodeBody(kind, body, "body"); err != nil {
		return field.Event{}, err
	}
	now := env.Now()
	e := field.Event{Job: job, Kind: kind, V: 1, Body: body, Device: field.ID(a.device), Seq: 1}
	if e.Device == "" && len(there) > 0 {
		e.Device = there[0].Device
	}
	for _, id := range []*field.ID{&e.ID, &e.Device} {
		if *id != "" {
			continue
		}
		fresh, err := field.NewID(now, rand.Reader)
		if err != nil {
			return e, faultError{err}
		}
		*id = fresh
	}
	var last field.HLC
	for _, t := range there {
		if err := t.Believable(now); err != nil {
			return e, err
		}
		if t.HLC.Compare(last) > 0 {
			last = t.HLC
		}
		if t.Device == e.Device && t.Seq >= e.Seq {
			e.Seq = t.Seq + 1
		}
	}
	e.HLC = last.Next(now)
	canonical, err := e.Canonical()
	if err != nil {
		return e, err
	}
	return field.Decode(canonical, "event")
}

// takeWhole takes events as phones send them. One that is there already changes
// nothing. A bad one refuses all of them. The same id with another body is kept
// beside the first and refused aloud.
func takeWhole(env Env, file recordFile, there []field.Event) error {
	const name = "standard input"
	src, err := io.ReadAll(env.Stdin)
	if err != nil {
		return faultError{err}
	}
	if len(src) > 0 && src[len(src)-1] != '\n' {
		src = append(src, '\n')
	}
	came, _, err := field.ReadLines(src, name, file.job)
	if err != nil {
		return err
	}
	hashes := map[field.ID][]string{}
	for _, e := range there {
		h, err := e.Hash()
		if err != nil {
			return err
		}
		hashes[e.ID] = append(hashes[e.ID], h)
	}
	var fresh []field.Event
	var refused where.Errors
	for _, e := range came {
		if err := e.Believable(env.Now()); err != nil {
			return err
		}
		if _, err := field.DecodeBody(e.Kind, e.Body, "event "+string(e.ID)); err != nil {
			return err
		}
		h, err := e.Hash()
		if err != nil {
			return err
		}
		known := hashes[e.ID]
		if slices.Contains(known, h) {
			continue
		}
		if len(known) > 0 {
			refused = append(refused, where.Error{File: name, Path: "event " + string(e.ID), Came: "another story of an event that is there",
				Expected: "a new id for a new event", Try: "both are kept; settle it by a correction"})
		}
		hashes[e.ID] = append(known, h)
		fresh = append(fresh, e)
	}
	if len(fresh) > 0 {
		if err := file.add(env, fresh); err != nil {
			return err
		}
	}
	for _, e := range came {
		fmt.Fprintln(env.Stdout, e.ID)
	}
	return refused.OrNil()
}

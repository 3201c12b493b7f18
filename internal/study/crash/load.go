package main

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"
	"time"
)

// measure lets devices sync a day at once and tells how long each upload took.
func measure(dir, program string, devices, batches, size int, seed uint64) (string, error) {
	var b strings.Builder
	fmt.Fprintf(&b, `# Load: %d devices sync a day at once

Made by `+"`go run ./internal/study/crash -load`"+`; do not edit. The times are those of the
machine that it ran on: two cores, shared by the server, the database and the devices.

Each device has %d events of the day and sends them in %d batches of %d, one after the
other; all devices begin at once, on one job. The server's memory is the most that was
resident. Growth is the store's size on disk for each event, with its indexes and its log.

| database | events | in all, s | events a second | median, ms | 95 %%, ms | 99 %%, ms | longest, ms | lost | twice | moved | server's memory, MB | growth, bytes an event |
|---|---|---|---|---|---|---|---|---|---|---|---|---|
`, devices, batches*size, batches, size)
	for _, database := range []string{"SQLite", "PostgreSQL"} {
		line, err := measureOne(dir, program, database, devices, batches, size, seed)
		if err != nil {
			return b.String(), fmt.Errorf("%s: %w", database, err)
		}
		b.WriteString(line)
	}
	return b.String(), nil
}

func measureOne(dir, program, database string, count, batches, size int, seed uint64) (line string, err error) {
	first, err := newDevice(seed, 1000, "")
	if err != nil {
		return "", err
	}
	s, err := newServer(dir, program, database, "", first.id)
	if err != nil {
		return "", err
	}
	defer func() { err = errors.Join(err, s.remove()) }()
	before, err := sizeOf(s.dir)
	if err != nil {
		return "", err
	}
	var guard sync.Mutex
	var times []time.Duration
	var wg sync.WaitGroup
	devices := make([]*device, count)
	begun := time.Now()
	for i := range devices {
		d, err := newDevice(seed, i, first.id)
		if err != nil {
			return "", err
		}
		d.client.Timeout = 2 * time.Minute
		devices[i] = d
		wg.Go(func() {
			for range batches {
				if err := d.make(size); err != nil {
					d.faults = append(d.faults, err.Error())
					return
				}
				for len(d.outbox) > 0 {
					at := time.Now()
					if err := d.upload(s.address()); err != nil {
						d.faults = append(d.faults, err.Error())
						return
					}
					guard.Lock()
					times = append(times, time.Since(at))
					guard.Unlock()
				}
			}
		})
	}
	wg.Wait()
	took := time.Since(begun)
	memory := s.peak()
	after, err := sizeOf(s.dir)
	if err != nil {
		return "", err
	}
	var r row
	if err := r.judge(s, devices); err != nil {
		return "", err
	}
	if r.failed > 0 {
		return "", fmt.Errorf("%d uploads had no answer", r.failed)
	}
	slices.Sort(times)
	at := func(share float64) float64 {
		return float64(times[int(share*float64(len(times)-1))].Microseconds()) / 1000
	}
	return fmt.Sprintf("| %s | %d | %.1f | %.0f | %.0f | %.0f | %.0f | %.0f | %d | %d | %d | %.0f | %d |\n", database, r.events, took.Seconds(),
		float64(r.events)/took.Seconds(), at(.5), at(.95), at(.99), at(1), r.lost, r.twice, r.moved,
		float64(memory)/1e6, (after-before)/int64(max(1, r.events))), nil
}

// sizeOf is the length of all files below a folder.
func sizeOf(dir string) (n int64, err error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return 0, err
	}
	for _, e := range entries {
		if e.IsDir() {
			below, err := sizeOf(dir + "/" + e.Name())
			if err != nil {
				return n, err
			}
			n += below
			continue
		}
		info, err := e.Info()
		if errors.Is(err, os.ErrNotExist) { // gone since
			continue
		}
		if err != nil {
			return n, err
		}
		n += info.Size()
	}
	return n, nil
}

package main

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"sync"
	"sync/atomic"
	"time"

	"legwork/field"
)

// scenario is one way to break one database.
type scenario struct {
	database, fault, disk string
	// strike breaks it once and mends it.
	strike func(s *server, rng *rand.Rand) error
}

var scenarios = []scenario{
	{"SQLite", "server killed", "", killServer},
	{"SQLite", "disk full", "48m", fillDisk},
	{"PostgreSQL", "server killed", "", killServer},
	{"PostgreSQL", "database killed and back", "", killDatabase},
	{"PostgreSQL", "disk full", "400m", fillDisk},
}

func killServer(s *server, rng *rand.Rand) error {
	pause(rng, 2, 80)
	if err := s.kill(); err != nil {
		return err
	}
	pause(rng, 0, 30)
	return s.start()
}

func killDatabase(s *server, rng *rand.Rand) error {
	pause(rng, 20, 500)
	if err := s.pg.Kill(); err != nil {
		return err
	}
	pause(rng, 0, 200)
	return s.pg.Run()
}

func fillDisk(s *server, rng *rand.Rand) error {
	pause(rng, 50, 300)
	ballast, err := s.fill()
	if err != nil {
		return err
	}
	pause(rng, 100, 400)
	if err := os.Remove(ballast); err != nil {
		return err
	}
	if s.pg != nil && !s.pg.Running() { // it stops when its own log has no room
		return s.pg.Run()
	}
	return nil
}

// pause waits from least to most milliseconds.
func pause(rng *rand.Rand, least, most int) {
	time.Sleep(time.Duration(least+rng.IntN(most-least)) * time.Millisecond)
}

// row is what came of a scenario.
type row struct {
	scenario
	strikes, uploads, failed, events, again, photos int
	lost, twice, moved, photosLost                  int
	took                                            time.Duration
	skipped                                         string
}

// devices send at the same time.
const senders = 4

func (sc scenario) run(dir, program string, uploads int, seed uint64) (r row, err error) {
	r.scenario = sc
	rng := rand.New(rand.NewPCG(seed, 7))
	first, err := newDevice(seed, 1000, "")
	if err != nil {
		return r, err
	}
	job := first.id // as good as any
	s, err := newServer(dir, program, sc.database, sc.disk, job)
	if errors.Is(err, errNoDisk) {
		r.skipped = err.Error()
		return r, nil
	}
	if err != nil {
		return r, err
	}
	defer func() { err = errors.Join(err, s.remove()) }()
	begun := time.Now()
	var done atomic.Int64
	var wg sync.WaitGroup
	devices := make([]*device, senders)
	for i := range devices {
		d, err := newDevice(seed, i, job)
		if err != nil {
			return r, err
		}
		devices[i] = d
		wg.Go(func() {
			for done.Load() < int64(uploads) {
				if len(d.outbox) == 0 {
					if err := d.make(1 + d.rng.IntN(20)); err != nil {
						d.faults = append(d.faults, err.Error())
						return
					}
				}
				base := s.address()
				if base == "" {
					time.Sleep(5 * time.Millisecond)
					continue
				}
				before := d.batches
				if err := d.upload(base); err != nil {
					d.faults = append(d.faults, err.Error())
					return
				}
				done.Add(int64(d.batches - before))
				if d.rng.IntN(10) == 0 && sc.disk == "" {
					d.photo(base)
				}
			}
		})
	}
	ended := make(chan struct{})
	go func() { wg.Wait(); close(ended) }()
	for under := true; under; {
		if err := sc.strike(s, rng); err != nil {
			return r, err
		}
		r.strikes++
		select {
		case <-ended:
			under = false
		default:
		}
	}
	r.took = time.Since(begun)
	return r, r.judge(s, devices)
}

// judge asks the server what it holds and compares with what it acknowledged.
func (r *row) judge(s *server, devices []*device) error {
	there := map[field.ID][]int64{}
	reader := devices[0]
	for since, more := int64(0), true; more; {
		var answer struct {
			Events []struct {
				Cursor int64
				Event  struct{ ID field.ID }
			}
			Next int64
			More bool
		}
		address := fmt.Sprintf("%s/sync/jobs/%s/events?since=%d&limit=1000", s.address(), reader.job, since)
		if err := reader.fetch(address, &answer); err != nil {
			return err
		}
		for _, e := range answer.Events {
			there[e.Event.ID] = append(there[e.Event.ID], e.Cursor)
		}
		since, more = answer.Next, answer.More
	}
	for _, d := range devices {
		if len(d.faults) > 0 {
			return fmt.Errorf("%d faults, the first: %s", len(d.faults), d.faults[0])
		}
		r.uploads += d.batches
		r.failed += d.failed
		r.again += d.again
		r.photos += len(d.photos)
		r.events += len(d.places)
		for id, place := range d.places {
			switch at := there[id]; {
			case len(at) == 0:
				r.lost++
			case len(at) > 1:
				r.twice++
			case at[0] != place:
				r.moved++
			}
		}
		for _, hash := range d.photos {
			if err := d.fetch(s.address()+"/sync/files/"+hash, nil); err != nil {
				r.photosLost++
			}
		}
	}
	return nil
}

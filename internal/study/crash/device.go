package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"time"

	"legwork/field"
	"legwork/store"
)

// device makes events and sends them until each is acknowledged. Its clock jumps.
type device struct {
	rng    *rand.Rand
	src    *rand.ChaCha8
	job    field.ID
	id     field.ID
	seq    int64
	hlc    field.HLC
	client *http.Client

	outbox  []field.Event      // not acknowledged
	places  map[field.ID]int64 // acknowledged, with the place told
	sent    map[field.ID]field.Event
	photos  []string // acknowledged, by hash
	batches int      // acknowledged
	failed  int      // without an answer, or with one that acknowledges nothing
	again   int      // events sent although acknowledged
	faults  []string // what breaks the promise
}

func newDevice(seed uint64, n int, job field.ID) (*device, error) {
	src := rand.NewChaCha8([32]byte{byte(seed), byte(seed >> 8), byte(n), byte(n >> 8), 1})
	d := &device{src: src, rng: rand.New(src), job: job, places: map[field.ID]int64{}, sent: map[field.ID]field.Event{},
		client: &http.Client{Timeout: 20 * time.Second}}
	var err error
	d.id, err = field.NewID(time.Now(), src)
	return d, err
}

// make puts events into the outbox. The device's clock is up to 20 h ahead or
// ten days behind.
func (d *device) make(n int) error {
	for range n {
		now := time.Now()
		switch d.rng.IntN(10) {
		case 0:
			now = now.Add(time.Duration(d.rng.IntN(20)) * time.Hour)
		case 1:
			now = now.AddDate(0, 0, -d.rng.IntN(10))
		}
		id, err := field.NewID(now, d.src)
		if err != nil {
			return err
		}
		d.seq++
		d.hlc = d.hlc.Next(now)
		e := field.Event{ID: id, Job: d.job, Device: d.id, Seq: d.seq, HLC: d.hlc, Kind: field.Note, V: 1,
			Body: fmt.Appendf(nil, `{"text":"event %d of this device, as long as what a crew writes of a landing","by":"Ana"}`, d.seq)}
		d.outbox = append(d.outbox, e)
		d.sent[id] = e
	}
	return nil
}

// batch is what is in the outbox, some of what was acknowledged, in any order.
func (d *device) batch() []field.Event {
	out := append([]field.Event{}, d.outbox...)
	for id := range d.places {
		if len(out) >= 2*len(d.outbox) || d.rng.IntN(3) > 0 {
			break
		}
		out = append(out, d.sent[id])
		d.again++
	}
	d.rng.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

// ack is a line of the answer, sync/1.
type ack struct {
	ID      field.ID
	Cursor  int64
	Refused []struct{ Came, Expected string }
}

// upload sends a batch once and takes note of what was acknowledged.
func (d *device) upload(base string) error {
	var body bytes.Buffer
	for _, e := range d.batch() {
		b, err := e.Canonical()
		if err != nil {
			return err
		}
		body.Write(append(b, '\n'))
	}
	var answer struct{ Acks []ack }
	if err := d.ask("POST", base+"/sync/jobs/"+string(d.job)+"/events", body.Bytes(), &answer); err != nil {
		d.failed++
		return nil
	}
	for _, a := range answer.Acks {
		if len(a.Refused) > 0 {
			d.faults = append(d.faults, fmt.Sprintf("event %s refused: %v", a.ID, a.Refused))
			continue
		}
		if before, ok := d.places[a.ID]; ok && before != a.Cursor {
			d.faults = append(d.faults, fmt.Sprintf("event %s: place %d, before %d", a.ID, a.Cursor, before))
		}
		d.places[a.ID] = a.Cursor
	}
	left := d.outbox[:0]
	for _, e := range d.outbox {
		if _, ok := d.places[e.ID]; !ok {
			left = append(left, e)
		}
	}
	d.outbox = left
	d.batches++
	return nil
}

// photo sends some kilobytes under their hash.
func (d *device) photo(base string) {
	b := make([]byte, 1000+d.rng.IntN(20000))
	for i := range b {
		b[i] = byte(d.rng.Uint32())
	}
	hash := store.Hash(b)
	if err := d.ask("PUT", base+"/sync/files/"+hash, b, nil); err != nil {
		d.failed++
		return
	}
	d.photos = append(d.photos, hash)
}

// ask is one request; anything but an answer of 200, read whole, is an error.
func (d *device) ask(method, url string, body []byte, answer any) error {
	r, err := http.NewRequest(method, url, bytes.NewReader(body))
	if err != nil {
		return err
	}
	w, err := d.client.Do(r)
	if err != nil {
		return err
	}
	defer w.Body.Close()
	b, err := io.ReadAll(w.Body)
	if err != nil {
		return err
	}
	if w.StatusCode != http.StatusOK {
		return fmt.Errorf("%s: %d: %s", url, w.StatusCode, b)
	}
	if answer == nil {
		return nil
	}
	return json.Unmarshal(b, answer)
}

// fetch asks until there is an answer, as sync/1 says of 503: connections that
// the fault broke are found broken by the first to use them.
func (d *device) fetch(url string, answer any) (err error) {
	for range 20 {
		if err = d.ask("GET", url, nil, answer); err == nil {
			return nil
		}
		time.Sleep(100 * time.Millisecond)
	}
	return err
}

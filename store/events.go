package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"slices"

	"legwork/field"
	"legwork/where"
)

func (d *database) Append(ctx context.Context, events []field.Event) ([]Ack, error) {
	acks := make([]Ack, len(events))
	err := d.within(ctx, func(tx *sql.Tx) error {
		known, err := d.hold(ctx, tx, events)
		if err != nil {
			return err
		}
		for i, e := range events {
			if acks[i], err = d.appendOne(ctx, tx, e, known[e.Job]); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return acks, nil
}

// hold reads the jobs that events name, in order of their ids, so that no two
// transactions wait for each other, and tells which there are.
func (d *database) hold(ctx context.Context, tx *sql.Tx, events []field.Event) (map[field.ID]bool, error) {
	known := map[field.ID]bool{}
	for _, e := range events {
		known[e.Job] = false
	}
	for _, id := range slices.Sorted(maps.Keys(known)) {
		_, err := d.holdJob(ctx, tx, id)
		if err != nil && !errors.Is(err, ErrNotFound) {
			return nil, err
		}
		known[id] = err == nil
	}
	return known, nil
}

// appendOne keeps one event. Only faults of the database are errors; what is
// wrong with the event goes into its answer.
func (d *database) appendOne(ctx context.Context, tx *sql.Tx, e field.Event, known bool) (Ack, error) {
	ack := Ack{ID: e.ID}
	refuse := func(path, came, expected, try string) {
		ack.Refused = &where.Error{File: "event " + string(e.ID), Path: path, Came: came, Expected: expected, Try: try}
	}
	canonical, err := e.Canonical()
	if err == nil {
		_, err = field.Decode(canonical, "event "+string(e.ID))
	}
	switch {
	case err != nil: // made in this program past field.Decode
		refuse("", err.Error(), "an event as field.Decode gives it", "")
		return ack, nil
	case !known:
		refuse("job", string(e.Job), "a job of this store", "")
		return ack, nil
	}
	hash := Hash(canonical)
	err = tx.QueryRowContext(ctx, d.statement("event_insert"), e.ID, e.Job, hash, canonical).Scan(&ack.Cursor)
	if !errors.Is(err, sql.ErrNoRows) {
		return ack, err
	}
	var job field.ID
	var arrival int64
	var there string
	if err := tx.QueryRowContext(ctx, d.statement("event_get"), e.ID).Scan(&job, &arrival, &there); err != nil {
		return ack, err
	}
	if there == hash {
		ack.Cursor = arrival
		return ack, nil
	}
	if _, err := tx.ExecContext(ctx, d.statement("disputed_insert"), e.ID, e.Job, hash, canonical); err != nil {
		return ack, err
	}
	ack.Kept = true
	refuse("id", fmt.Sprintf("another event of this id is in the record (%.12s, this one %.12s)", there, hash),
		"a new id for a new event", "both are kept; correct the one in the record by a correction")
	return ack, nil
}

func (d *database) EventsSince(ctx context.Context, job field.ID, cursor int64, limit int) ([]Arrived, error) {
	return list(ctx, d.read, d.dialect, func(row scanner) (a Arrived, err error) {
		var canonical []byte
		if err := row.Scan(&a.Cursor, &canonical); err != nil {
			return Arrived{}, err
		}
		a.Event, err = field.Decode(canonical, fmt.Sprintf("job %s, event %d", job, a.Cursor))
		return a, err
	}, "event_since", job, cursor, limit)
}

func (d *database) Disputed(ctx context.Context, job field.ID) ([]field.Event, error) {
	return list(ctx, d.read, d.dialect, func(row scanner) (field.Event, error) {
		var canonical []byte
		if err := row.Scan(&canonical); err != nil {
			return field.Event{}, err
		}
		return field.Decode(canonical, "disputed events of job "+string(job))
	}, "disputed_list", job)
}

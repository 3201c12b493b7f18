package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"legwork/field"
	"legwork/where"
)

func (d *database) Append(ctx context.Context, events []field.Event) ([]Ack, error) {
	acks := make([]Ack, len(events))
	err := d.within(ctx, func(tx *sql.Tx) error {
		for i, e := range events {
			var err error
			if acks[i], err = appendOne(ctx, tx, e); err != nil {
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

// appendOne keeps one event. Only faults of the database are errors; what is
// wrong with the event goes into its answer.
func appendOne(ctx context.Context, tx *sql.Tx, e field.Event) (Ack, error) {
	ack := Ack{ID: e.ID}
	refuse := func(path, came, expected, try string) {
		ack.Refused = &where.Error{File: "event " + string(e.ID), Path: path, Came: came, Expected: expected, Try: try}
	}
	canonical, err := e.Canonical()
	if err == nil {
		_, err = field.Decode(canonical, "event "+string(e.ID))
	}
	if err != nil { // made in this program past field.Decode
		refuse("", err.Error(), "an event as field.Decode gives it", "")
		return ack, nil
	}
	hash := hashOf(canonical)
	if _, err := getJob(ctx, tx, e.Job); err != nil {
		if errors.Is(err, ErrNotFound) {
			refuse("job", string(e.Job), "a job of this store", "")
			return ack, nil
		}
		return ack, err
	}
	var job field.ID
	var arrival int64
	var there string
	switch err := tx.QueryRowContext(ctx, statement("event_get"), e.ID).Scan(&job, &arrival, &there); {
	case errors.Is(err, sql.ErrNoRows):
		return ack, tx.QueryRowContext(ctx, statement("event_insert"), e.ID, e.Job, hash, canonical).Scan(&ack.Cursor)
	case err != nil:
		return ack, err
	case there == hash:
		ack.Cursor = arrival
		return ack, nil
	}
	if _, err := tx.ExecContext(ctx, statement("disputed_insert"), e.ID, e.Job, hash, canonical); err != nil {
		return ack, err
	}
	ack.Kept = true
	refuse("id", fmt.Sprintf("another event of this id is in the record (%.12s, this one %.12s)", there, hash),
		"a new id for a new event", "both are kept; correct the one in the record by a correction")
	return ack, nil
}

func (d *database) EventsSince(ctx context.Context, job field.ID, cursor int64, limit int) ([]Arrived, error) {
	return list(ctx, d.read, func(row scanner) (a Arrived, err error) {
		var canonical []byte
		if err := row.Scan(&a.Cursor, &canonical); err != nil {
			return Arrived{}, err
		}
		a.Event, err = field.Decode(canonical, fmt.Sprintf("job %s, event %d", job, a.Cursor))
		return a, err
	}, "event_since", job, cursor, limit)
}

func (d *database) Disputed(ctx context.Context, job field.ID) ([]field.Event, error) {
	return list(ctx, d.read, func(row scanner) (field.Event, error) {
		var canonical []byte
		if err := row.Scan(&canonical); err != nil {
			return field.Event{}, err
		}
		return field.Decode(canonical, "disputed events of job "+string(job))
	}, "disputed_list", job)
}

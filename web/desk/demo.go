package desk

import (
	"bytes"
	"context"
	"crypto/sha256"
	"io/fs"
	"path"
	"time"

	"legwork"
	"legwork/field"
	"legwork/job"
	"legwork/store"
)

// opened is when the invented houses were first told of. Their ids are made of
// it, so that a link into the demonstration holds from one day to the next.
var opened = time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)

// MoveIn enters the invented houses into a store, by name.
func MoveIn(ctx context.Context, s store.Store, now time.Time) error {
	const folder = "testdata/houses"
	houses, err := fs.ReadDir(legwork.Houses, folder)
	if err != nil {
		return err
	}
	for i, h := range houses {
		src, err := legwork.Houses.ReadFile(path.Join(folder, h.Name()))
		if err != nil {
			return err
		}
		doc, err := job.Parse(h.Name(), src)
		if err != nil {
			return err
		}
		sum := sha256.Sum256([]byte(h.Name())) // in place of chance
		id, err := field.NewID(opened.Add(time.Duration(i)*time.Millisecond), bytes.NewReader(sum[:]))
		if err != nil {
			return err
		}
		if err := s.CreateJob(ctx, store.Job{ID: id, Name: doc.Name, Created: now}); err != nil {
			return err
		}
		if _, err := s.SaveRevision(ctx, store.Draft{Job: id, Bytes: src, Author: "the demonstration", Time: now}); err != nil {
			return err
		}
	}
	return nil
}

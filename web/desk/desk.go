package desk

import (
	"context"
	"errors"
	"fmt"

	"legwork/field"
	"legwork/rules"
	"legwork/store"
	"legwork/web"
	"legwork/working"
)

// Desk is web.Desk over a store.
type Desk struct {
	store store.Store
	shelf shelf
}

// New is the desk over a store, which stays its caller's to close.
func New(s store.Store) *Desk { return &Desk{store: s} }

// Jobs lists all jobs in the order of their making.
func (d *Desk) Jobs(ctx context.Context) ([]web.Job, error) {
	jobs, err := d.store.Jobs(ctx)
	if err != nil {
		return nil, err
	}
	var out []web.Job
	for _, j := range jobs {
		h, err := d.head(ctx, j)
		if err != nil {
			return nil, err
		}
		out = append(out, h)
	}
	return out, nil
}

// Job is the head of one job.
func (d *Desk) Job(ctx context.Context, id string) (web.Job, error) {
	j, err := d.store.Job(ctx, field.ID(id))
	if errors.Is(err, store.ErrNotFound) {
		return web.Job{}, web.ErrNotFound
	}
	if err != nil {
		return web.Job{}, err
	}
	return d.head(ctx, j)
}

func (d *Desk) head(ctx context.Context, j store.Job) (web.Job, error) {
	h := web.Job{ID: string(j.ID), Name: j.Name, Changed: j.Created}
	w, rev, err := d.newest(ctx, string(j.ID))
	if errors.Is(err, web.ErrNotFound) {
		return h, nil // entered, and nothing written yet
	}
	if err != nil {
		return h, err
	}
	h.Changed = rev.Time
	w.head(&h)
	return h, nil
}

// newest is what was worked out of the newest revision.
func (d *Desk) newest(ctx context.Context, id string) (*work, store.Revision, error) {
	rev, err := d.store.Newest(ctx, field.ID(id))
	if errors.Is(err, store.ErrNotFound) {
		return nil, rev, web.ErrNotFound
	}
	if err != nil {
		return nil, rev, fmt.Errorf("job %s: %w", id, err)
	}
	w, err := d.shelf.of(rev)
	return w, rev, err
}

// planned is newest for the pages that need a document without faults.
func (d *Desk) planned(ctx context.Context, id string) (*work, error) {
	w, _, err := d.newest(ctx, id)
	if err == nil {
		err = w.faults.OrNil()
	}
	return w, err
}

// Survey is the document as facts and as text.
func (d *Desk) Survey(ctx context.Context, id string) (web.Survey, error) {
	w, rev, err := d.newest(ctx, id)
	if err != nil {
		return web.Survey{}, err
	}
	s := web.Survey{Source: rev.Bytes, Faults: w.faults}
	if w.doc != nil {
		s.Groups = survey(w.doc, w.asked())
	}
	return s, nil
}

// Plan is what is to be built.
func (d *Desk) Plan(ctx context.Context, id string) (web.Plan, error) {
	w, err := d.planned(ctx, id)
	if err != nil {
		return web.Plan{}, err
	}
	return planOf(w.plan, w.findings(w.edition())), nil
}

// Proof judges the job under an edition, 0 for the adopted one.
func (d *Desk) Proof(ctx context.Context, id string, e working.Edition) (web.Proof, error) {
	w, err := d.planned(ctx, id)
	if err != nil {
		return web.Proof{}, err
	}
	if e == 0 {
		e = w.edition()
	} else if !rules.Covers(e) {
		return web.Proof{}, web.ErrNotFound
	}
	return w.proof(ctx, e)
}

// Sheets is the plan set.
func (d *Desk) Sheets(ctx context.Context, id string) ([]web.Sheet, error) {
	w, err := d.planned(ctx, id)
	if err != nil {
		return nil, err
	}
	return w.sheets()
}

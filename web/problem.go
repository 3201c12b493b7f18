package web

import (
	"context"
	"errors"
	"net/http"

	"legwork/where"
)

// badRequest is an address or a form that asks for what is not offered.
type badRequest struct{ came, expected string }

func (e badRequest) Error() string { return e.came + "; " + e.expected }

// problemPage is what a person sees instead of the page asked for.
type problemPage struct {
	Head
	Said   string
	Detail string
	Faults where.Errors
}

// fail writes the page of an error, with the job's head where there is one.
func (o room) fail(w http.ResponseWriter, r *http.Request, err error) {
	if errors.Is(err, context.Canceled) {
		return // nobody is waiting for the page
	}
	p := problemPage{Head: o.head(r, Job{ID: r.PathValue("job")}, "")}
	if j, e := o.jobOf(r); e == nil {
		p.Head = o.head(r, j, "")
	} else {
		p.Head.Job.ID = ""
	}
	status := http.StatusInternalServerError
	var bad badRequest
	var one where.Error
	switch {
	case errors.Is(err, ErrNotFound):
		status = http.StatusNotFound
		p.Title = "Not here"
		p.Said = "There is nothing at this address."
		p.Detail = r.URL.Path
	case errors.As(err, &bad):
		status = http.StatusBadRequest
		p.Title = "Not understood"
		p.Said = "The address asks for something that this page does not have."
		p.Detail = bad.Error()
	case errors.As(err, &p.Faults):
		status = http.StatusUnprocessableEntity
	case errors.As(err, &one):
		status = http.StatusUnprocessableEntity
		p.Faults = where.Errors{one}
	default:
		o.Log.ErrorContext(r.Context(), "page not made", "page", r.URL.Path, "error", err)
		p.Title = "The program failed"
		p.Said = "This page could not be made. That is a fault of the program, not of the job: the document is untouched."
		p.Detail = err.Error()
	}
	if status == http.StatusUnprocessableEntity {
		p.Title = "The document needs mending"
		p.Said = "Nothing can be worked out until these lines are put right. The file is untouched."
	}
	w.WriteHeader(status)
	if err := o.write(w, "problem", p); err != nil {
		o.Log.ErrorContext(r.Context(), "problem page not written", "page", r.URL.Path, "error", err)
	}
}

func (o room) jobOf(r *http.Request) (Job, error) {
	if r.PathValue("job") == "" {
		return Job{}, ErrNotFound
	}
	return o.desk.Job(r.Context(), r.PathValue("job"))
}

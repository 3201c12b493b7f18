package web

import (
	"net/http"

	"legwork/working"
)

type jobsPage struct {
	Head
	Rows []jobRow
}

type jobRow struct {
	Job
	Path, Age, Next string
}

func (o room) getJobs(w http.ResponseWriter, r *http.Request) error {
	jobs, err := o.desk.Jobs(r.Context())
	if err != nil {
		return err
	}
	p := jobsPage{Head: o.head(r, Job{}, "")}
	p.Title = "Jobs"
	for _, j := range jobs {
		p.Rows = append(p.Rows, jobRow{Job: j, Path: o.head(r, j, "").JobPath(), Age: age(j.Changed, o.Now()), Next: next(j)})
	}
	return o.render(w, "jobs", p)
}

// next says what the job waits for.
func next(j Job) string {
	switch {
	case len(j.Faults) > 0:
		return "mend " + count(len(j.Faults), "line") + " of the document"
	case j.Tally.Of(working.Stop) > 0:
		return "find a way round " + count(j.Tally.Of(working.Stop), "stop")
	case j.Missing > 0:
		return "fetch " + count(j.Missing, "fact")
	case j.Tally.Of(working.Look) > 0:
		return "look at " + count(j.Tally.Of(working.Look), "finding")
	case j.Tally.All() > 0:
		return "draw the sheets"
	}
	return "survey the house"
}

// getJob leads to the stage that answers most: Proof.
func (o room) getJob(w http.ResponseWriter, r *http.Request) error {
	j, err := o.jobOf(r)
	if err != nil {
		return err
	}
	http.Redirect(w, r, o.head(r, j, "").JobPath()+"/proof", http.StatusSeeOther)
	return nil
}

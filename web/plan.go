package web

import (
	"html/template"
	"net/http"

	"legwork/scene/svg"
)

type planPage struct {
	Head
	Plan
}

func (o room) getPlan(w http.ResponseWriter, r *http.Request) error {
	j, err := o.jobOf(r)
	if err != nil {
		return err
	}
	p, err := o.desk.Plan(r.Context(), j.ID)
	if err != nil {
		return err
	}
	page := planPage{o.head(r, j, "Plan"), p}
	page.Sections = []string{"roof"}
	for _, c := range p.Circuits {
		page.Sections = append(page.Sections, c.ID)
	}
	return o.render(w, "plan", page)
}

// Seen is the roof as markup: always ink on white, as on paper, so that hatch
// and color stay what the sheets show.
func (p Plan) Seen() (template.HTML, error) {
	return inPage(p.Roof, svg.Options{Fluid: true, IDPrefix: "roof-"})
}

// Empty reports whether nothing is planned yet.
func (p Plan) Empty() bool { return len(p.Branches)+len(p.Circuits)+len(p.Choices)+len(p.Open) == 0 }

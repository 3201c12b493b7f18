package web

import (
	"bytes"
	"net/http"
	"slices"

	"legwork/where"
)

type surveyPage struct {
	Head
	Survey
	Lines   []sourceLine
	Unknown int
	Edit    bool // a store stands behind the page
}

// sourceLine is one line of the document with the faults found in it.
type sourceLine struct {
	N      int
	Text   string
	Faults where.Errors
}

func (o room) getSurvey(w http.ResponseWriter, r *http.Request) error {
	j, err := o.jobOf(r)
	if err != nil {
		return err
	}
	s, err := o.desk.Survey(r.Context(), j.ID)
	if err != nil {
		return err
	}
	p := surveyPage{Head: o.head(r, j, "Survey"), Survey: s, Lines: sourceLines(s.Source, s.Faults),
		Edit: o.Record != nil && o.base == ""}
	for _, g := range s.Groups {
		if g.Place != "" {
			p.Sections = append(p.Sections, g.Place)
		}
		for _, f := range g.Facts {
			if !f.Known {
				p.Unknown++
			}
		}
	}
	return o.render(w, "survey", p)
}

func sourceLines(source []byte, faults where.Errors) []sourceLine {
	if len(source) == 0 {
		return nil
	}
	var lines []sourceLine
	for text := range bytes.Lines(source) {
		n := len(lines) + 1
		at := slices.DeleteFunc(slices.Clone(faults), func(e where.Error) bool { return e.Line != n })
		lines = append(lines, sourceLine{n, string(bytes.TrimRight(text, "\r\n")), at})
	}
	return lines
}

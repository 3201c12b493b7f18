package web

import (
	"bytes"
	"fmt"
	"html/template"
	"net/http"
	"path"
	"strconv"
	"strings"

	"legwork/scene"
	"legwork/scene/pdf"
	"legwork/scene/svg"
)

type sheetsPage struct {
	Head
	Sheets []drawnSheet
}

// drawnSheet is a sheet as the page shows it.
type drawnSheet struct {
	Number, Title, Answers, Size string
	Drawn                        template.HTML
}

func (o room) getSheets(w http.ResponseWriter, r *http.Request) error {
	j, err := o.jobOf(r)
	if err != nil {
		return err
	}
	sheets, err := o.desk.Sheets(r.Context(), j.ID)
	if err != nil {
		return err
	}
	p := sheetsPage{Head: o.head(r, j, "Sheets")}
	for _, sh := range sheets {
		s := sh.Scene
		drawn, err := inPage(s, svg.Options{Fluid: true, IDPrefix: s.Number + "-", SheetURL: func(n string) string { return "#" + n }})
		if err != nil {
			return err
		}
		p.Sheets = append(p.Sheets, drawnSheet{s.Number, s.Title, sh.Answers, paperSize(s.Size), drawn})
	}
	return o.render(w, "sheets", p)
}

// paperSize names the paper, or gives its size in inches.
func paperSize(s scene.Size) string {
	inches := fmt.Sprintf("%.4g × %.4g in", s.W/25.4, s.H/25.4)
	switch s {
	case scene.ANSIB:
		return "ANSI B, " + inches
	case scene.ANSID:
		return "ANSI D, " + inches
	}
	return inches
}

// getFile makes the download NUMBER.svg, NUMBER.pdf or set.pdf.
func (o room) getFile(w http.ResponseWriter, r *http.Request) error {
	j, err := o.jobOf(r)
	if err != nil {
		return err
	}
	sheets, err := o.desk.Sheets(r.Context(), j.ID)
	if err != nil {
		return err
	}
	ending := path.Ext(r.PathValue("name")) // after the last dot: E-603.2 is a number
	number := strings.TrimSuffix(r.PathValue("name"), ending)
	var scenes []*scene.Scene
	for _, s := range sheets {
		if number == s.Scene.Number || number == "set" && ending == ".pdf" {
			scenes = append(scenes, s.Scene)
		}
	}
	if len(scenes) == 0 {
		return ErrNotFound
	}
	h := w.Header()
	var b bytes.Buffer
	switch ending {
	case ".svg":
		h.Set("Content-Type", "image/svg+xml")
		h.Set("Content-Security-Policy", drawingPolicy)
		_, err = svg.Write(&b, scenes[0], svg.Options{SelfContained: true})
	case ".pdf":
		h.Set("Content-Type", "application/pdf")
		_, err = pdf.Write(&b, scenes, pdf.Options{Title: j.Name, Created: j.Changed})
	default:
		return ErrNotFound
	}
	if err != nil {
		return fmt.Errorf("%s: %w", r.PathValue("name"), err)
	}
	h.Set("Content-Length", strconv.Itoa(b.Len()))
	h.Set("Cache-Control", "no-store") // tomorrow's document gives another sheet
	_, err = b.WriteTo(w)
	return err
}

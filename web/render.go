package web

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io"
	"net/http"
	"strconv"
	"time"

	"legwork/working"
)

//go:embed templates
var templateFiles embed.FS

// templates is one set a page: the layout, the shared parts and the page.
type templates map[string]*template.Template

var pageTemplates = []string{"document", "gallery", "jobs", "plan", "problem", "proof", "sheets", "survey", "work"}

func parseTemplates() (templates, error) {
	shared, err := template.New("").Funcs(template.FuncMap{
		"because":   because,
		"breakable": breakable,
		"compare":   compare,
		"count":     count,
		"swatch":    swatch,
		"verdicts":  func() []working.Verdict { return verdicts },
		"mark":      func(v working.Verdict) working.Verdict { return v },
	}).ParseFS(templateFiles, "templates/layout.html", "templates/parts.html")
	if err != nil {
		return nil, err
	}
	all := templates{}
	for _, name := range pageTemplates {
		t, err := shared.Clone()
		if err != nil {
			return nil, err
		}
		if all[name], err = t.ParseFS(templateFiles, "templates/"+name+".html"); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// render writes a page whole or not at all.
func (o room) render(w http.ResponseWriter, name string, page any) error {
	return o.write(w, name, page)
}

func (o room) write(w io.Writer, name string, page any) error {
	var b bytes.Buffer
	if err := o.templates[name].ExecuteTemplate(&b, "layout", page); err != nil {
		return fmt.Errorf("template %s: %w", name, err)
	}
	if rw, ok := w.(http.ResponseWriter); ok {
		rw.Header().Set("Content-Type", "text/html; charset=utf-8")
	}
	_, err := b.WriteTo(w)
	return err
}

// because hands the part "reasons" the job whose findings it links to.
func because(job string, reasons []Reason) any {
	return struct {
		Job     string
		Reasons []Reason
	}{job, reasons}
}

// count is a number with its noun: "1 fact", "3 facts", "2 branches".
func count(n int, one string, many ...string) string {
	noun := one + "s"
	switch {
	case n == 1:
		noun = one
	case len(many) > 0:
		noun = many[0]
	}
	return strconv.Itoa(n) + " " + noun
}

// age says how long ago t was, as coarse as people say it.
func age(t, now time.Time) string {
	if t.IsZero() {
		return ""
	}
	d := now.Sub(t)
	for _, u := range []struct {
		length time.Duration
		name   string
	}{{365 * 24 * time.Hour, "year"}, {30 * 24 * time.Hour, "month"}, {24 * time.Hour, "day"}, {time.Hour, "hour"}, {time.Minute, "minute"}} {
		if n := int(d / u.length); n > 0 {
			return count(n, u.name) + " ago"
		}
	}
	return "just now"
}

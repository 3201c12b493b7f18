package web

import (
	"bytes"
	"errors"
	"net/http"
	"strings"

	"legwork/field"
	"legwork/store"
)

// documentPage is the document as text to edit. After a conflict it shows what
// the two editors wrote, with the second one's text kept.
type documentPage struct {
	Head
	Text     string
	Parent   string // SHA-256 of the revision that the text edits
	Author   string
	Said     string
	Conflict *store.Conflict
}

// Difference is what differs and the line before and after each; the rest is
// the same in both.
func (p documentPage) Difference() []store.DiffLine {
	all := p.Conflict.Difference()
	var out []store.DiffLine
	near := func(i int) bool { return i >= 0 && i < len(all) && all[i].Sign != ' ' }
	for i, l := range all {
		if near(i-1) || near(i) || near(i+1) {
			out = append(out, l)
		}
	}
	return out
}

// Mark is a sign in words, for who cannot see it.
func (documentPage) Mark(l store.DiffLine) string {
	switch l.Sign {
	case '-':
		return "theirs"
	case '+':
		return "yours"
	}
	return ""
}

func (o room) getDocument(w http.ResponseWriter, r *http.Request) error {
	j, newest, err := o.newest(r)
	if err != nil {
		return err
	}
	return o.showDocument(w, r, j, documentPage{Text: string(newest.Bytes), Parent: newest.SHA256})
}

func (o room) newest(r *http.Request) (Job, store.Revision, error) {
	j, err := o.jobOf(r)
	if err != nil {
		return j, store.Revision{}, err
	}
	newest, err := o.Record.Newest(r.Context(), field.ID(j.ID))
	if errors.Is(err, store.ErrNotFound) {
		err = nil // the first is written here
	}
	return j, newest, err
}

func (o room) showDocument(w http.ResponseWriter, r *http.Request, j Job, p documentPage) error {
	p.Head = o.head(r, j, "Survey")
	p.Title = "Document"
	return o.render(w, "document", p)
}

// postDocument saves the text as the next revision, or tells that somebody
// saved meanwhile and shows the difference. Nothing is ever overwritten.
func (o room) postDocument(w http.ResponseWriter, r *http.Request) error {
	j, newest, err := o.newest(r)
	if err != nil {
		return err
	}
	// In a form every character may take three bytes.
	r.Body = http.MaxBytesReader(w, r.Body, 3*store.MaxDocument)
	if err := r.ParseForm(); err != nil {
		return badRequest{"a form: " + err.Error(), "expected a document of at most 4 MiB"}
	}
	p := documentPage{Text: r.PostFormValue("text"), Parent: r.PostFormValue("parent"), Author: strings.TrimSpace(r.PostFormValue("author"))}
	text := []byte(p.Text)
	if !bytes.Contains(newest.Bytes, []byte("\r\n")) { // a form sends every line with both
		text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	}
	if p.Author == "" {
		p.Said = "Who saves? The name is missing; your text stands below."
		w.WriteHeader(http.StatusUnprocessableEntity)
		return o.showDocument(w, r, j, p)
	}
	_, err = o.Record.SaveRevision(r.Context(), store.Draft{Job: field.ID(j.ID), Parent: p.Parent, Bytes: text, Author: p.Author, Time: o.Now()})
	if errors.As(err, &p.Conflict) {
		p.Parent = p.Conflict.Newest.SHA256 // what the next try has seen
		w.WriteHeader(http.StatusConflict)
		return o.showDocument(w, r, j, p)
	}
	if err != nil {
		return err
	}
	http.Redirect(w, r, o.head(r, j, "").JobPath()+"/survey", http.StatusSeeOther)
	return nil
}

package web_test

import (
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"legwork/store"
	"legwork/web"
	"legwork/web/desk"
)

// Two people edit one document. The second is told, is shown the difference,
// loses nothing, and overwrites nothing.
func TestSecondEditorIsShownTheDifference(t *testing.T) {
	s, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	h, err := web.Handler(web.Options{Desk: desk.New(s), Record: s, Now: func() time.Time { return shift },
		Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	if err != nil {
		t.Fatal(err)
	}
	job := newCrew(t, 10, "").newID()
	if err := s.CreateJob(t.Context(), store.Job{ID: job, Name: "oak", Created: shift}); err != nil {
		t.Fatal(err)
	}
	at := "/jobs/" + string(job) + "/document"
	save := func(parent, author, text string) *httptest.ResponseRecorder {
		form := url.Values{"parent": {parent}, "author": {author}, "text": {strings.ReplaceAll(text, "\n", "\r\n")}} // as browsers send it
		r := httptest.NewRequest("POST", "http://localhost"+at, strings.NewReader(form.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w
	}
	const first, ana, ben = "name: oak\nmain: 200 A\nroof: S\n", "name: oak\nmain: 225 A\nroof: S\n", "name: oak\nmain: 200 A\nroof: <E>\n"
	if w := save("", "Ana", first); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	parent := store.Hash([]byte(first))
	if page := send(h, "GET", at, "").Body.String(); !strings.Contains(page, parent) || !strings.Contains(page, "main: 200 A") {
		t.Errorf("the form: %s", page)
	}
	if w := save(parent, "", ana); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "main: 225 A") {
		t.Errorf("without a name: %d", w.Code)
	}
	if w := save(parent, "Ana", ana); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	w := save(parent, "Ben", ben)
	page := w.Body.String()
	for _, want := range []string{"Ana saved revision 2", "<del><code>main: 225 A</code></del>", "<ins><code>main: 200 A</code></ins>",
		"<ins><code>roof: &lt;E&gt;</code></ins>", `value="` + store.Hash([]byte(ana)) + `"`, "roof: &lt;E&gt;"} {
		if w.Code != http.StatusConflict || !strings.Contains(page, want) {
			t.Errorf("%d, without %s", w.Code, want)
		}
	}
	if newest, err := s.Newest(t.Context(), job); err != nil || string(newest.Bytes) != ana {
		t.Errorf("newest: %q, %v; want Ana's", newest.Bytes, err)
	}
	// Having seen it, Ben saves both changes.
	if w := save(store.Hash([]byte(ana)), "Ben", strings.Replace(ana, "roof: S", "roof: <E>", 1)); w.Code != http.StatusSeeOther {
		t.Error(w.Code, w.Body)
	}
	if newest, err := s.Newest(t.Context(), job); err != nil || newest.N != 3 || newest.Author != "Ben" {
		t.Errorf("newest: %+v, %v", newest, err)
	}
}

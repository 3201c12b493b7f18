package web

import (
	"net/http"
	"strings"
)

// site is the server's state: nothing that changes.
type site struct {
	Options
	assets    map[string]asset
	templates templates
}

func newSite(o Options) (*site, error) {
	assets, err := loadAssets()
	if err != nil {
		return nil, err
	}
	t, err := parseTemplates()
	if err != nil {
		return nil, err
	}
	return &site{Options: o, assets: assets, templates: t}, nil
}

// room is one set of pages over one desk. The working pages stand at the root,
// each room of the gallery under an address of its own.
type room struct {
	*site
	desk Desk
	base string // "", "/gallery/long"
}

// handler answers one request or says why not.
type handler func(http.ResponseWriter, *http.Request) error

// pages is every page of a room, sorted by address.
func (o room) pages() map[string]handler {
	return map[string]handler{
		"/{$}":                     o.getJobs,
		"/jobs/{job}/files/{name}": o.getFile,
		"/jobs/{job}/{$}":          o.getJob,
		"/jobs/{job}/build":        o.getBuild,
		"/jobs/{job}/energize":     o.getEnergize,
		"/jobs/{job}/plan":         o.getPlan,
		"/jobs/{job}/proof":        o.getProof,
		"/jobs/{job}/sheets":       o.getSheets,
		"/jobs/{job}/survey":       o.getSurvey,
	}
}

func (s *site) routes() http.Handler {
	mux := http.NewServeMux()
	add := func(o room) {
		for address, h := range o.pages() {
			mux.Handle("GET "+o.base+address, o.answer(h))
		}
	}
	home := room{site: s, desk: s.Desk}
	add(home)
	mux.Handle("GET /assets/{name}", home.answer(s.getAsset))
	mux.Handle("POST /theme", home.answer(s.postTheme))
	mux.Handle("GET /", home.answer(func(http.ResponseWriter, *http.Request) error { return ErrNotFound }))
	if s.Record != nil {
		s.syncRoutes(mux)
		mux.Handle("GET /jobs/{job}/document", home.answer(home.getDocument))
		mux.Handle("POST /jobs/{job}/document", home.answer(home.postDocument))
	}
	if len(s.Gallery) > 0 {
		mux.Handle("GET /gallery", home.answer(home.getGallery))
		for _, g := range s.Gallery {
			add(room{site: s, desk: g.Desk, base: g.base()})
		}
	}
	return mux
}

// answer runs a handler; this is the one place that turns errors into status
// and page.
func (o room) answer(h handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if err := h(w, r); err != nil {
			o.fail(w, r, err)
		}
	})
}

// postTheme keeps the theme in a cookie and goes back to where it was asked.
func (s *site) postTheme(w http.ResponseWriter, r *http.Request) error {
	theme := r.FormValue("theme")
	if !isTheme(theme) {
		return badRequest{"theme " + theme, "expected paper, night or sun"}
	}
	http.SetCookie(w, &http.Cookie{Name: "theme", Value: theme, Path: "/", MaxAge: 400 * 24 * 3600,
		HttpOnly: true, SameSite: http.SameSiteLaxMode})
	back := r.FormValue("back")
	// Only a path of this server: "//elsewhere" and "/\elsewhere" leave it.
	if !strings.HasPrefix(back, "/") || strings.HasPrefix(back, "//") || strings.ContainsAny(back, "\\\r\n") {
		back = "/"
	}
	http.Redirect(w, r, back, http.StatusSeeOther)
	return nil
}

package web_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"

	"legwork/web/gallery"
)

// TestGallery opens every specimen page at both sizes. LEGWORK_SHOTS=DIR keeps
// the pictures, to be looked at.
func TestGallery(t *testing.T) {
	b := browser(t)
	srv := serve(t)
	pages := []string{"/", "/gallery"}
	for _, room := range gallery.Rooms(today) {
		pages = append(pages, room.Pages()...)
	}
	for _, address := range pages {
		themes := []string{"paper"}
		if address == "/gallery/full/jobs/invented-lane/proof" || address == "/gallery/full/jobs/invented-lane/plan" {
			themes = []string{"paper", "night", "sun"}
		}
		for _, theme := range themes {
			v := wide
			v.theme = theme
			t.Run(strings.ReplaceAll(strings.TrimPrefix(address, "/"), "/", "_")+" "+theme, func(t *testing.T) {
				holds(t, open(t, b, srv.URL+address, v), srv.URL, func(complaint string) bool {
					// The browser notes that a page came with an error status;
					// TestProblems holds which pages may.
					return strings.HasPrefix(address, "/gallery/failing/") && strings.HasSuffix(complaint, srv.URL+address) &&
						strings.Contains(complaint, "the server responded with a status of")
				}, theme+strings.ReplaceAll(strings.TrimSuffix(address, "/"), "/", "_"))
			})
		}
	}
}

// holds checks what holds on every page: it complains of nothing but what may
// be said, asks no other server, is no wider than its window on desk and phone,
// and its controls can be hit with a glove.
func holds(t *testing.T, p *tab, base string, may func(complaint string) bool, picture string) {
	t.Helper()
	for _, v := range []view{wide, phone} {
		p.resize(v)
		if o := p.overflow(); o != "" {
			t.Errorf("at %d px wider than its window by %s", v.width, o)
		}
		p.keep(fmt.Sprint(v.width, "-", picture))
		if ask[int](p, openAll) > 0 {
			if o := p.overflow(); o != "" {
				t.Errorf("at %d px with calculations open wider than its window by %s", v.width, o)
			}
			p.keep(fmt.Sprint(v.width, "-", picture, "_open"))
			ask[int](p, closeAll)
		}
	}
	if small := ask[string](p, smallTargets); small != "" {
		t.Errorf("targets lower than 48 px: %s", small)
	}
	if heard := slices.DeleteFunc(p.heard(), may); len(heard) > 0 {
		t.Errorf("the page complains:\n%s", strings.Join(heard, "\n"))
	}
	if out := p.outside(base); len(out) > 0 {
		t.Errorf("requests to other servers: %v", out)
	}
}

const (
	openAll  = `[...document.querySelectorAll("details.finding")].slice(0, 40).map(d => d.open = true).length`
	closeAll = `[...document.querySelectorAll("details.finding")].map(d => d.open = false).length`
)

// smallTargets names controls that a glove would miss. Links inside a sentence
// are left out, as WCAG 2.2 (2.5.8) leaves them out.
const smallTargets = `[...document.querySelectorAll("button, .button, nav a, summary")]
	.filter(e => e.offsetParent && e.getBoundingClientRect().height < 47.5)
	.slice(0, 5).map(e => e.tagName + " " + e.textContent.trim().slice(0, 20)).join(", ")`

// keep saves a picture of the page, at most 6000 px of it, when LEGWORK_SHOTS
// names a folder.
func (b *tab) keep(name string) {
	b.t.Helper()
	dir := os.Getenv("LEGWORK_SHOTS")
	if dir == "" {
		return
	}
	whole := true
	shot := call(b, page.CaptureScreenshot, page.CaptureScreenshotParams{
		CaptureBeyondViewport: &whole,
		Clip: &page.Viewport{
			Width:  ask[float64](b, "innerWidth"),
			Height: min(6000, ask[float64](b, "Math.max(innerHeight, document.documentElement.scrollHeight)")),
			Scale:  1,
		},
	})
	if err := os.WriteFile(filepath.Join(dir, name+".png"), shot.Data, 0o644); err != nil {
		b.t.Fatal(err)
	}
}

// TestTabNotices holds that the checks of TestGallery can fail.
func TestTabNotices(t *testing.T) {
	b := browser(t)
	other := httptest.NewServer(http.NotFoundHandler())
	t.Cleanup(other.Close)
	srv := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		w.Header().Set("Content-Security-Policy", "script-src 'none'")
		_, _ = w.Write([]byte(`<!doctype html><link rel="icon" href="data:,"><script>1</script><img src="` + other.URL + `/x.png"><div style="width:2000px">wide</div><button>low</button>`))
	}))
	t.Cleanup(srv.Close)
	p := open(t, b, srv.URL+"/", phone)
	if heard := strings.Join(p.heard(), "\n"); !strings.Contains(heard, "inline script") {
		t.Errorf("refused inline script not noticed: %q", heard)
	}
	if len(p.outside(srv.URL)) == 0 {
		t.Error("request to another server not noticed")
	}
	if p.overflow() == "" {
		t.Error("overflow not noticed")
	}
	if ask[string](p, smallTargets) == "" {
		t.Error("low button not noticed")
	}
}

package web_test

import (
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"legwork/web"
)

// get asks the site as a browser on this machine would.
func get(t *testing.T, path string, header ...string) *http.Response {
	t.Helper()
	return answer(t, http.MethodGet, path, "", header...)
}

func answer(t *testing.T, method, path, form string, header ...string) *http.Response {
	t.Helper()
	h, err := web.Handler(options())
	if err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest(method, "http://localhost"+path, strings.NewReader(form))
	if form != "" {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

func body(t *testing.T, r *http.Response) string {
	t.Helper()
	b, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// TestProblems holds which status and words each kind of error has.
func TestProblems(t *testing.T) {
	for _, tt := range []struct {
		name, path string
		status     int
		says       string
	}{
		{"no such page", "/nowhere", 404, "nothing at this address"},
		{"no such job", "/jobs/nobody/proof", 404, "nothing at this address"},
		{"no such sheet", "/jobs/invented-lane/files/E-999.svg", 404, "nothing at this address"},
		{"no such format", "/jobs/invented-lane/files/E-601.dwg", 404, "nothing at this address"},
		{"no such asset", "/assets/x.js", 404, "nothing at this address"},
		{"unknown verdict", "/jobs/invented-lane/proof?verdict=fine", 400, "expected stop, ask, look or ok"},
		{"edition in words", "/jobs/invented-lane/proof?edition=new", 400, "expected a year"},
		{"faults in the document", "/gallery/failing/jobs/faulty/plan", 422, "has no unit"},
		{"survey of a faulty document", "/gallery/failing/jobs/faulty/survey", 200, "has no unit"},
		{"the program's fault", "/gallery/failing/jobs/broken/proof", 500, "fault of the program"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := get(t, tt.path)
			if b := body(t, r); r.StatusCode != tt.status || !strings.Contains(b, tt.says) {
				t.Errorf("got %d without %q, want %d:\n%s", r.StatusCode, tt.says, tt.status, b)
			}
		})
	}
}

// TestPolicy holds the content policy on every kind of answer, and that no page
// carries script or style of its own.
func TestPolicy(t *testing.T) {
	for _, path := range []string{"/", "/nowhere", "/jobs/invented-lane/proof", "/jobs/invented-lane/plan", "/jobs/invented-lane/sheets", "/assets/app.js"} {
		r := get(t, path)
		csp := r.Header.Get("Content-Security-Policy")
		for _, want := range []string{"default-src 'self';", "script-src 'self' 'wasm-unsafe-eval';", "style-src 'self';", "img-src 'self' blob: data:;"} {
			if !strings.Contains(csp, want) {
				t.Errorf("%s: policy %q lacks %q", path, csp, want)
			}
		}
		if !strings.HasPrefix(r.Header.Get("Content-Type"), "text/html") {
			continue
		}
		if own := regexp.MustCompile(`<style|\sstyle=|\son[a-z]+=|<script>`).FindString(body(t, r)); own != "" {
			t.Errorf("%s carries %q", path, own)
		}
	}
}

func TestAssetTag(t *testing.T) {
	for _, name := range []string{"app.js", "app.css", "icon.svg", "IBMPlexSansCondensed-Regular.woff2", "OFL.txt"} {
		first := get(t, "/assets/"+name)
		tag := first.Header.Get("ETag")
		if first.StatusCode != 200 || tag == "" || body(t, first) == "" {
			t.Fatalf("%s: status %d, tag %q", name, first.StatusCode, tag)
		}
		again := get(t, "/assets/"+name, "If-None-Match", tag)
		if again.StatusCode != http.StatusNotModified || body(t, again) != "" {
			t.Errorf("%s asked again with its tag: status %d", name, again.StatusCode)
		}
	}
}

func TestTheme(t *testing.T) {
	for _, tt := range []struct {
		name, form string
		header     []string
		status     int
		to         string
	}{
		{"from the page", "theme=sun&back=/jobs/a/plan", []string{"Sec-Fetch-Site", "same-origin"}, 303, "/jobs/a/plan"},
		{"from another site", "theme=sun&back=/", []string{"Sec-Fetch-Site", "cross-site"}, 403, ""},
		{"from another origin", "theme=sun&back=/", []string{"Origin", "https://elsewhere.example"}, 403, ""},
		{"back to another server", "theme=sun&back=//elsewhere.example/", nil, 303, "/"},
		{"back with a backslash", `theme=sun&back=/\elsewhere.example/`, nil, 303, "/"},
		{"back to a full address", "theme=sun&back=https://elsewhere.example/", nil, 303, "/"},
		{"no such theme", "theme=pink", nil, 400, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := answer(t, http.MethodPost, "/theme", tt.form, tt.header...)
			if r.StatusCode != tt.status || r.Header.Get("Location") != tt.to {
				t.Errorf("got %d to %q, want %d to %q", r.StatusCode, r.Header.Get("Location"), tt.status, tt.to)
			}
			if kept := len(r.Cookies()) > 0; kept != (tt.status == 303) {
				t.Errorf("theme kept: %v", kept)
			}
		})
	}
	if b := body(t, get(t, "/", "Cookie", "theme=night")); !strings.Contains(b, `data-theme="night"`) {
		t.Error("the cookie's theme is not on the page")
	}
}

// TestMarkupInNames holds that what people type stays text.
func TestMarkupInNames(t *testing.T) {
	b := body(t, get(t, "/jobs/"+url.PathEscape(`<script>alert(1)</script>`)+"/proof"))
	if strings.Contains(b, "<script>alert") {
		t.Error("markup in an address reached the page")
	}
}

func TestDownloads(t *testing.T) {
	for _, tt := range []struct{ name, mediaType, starts string }{
		{"E-601.svg", "image/svg+xml", "<?xml"},
		{"E-601.pdf", "application/pdf", "%PDF-"},
		{"set.pdf", "application/pdf", "%PDF-"},
	} {
		r := get(t, "/jobs/invented-lane/files/"+tt.name)
		if b := body(t, r); r.StatusCode != 200 || r.Header.Get("Content-Type") != tt.mediaType || !strings.HasPrefix(b, tt.starts) {
			t.Errorf("%s: status %d, type %q, starts %.10q", tt.name, r.StatusCode, r.Header.Get("Content-Type"), b)
		}
	}
}

// TestServe holds the loopback listener, the names it answers to and that it
// stops when told.
func TestServe(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	l, err := web.Listen(ctx, ":0")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(l.Addr().String(), "127.0.0.1:") {
		t.Errorf("an address without a host listens on %s", l.Addr())
	}
	ended := make(chan error, 1)
	go func() { ended <- web.Serve(ctx, l, options()) }()
	for host, want := range map[string]int{"": 200, "localhost": 200, "127.0.0.1:1234": 200, "[::1]": 200, "elsewhere.example": 421, "10.0.0.7": 421} {
		r, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+l.Addr().String()+"/", nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Host = host
		resp, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		_ = resp.Body.Close()
		if resp.StatusCode != want {
			t.Errorf("host %q: got %d, want %d", host, resp.StatusCode, want)
		}
	}
	stop()
	select {
	case err := <-ended:
		if err != nil {
			t.Errorf("stopped with %v", err)
		}
	case <-time.After(10 * time.Second):
		t.Error("did not stop")
	}
	if _, err := web.Listen(t.Context(), "nowhere"); err == nil || !strings.Contains(err.Error(), "expected HOST:PORT") {
		t.Errorf("address without a port: %v", err)
	}
}

package web_test

import (
	"context"
	"fmt"
	"log/slog"
	"net/http/httptest"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"legwork/web"
	"legwork/web/gallery"
)

// today is the day on which the gallery's ages are told.
var today = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

// options is the site over the gallery's full room.
func options() web.Options {
	rooms := gallery.Rooms(today)
	return web.Options{
		Desk:    rooms[0].Desk,
		Gallery: rooms,
		Now:     func() time.Time { return today },
		Log:     slog.New(slog.DiscardHandler),
	}
}

func serve(t *testing.T) *httptest.Server {
	t.Helper()
	h, err := web.Handler(options())
	if err != nil {
		t.Fatal(err)
	}
	s := httptest.NewServer(h)
	t.Cleanup(s.Close)
	return s
}

// lacking skips a test for want of a program, or fails it where everything
// must run.
func lacking(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("LEGWORK_REQUIRE_ALL") == "1" {
		t.Fatal(what)
	}
	t.Skip(what)
}

func TestMain(m *testing.M) {
	code := m.Run()
	endBrowser()
	os.Exit(code)
}

// browser is the one browser of all tests, started for the first that asks;
// each page gets a tab of its own.
func browser(t *testing.T) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		lacking(t, "browser tests not run: no chromium on this machine")
	}
	ctx, err := startBrowser(path)
	if err != nil {
		t.Fatalf("chromium does not start: %v", err)
	}
	return ctx
}

var (
	theBrowser context.Context
	endBrowser = func() {}
)

func startBrowser(path string) (context.Context, error) {
	if theBrowser != nil {
		return theBrowser, nil
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU)
	for _, f := range []string{"disable-quic", "no-first-run", "disable-background-networking", "disable-component-update", "disable-sync"} {
		opts = append(opts, chromedp.Flag(f, true))
	}
	ctx, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	ctx, done := chromedp.NewContext(ctx)
	endBrowser = func() { done(); stop() }
	if err := chromedp.Do(ctx); err != nil {
		return nil, err
	}
	theBrowser = ctx
	return ctx, nil
}

// tab is a page that notes what it complains of and what it asks for.
type tab struct {
	context.Context
	t          *testing.T
	mu         sync.Mutex
	complaints []string
	requests   []string
}

// view is how a page is looked at.
type view struct {
	width, height int64
	theme         string
	noScript      bool
}

var (
	phone = view{width: 390, height: 844, theme: "paper"}
	wide  = view{width: 1440, height: 1000, theme: "paper"}
)

// open opens url in a tab of its own.
func open(t *testing.T, parent context.Context, url string, v view) *tab {
	t.Helper()
	ctx, closeTab := chromedp.NewContext(parent)
	t.Cleanup(closeTab)
	ctx, stop := context.WithTimeout(ctx, time.Minute)
	t.Cleanup(stop)
	b := &tab{Context: ctx, t: t}
	if err := chromedp.Listen(ctx, b.note); err != nil {
		t.Fatal(err)
	}
	call(b, network.Enable, network.EnableParams{})
	call(b, log.Enable, struct{}{})
	call(b, network.SetCookie, network.SetCookieParams{Name: "theme", Value: v.theme, URL: url})
	call(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: v.noScript})
	b.do(chromedp.EmulateViewport(v.width, v.height), chromedp.Navigate(url))
	return b
}

// resize looks at the same page in another window.
func (b *tab) resize(v view) {
	b.t.Helper()
	b.do(chromedp.EmulateViewport(v.width, v.height))
}

func (b *tab) note(ev any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := ev.(type) {
	case *runtime.EventExceptionThrown:
		b.complaints = append(b.complaints, "exception: "+e.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		b.complaints = append(b.complaints, fmt.Sprint("console: ", e.Type))
	case *log.EventEntryAdded:
		b.complaints = append(b.complaints, "log: "+e.Entry.Text+" at "+e.Entry.URL)
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, e.Request.URL)
	}
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// ask evaluates an expression in the page.
func ask[T any](b *tab, js string) T {
	b.t.Helper()
	v, err := chromedp.Run(b, chromedp.Evaluate[T](js))
	if err != nil {
		b.t.Fatalf("%s: %v", js, err)
	}
	return v
}

// heard is what the page complained of so far.
func (b *tab) heard() []string {
	// A round trip: what the page said before it has arrived by then.
	ask[bool](b, "true")
	b.mu.Lock()
	defer b.mu.Unlock()
	return append([]string(nil), b.complaints...)
}

// outside lists requests to other servers than base.
func (b *tab) outside(base string) []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	var out []string
	for _, r := range b.requests {
		if !strings.HasPrefix(r, base+"/") && !strings.HasPrefix(r, "data:") {
			out = append(out, r)
		}
	}
	return out
}

// overflow is by how many pixels the page is wider than its window, with the
// first elements that stick out.
func (b *tab) overflow() string {
	return ask[string](b, `(() => {
		const w = document.documentElement.clientWidth;
		if (document.documentElement.scrollWidth <= w) return "";
		const out = [...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > w + 0.5);
		return (document.documentElement.scrollWidth - w) + " px: " + out.slice(0, 4).map(e => e.tagName + "." + e.getAttribute("class")).join(" ");
	})()`)
}

// call runs a command of the browser's protocol.
func call[P, R any](b *tab, cmd cdp.Command[P, R], params P) R {
	b.t.Helper()
	r, err := chromedp.Call(b, cmd, params)
	if err != nil {
		b.t.Fatal(err)
	}
	return r
}

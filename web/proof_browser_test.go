package web_test

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
)

const proofPage = "/jobs/invented-lane/proof"

// shown counts rows and places in view.
const shown = `[...document.querySelectorAll("details.finding")].filter(e => e.checkVisibility()).length + " rows, " +
	[...document.querySelectorAll("section.place")].filter(e => e.checkVisibility() && e.querySelector("details.finding")).length + " places"`

// TestFilter holds that one verdict can be shown with and without script, and
// with script without loading the page again.
func TestFilter(t *testing.T) {
	b := browser(t)
	srv := serve(t)
	for _, noScript := range []bool{false, true} {
		t.Run(fmt.Sprint("script off: ", noScript), func(t *testing.T) {
			v := wide
			v.noScript = noScript
			p := open(t, b, srv.URL+proofPage, v)
			// The gallery's full job: 9 ok, 1 look, 1 ask, at 6 places.
			if got := ask[string](p, shown); got != "11 rows, 6 places" {
				t.Errorf("all: %s", got)
			}
			ask[bool](p, "window.before = true") // gone when the page is loaded again
			p.do(chromedp.Click(`.filter a[data-verdict="ask"]`))
			if noScript {
				p.do(chromedp.WaitReady(`.filter a[data-verdict="ask"][aria-current]`))
			}
			if got := ask[string](p, shown); got != "1 rows, 1 places" {
				t.Errorf("ask: %s", got)
			}
			if got := ask[string](p, "location.search"); got != "?verdict=ask" {
				t.Errorf("address: %s", got)
			}
			if reloaded := !ask[bool](p, "window.before === true"); reloaded != noScript {
				t.Errorf("loaded again: %v", reloaded)
			}
			if heard := p.heard(); len(heard) > 0 {
				t.Errorf("the page complains: %v", heard)
			}
		})
	}
}

// TestLinkToFinding holds that a link to a finding opens it, even one that the
// filter hides.
func TestLinkToFinding(t *testing.T) {
	b := browser(t)
	srv := serve(t)
	p := open(t, b, srv.URL+proofPage+"?verdict=ok#busbar-120@MP/bus", wide)
	if !ask[bool](p, `(() => { const f = document.getElementById("busbar-120@MP/bus"); return f.open && f.checkVisibility() && f.getBoundingClientRect().top < innerHeight })()`) {
		t.Error("the finding named in the address is not open and in view")
	}
}

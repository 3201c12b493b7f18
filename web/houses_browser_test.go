package web_test

import (
	"bytes"
	"io"
	"net/http"
	"net/http/httptest"
	"path"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"legwork/store"
	"legwork/web"
	"legwork/web/desk"
)

// demonstration serves the invented houses and lists the addresses of their
// jobs by name.
func demonstration(t *testing.T) (base string, jobs map[string]string) {
	t.Helper()
	s, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	if err := desk.MoveIn(t.Context(), s, today); err != nil {
		t.Fatal(err)
	}
	o := options()
	o.Desk, o.Gallery = desk.New(s), nil
	h, err := web.Handler(o)
	if err != nil {
		t.Fatal(err)
	}
	srv := httptest.NewServer(h)
	t.Cleanup(srv.Close)
	all, err := o.Desk.Jobs(t.Context())
	if err != nil || len(all) != 7 {
		t.Fatalf("%d jobs, %v; want the seven houses", len(all), err)
	}
	jobs = map[string]string{}
	for _, j := range all {
		jobs[j.Name] = srv.URL + "/jobs/" + j.ID
	}
	return srv.URL, jobs
}

// house is the address of one job by the beginning of its name.
func house(t *testing.T, jobs map[string]string, name string) string {
	t.Helper()
	for n, address := range jobs {
		if strings.Contains(n, name) {
			return address
		}
	}
	t.Fatalf("no house %s", name)
	return ""
}

func nothing(string) bool { return false }

// TestHousesInTheBrowser opens every page of every invented house at both
// sizes.
func TestHousesInTheBrowser(t *testing.T) {
	base, jobs := demonstration(t)
	b := browser(t)
	t.Run("jobs", func(t *testing.T) { holds(t, open(t, b, base+"/", wide), base, nothing, "houses_jobs") })
	for name, address := range jobs {
		for _, page := range []string{"survey", "plan", "proof", "sheets"} {
			t.Run(name+" "+page, func(t *testing.T) {
				picture := "houses_" + strings.ReplaceAll(name, " ", "-") + "_" + page
				holds(t, open(t, b, address+"/"+page, wide), base, nothing, picture)
			})
		}
	}
}

// TestHouseFilter holds what the filter shows of a house with one stop: one
// branch of it is center-fed with the PV breaker beside the main (S4).
func TestHouseFilter(t *testing.T) {
	_, jobs := demonstration(t)
	p := open(t, browser(t), house(t, jobs, "Saltgrass")+"/proof", wide)
	p.do(chromedp.Click(`.filter a[data-verdict="stop"]`))
	if got := ask[string](p, shown); got != "1 rows, 1 places" {
		t.Errorf("stop: %s", got)
	}
	if got := ask[string](p, `[...document.querySelectorAll("details.finding")].filter(e => e.checkVisibility())[0].id`); !strings.HasPrefix(got, "busbar-end@MP/") {
		t.Errorf("the finding shown is %s", got)
	}
}

// TestCompareEditions follows the link to another edition and back.
func TestCompareEditions(t *testing.T) {
	_, jobs := demonstration(t)
	p := open(t, browser(t), house(t, jobs, "Larkbarrow")+"/proof", wide)
	for _, step := range []struct{ link, edition, search string }{{"2017", "2017", "?edition=2017"}, {"2023", "2023", ""}} {
		p.do(chromedp.Click(`.title .aside a[data-edition="`+step.link+`"]`), chromedp.WaitReady(`.title .aside b[data-edition="`+step.edition+`"]`))
		if got := ask[string](p, "location.search"); got != step.search {
			t.Errorf("edition %s is at %q, want %q", step.edition, got, step.search)
		}
	}
	if heard := p.heard(); len(heard) > 0 {
		t.Errorf("the page complains: %v", heard)
	}
}

// TestHouseDownloads follows every download link of a house's sheets.
func TestHouseDownloads(t *testing.T) {
	base, jobs := demonstration(t)
	p := open(t, browser(t), house(t, jobs, "Quillfeather")+"/sheets", wide)
	links := ask[[]string](p, `[...document.querySelectorAll("a[download]")].map(a => a.href)`)
	// The set, and SVG and PDF of at least cover, one-line diagram, calculations.
	if len(links) < 7 {
		t.Fatalf("%d downloads: %v", len(links), links)
	}
	for _, link := range links {
		if !strings.HasPrefix(link, base+"/") {
			t.Errorf("%s leads away", link)
			continue
		}
		r, err := http.Get(link)
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(r.Body)
		_ = r.Body.Close()
		begins := map[string]string{".pdf": "%PDF-", ".svg": "<?xml"}[path.Ext(link)]
		if err != nil || r.StatusCode != http.StatusOK || begins == "" || !bytes.HasPrefix(got, []byte(begins)) {
			t.Errorf("%s: status %d, %v, begins %.10q", link, r.StatusCode, err, got)
		}
	}
}

// TestGivenLeadsToItsLine follows a given fact of a calculation to the line of
// the document that states it.
func TestGivenLeadsToItsLine(t *testing.T) {
	_, jobs := demonstration(t)
	p := open(t, browser(t), house(t, jobs, "Quillfeather")+"/proof#busbar-120@MP/bus", wide)
	p.do(chromedp.Click(`details[open] .from a[title="panels.MP.busbar"]`), chromedp.WaitReady(`.source li:target`))
	if got := ask[string](p, `document.querySelector(".source li:target").textContent.trim()`); got != "busbar: 200 A" {
		t.Errorf("led to the line %q", got)
	}
	if !ask[bool](p, `(() => { const l = document.querySelector(".source li:target"); const r = l.getBoundingClientRect(); return l.checkVisibility() && r.top >= 0 && r.bottom <= innerHeight })()`) {
		t.Error("the line is not in view")
	}
}

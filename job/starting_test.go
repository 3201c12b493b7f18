package job_test

import (
	"regexp"
	"strings"
	"testing"

	"legwork/job"
)

func TestStartingParsesWithNothingKnown(t *testing.T) {
	doc, err := job.Parse("new.yaml", job.Starting("7 Elm Street"))
	if err != nil {
		t.Fatal(err)
	}
	if doc.Name != "7 Elm Street" || doc.Version != 1 {
		t.Errorf("name %q, version %d", doc.Name, doc.Version)
	}
	for path, known := range map[string]bool{
		"site.hottest": doc.Site.Hottest.Known, "service.system": doc.Service.System.Known,
		"panels[0].busbar": doc.Panels[0].Busbar.Known, "modules[0].power": doc.Equipment.Modules[0].Power.Known,
	} {
		if known {
			t.Errorf("%s is known in a document that nobody filled in", path)
		}
	}
	if len(doc.Planes)+len(doc.Runs)+len(doc.Disconnects)+len(doc.Decisions.Branches) != 0 {
		t.Error("examples count as facts")
	}
}

func TestStartingTakesAnyName(t *testing.T) {
	for _, name := range []string{`Smith: "the barn" # 2`, "012", "two\nlines", "?", "Überlingen", `back\slash`} {
		doc, err := job.Parse("new.yaml", job.Starting(name))
		if name == "?" { // a name cannot be unknown
			if err == nil {
				t.Error("a job named ?")
			}
			continue
		}
		if err != nil || doc.Name != name {
			t.Errorf("%q: %v, %v", name, doc, err)
		}
	}
}

// TestStartingExamples uncomments every example: together they are a whole job.
func TestStartingExamples(t *testing.T) {
	example := regexp.MustCompile(`^# ( *(?:- )?[a-zA-Z0-9_]+:.*)$`)
	feeder := regexp.MustCompile(`^ +(fed_from:|panel: MP +# id of the panel that feeds it|spaces: .*feeding breaker|run: feeder)`)
	var lines []string
	for _, l := range strings.Split(string(job.Starting("7 Elm Street")), "\n") {
		if m := example.FindStringSubmatch(l); m != nil {
			l = m[1]
		}
		if feeder.MatchString(l) { // only for a second panel
			continue
		}
		lines = append(lines, l)
	}
	// The example branch lands on a combiner and the output run is not among the
	// examples: one run stands for all.
	text := strings.Replace(strings.Join(lines, "\n"), "pv_output", "home", -1)
	doc, err := job.Parse("new.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if len(doc.Planes) != 1 || len(doc.Runs) != 1 || len(doc.Decisions.Branches) != 1 || len(doc.Meter.Channels) != 1 || len(doc.Panels[0].Breakers) != 1 {
		t.Errorf("not every example was uncommented: %+v", doc)
	}
}

// TestEveryKeyHasAMeaning keeps the starting document and the schema speaking.
func TestEveryKeyHasAMeaning(t *testing.T) {
	keyed := regexp.MustCompile(`^#? *(?:- )?([a-zA-Z0-9_]+):`)
	for i, l := range strings.Split(string(job.Starting("x")), "\n") {
		m := keyed.FindStringSubmatch(l)
		if m == nil || m[1] == "legwork" || m[1] == "name" && i < 8 {
			continue
		}
		if !strings.Contains(l, " # ") {
			t.Errorf("line %d: %s has no meaning", i+1, m[1])
		}
	}
}

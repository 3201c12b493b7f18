package job_test

import (
	"strings"
	"testing"

	"legwork/internal/houses"
	"legwork/job"
)

// TestGridOfAPlane writes splits and obstructions into an invented house, right
// and wrong.
func TestGridOfAPlane(t *testing.T) {
	src := string(houses.Get(t, "quillfeather").Bytes)
	grid := func(lines string) string {
		return strings.Replace(src, "      gap: 1 in # invented\n", "      gap: 1 in # invented\n"+lines, 1)
	}
	chimney := "    obstructions:\n      - {id: chimney, from_left: 9 ft, from_eave: 6 ft, width: 3 ft, height: 2 ft}\n"
	for name, c := range map[string]struct{ doc, fault string }{
		"split between columns":    {grid("      breaks: [{after: c4, width: 3 ft}]\n"), ""},
		"split between rows":       {grid("      breaks: [{after: r1, width: 3 ft}]\n"), ""},
		"split after the last row": {grid("      breaks: [{after: r2, width: 3 ft}]\n"), "planes[0].grid.breaks[0].after"},
		"split nowhere":            {grid("      breaks: [{after: 4, width: 3 ft}]\n"), "planes[0].grid.breaks[0].after"},
		"chimney":                  {grid(chimney), ""},
		"two chimneys of one id":   {grid(chimney + strings.SplitN(chimney, "\n", 2)[1]), "planes[0].obstructions[1].id"},
		"cable from the box":       {strings.Replace(src, "      feed: end\n", "      feed: end\n      jumpers: [{after: roof_box, length: 9 ft}]\n", 1), ""},
		"cable from another box":   {strings.Replace(src, "      feed: end\n", "      feed: end\n      jumpers: [{after: other_box, length: 9 ft}]\n", 1), "decisions.branches[0].jumpers[0].after"},
	} {
		_, err := job.Parse("house.yaml", []byte(c.doc))
		switch {
		case c.fault == "" && err != nil:
			t.Errorf("%s: %v", name, err)
		case c.fault != "" && (err == nil || !strings.Contains(err.Error(), c.fault)):
			t.Errorf("%s: %v, want a fault at %s", name, err, c.fault)
		}
	}
}

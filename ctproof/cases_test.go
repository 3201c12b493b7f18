package ctproof

import (
	"encoding/csv"
	"math/cmplx"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

func casesFile(t testing.TB) (string, []byte) {
	t.Helper()
	dir := os.Getenv("LEGWORK_REFERENCE")
	if dir == "" {
		if os.Getenv("LEGWORK_REQUIRE_ALL") != "" {
			t.Fatal("LEGWORK_REFERENCE is not set")
		}
		t.Skip("LEGWORK_REFERENCE is not set: the metering cases were not read")
	}
	name := filepath.Join(dir, "metering", "cases.csv")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return name, text
}

var (
	channelText = regexp.MustCompile(`([GP][12])\[([^\]]*)\]`)
	factorText  = regexp.MustCompile(`(\w+)=([+-][0-9.]+)(?:([+-][0-9.]+)j)?`)
)

// truth reads the response column.
func truth(text string) map[string]map[string]complex128 {
	out := map[string]map[string]complex128{}
	for _, m := range channelText.FindAllStringSubmatch(text, -1) {
		out[m[1]] = map[string]complex128{}
		for _, f := range factorText.FindAllStringSubmatch(m[2], -1) {
			re, _ := strconv.ParseFloat(f[2], 64)
			im := 0.
			if f[3] != "" {
				im, _ = strconv.ParseFloat(f[3], 64)
			}
			out[m[1]][f[1]] = complex(re, im)
		}
	}
	return out
}

// agrees says that a class answers as the truth does, within 0.05.
func agrees(c Class, want map[string]map[string]complex128) bool {
	for channel, row := range c.Response {
		for source, k := range row {
			if cmplx.Abs(complex128(k)-want[channel][source]) > .05 {
				return false
			}
		}
	}
	return true
}

func rank(s Side, want map[string]map[string]complex128) int {
	for i, c := range s.Classes {
		if agrees(c, want) {
			return i
		}
	}
	return -1
}

// Every case of the reference: the class on top has the truth's response, or
// stands among those named while a named next state can still split them.
func TestCasesOfTheReference(t *testing.T) {
	name, text := casesFile(t)
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, n := range rows[0] {
		column[n] = i
	}
	response := map[string]string{}
	faults := map[string]string{}
	for _, r := range rows[1:] {
		id := r[column["case"]]
		if x := r[column["response"]]; x != "" {
			response[id] = x
		}
		faults[id] = r[column["fault_grid"]] + ", " + r[column["fault_production"]]
	}
	cases, err := ReadCSV(name, text)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cases {
		t.Run(c.Name+" "+faults[c.Name], func(t *testing.T) {
			a, err := Prove(c)
			if err != nil {
				t.Fatal(err)
			}
			want := truth(response[c.Name])
			for side, s := range map[string]Side{"grid": a.Grid, "production": a.Production} {
				r := rank(s, want)
				t.Logf("%s: %s, truth at %d, top %.4f %v", side, s.Verdict, r, s.Classes[0].P, s.Classes[0].Faults)
				switch {
				case s.Verdict == Contradiction:
					t.Errorf("%s: contradiction", side)
				case r == 0:
				case r > 0 && s.Verdict == Open && a.Next != nil:
				default:
					t.Errorf("%s: the truth stands at %d, verdict %s, next %+v, top %v", side, r, s.Verdict, a.Next, s.Classes[0].Faults)
				}
			}
			switch c.Name {
			case "C058", "C059", "C060", "C061":
				if a.Grid.Verdict != Open || a.Next == nil {
					t.Errorf("got %s, next %+v; the evidence is too little, want open and a next state", a.Grid.Verdict, a.Next)
				}
			}
		})
	}
	if len(cases) != 62 {
		t.Errorf("%d cases, want 62", len(cases))
	}
}

package ctproof

import (
	"errors"
	"os"
	"strings"
	"testing"

	"legwork/where"
)

const head = "case,service,arrangement,branches,sky,state,told_known_L1_W,told_known_L1_var,told_pv_b1_W,G1_V,G1_W,G1_var,G2_V,G2_W,G2_var,P1_V,P1_W,P1_var,P2_V,P2_W,P2_var\n"

func TestReadCSV(t *testing.T) {
	cases, err := ReadCSV("r.csv", []byte(head+
		"oak,split,grid2+prod2,1,clear,S0,0,0,0,120.8,436,35,120.6,735,55,120.8,0,0,120.5,0,0\n"+
		"oak,split,grid2+prod2,1,clear,S1,1500,0,,119.8,1946,41,120.7,774,54,119.7,0,0,120.7,4,0\n"+
		"oak,split,grid2+prod2,1,clear,B1,,,1900,120.7,-583,80,120.6,-165,84,120.6,963,-27,120.5,956,\n"+
		"elm,y208,grid2,2,,B12+S1,1200,,,120,100,5,120,200,,,,,,,\n"))
	if err != nil {
		t.Fatal(err)
	}
	if len(cases) != 2 || len(cases[0].States) != 3 || cases[1].Site.Windows != 0 || cases[1].Site.Sky != "" {
		t.Fatalf("%+v", cases)
	}
	b1 := cases[0].States[2]
	if len(b1.On) != 1 || b1.Expected[0].Value != 1900 || b1.L1.W != 0 || b1.Channels[3].VAR.Known {
		t.Errorf("B1: %+v", b1)
	}
	s1 := cases[1].States[0]
	if len(s1.On) != 2 || s1.L1.W != 1200 || s1.L1.VAR.Known || s1.Expected[0].Known || len(s1.Channels) != 2 {
		t.Errorf("B12+S1: %+v", s1)
	}
	if cases[1].Lines[0] != 5 {
		t.Errorf("line %d, want 5", cases[1].Lines[0])
	}
}

func TestReadCSVErrors(t *testing.T) {
	row := "oak,split,grid2+prod2,1,clear,S0,0,0,0,120.8,436,35,120.6,735,55,120.8,0,0,120.5,0,0\n"
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "r.csv: an empty file"},
		{"no rows", head, "r.csv:1: no rows"},
		{"column mistyped", strings.Replace(head, "G1_W", "G1_w", 1) + row, `"G1_w"`},
		{"no state column", "case,service,arrangement,branches\n", "no column state"},
		{"column twice", strings.Replace(head, "G1_var", "G1_W", 1) + row, "a second time"},
		{"unit in a cell", head + strings.Replace(row, "436", "436 W", 1), `r.csv:2: G1_W: "436 W"`},
		{"service", head + strings.Replace(row, "split", "delta", 1), `r.csv:2: service: "delta"`},
		{"arrangement", head + strings.Replace(row, "grid2+prod2", "grid3", 1), "arrangement"},
		{"branches", head + strings.Replace(row, ",1,", ",0,", 1), "a whole number from 1 to 9"},
		{"branch not there", head + strings.Replace(row, "S0", "B2", 1), `state: "B2"`},
		{"unknown state", head + strings.Replace(row, "S0", "PV", 1), `state: "PV"`},
		{"load without its watts", head + strings.Replace(row, "S0", "S1", 1), "told_known_L1_W"},
		{"load in the wrong state", head + strings.Replace(row, "S0,0", "S0,1500", 1), "told_known_L1_W"},
		{"no expectation is empty, not zero", head + strings.Replace(row, "S0", "B1", 1), "told_pv_b1_W"},
		{"nothing read", head + "oak,split,grid2+prod2,1,clear,S0,0,0,0,120,,,120,,,120,,,120,,\n", "no watts and no vars"},
		{"cases mixed", head + row + strings.Replace(row, "oak", "elm", 1) + row, "again"},
		{"site changes", head + row + strings.Replace(row, "clear", "dull", 1), "another site"},
		{"short row", head + "oak,split\n", "r.csv:2"},
		{"two faults, both told", head + strings.Replace(strings.Replace(row, "436", "x", 1), "735", "y", 1), "G2_W"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadCSV("r.csv", []byte(c.text))
			var at where.Error
			if err == nil || !errors.As(err, &at) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want it to say %s", err, c.want)
			}
		})
	}
}

// Columns of truth and answers are not read: the same cases without them prove the
// same. That every column is documented is checked by name.
func TestEveryColumnIsDocumented(t *testing.T) {
	text, err := os.ReadFile("../docs/formats/ctproof-readings.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range columns {
		name := c
		for _, id := range []string{"G1_", "G2_", "P1_", "P2_"} {
			if rest, ok := strings.CutPrefix(c, id); ok {
				name = "_" + rest + "`"
			}
		}
		if !strings.Contains(string(text), name) {
			t.Errorf("column %s is not documented", c)
		}
	}
}

// Whatever comes, there is an answer or an error with a place, and no panic.
func FuzzReadCSV(f *testing.F) {
	f.Add([]byte(head + "oak,split,grid2+prod2,1,clear,S0,0,0,0,120.8,436,35,120.6,735,55,120.8,0,0,120.5,0,0\n"))
	f.Add([]byte(head + "oak,y208,grid2+prod1,2,,B12+S1,1500,,900,0,-1e6,0,120,999999,1,240,0,0,,,\n"))
	f.Add([]byte("case,service,arrangement,branches,state,G1_W\n\"a\nb\",split,grid2,9,B987654321+S0,1\n"))
	f.Add([]byte("\xff,\"\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		cases, err := ReadCSV("f.csv", text)
		if err != nil {
			var at where.Error
			if !errors.As(err, &at) || at.Came == "" {
				t.Fatalf("%T: %v", err, err)
			}
			return
		}
		for _, c := range cases[:min(2, len(cases))] {
			if c.Site.Branches > 3 || len(c.States) > 4 {
				continue // slow, and no different
			}
			a, err := Prove(c)
			if err != nil {
				var at where.Error
				if !errors.As(err, &at) {
					t.Fatalf("%T: %v", err, err)
				}
				continue
			}
			for _, s := range []Side{a.Grid, a.Production} {
				for _, k := range s.Classes {
					if k.P != k.P || k.P < 0 || k.P > 1 {
						t.Fatalf("probability %v", k.P)
					}
				}
			}
		}
	})
}

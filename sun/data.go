package sun

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/*.csv
var data embed.FS

// records reads an embedded table below its heading. A broken one is our own
// bug, hence the panic.
func records(name string) [][]string {
	f, err := data.Open("data/" + name + ".csv")
	if err != nil {
		panic(err)
	}
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic(fmt.Sprintf("sun: data/%s.csv: %v", name, err))
	}
	return rows[1:]
}

func number(cell string) float64 {
	v, err := strconv.ParseFloat(strings.TrimSpace(cell), 64)
	if err != nil {
		panic(fmt.Sprintf("sun: embedded table: %v", err))
	}
	return v
}

// term is A·cos(B + C·t).
type term struct{ a, b, c float64 }

// earthTerms holds the series L0 … R4 of table A4.2 by name.
var earthTerms = sync.OnceValue(func() map[string][]term {
	out := map[string][]term{}
	for _, r := range records("earth") {
		out[r[0]] = append(out[r[0]], term{number(r[1]), number(r[2]), number(r[3])})
	}
	return out
})

// nutationTerm is one row of table A4.3.
type nutationTerm struct {
	y          [5]float64
	a, b, c, d float64
}

var nutationTerms = sync.OnceValue(func() []nutationTerm {
	var out []nutationTerm
	for _, r := range records("nutation") {
		var t nutationTerm
		for i := range t.y {
			t.y[i] = number(r[i])
		}
		t.a, t.b, t.c, t.d = number(r[5]), number(r[6]), number(r[7]), number(r[8])
		out = append(out, t)
	}
	return out
})

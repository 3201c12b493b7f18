package tables

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"legwork/working"
)

//go:embed data/*.csv
var data embed.FS

// all holds every table by name. A broken file is our own bug, hence a panic.
var all = sync.OnceValue(func() map[string]*Table {
	files, err := data.ReadDir("data")
	if err != nil {
		panic(err)
	}
	tables := make(map[string]*Table, len(files))
	for _, f := range files {
		name := strings.TrimSuffix(f.Name(), ".csv")
		text, err := data.ReadFile("data/" + f.Name())
		if err != nil {
			panic(err)
		}
		t, err := parse(name, string(text))
		if err != nil {
			panic(fmt.Sprintf("tables: data/%s: %v", f.Name(), err))
		}
		tables[name] = t
	}
	return tables
})

// table returns one of our own tables.
func table(name string) *Table {
	t, ok := all()[name]
	if !ok {
		panic("tables: no data/" + name + ".csv")
	}
	return t
}

// parse reads the head of comment lines and the rows below it.
func parse(name, text string) (*Table, error) {
	t := &Table{Name: name, Clauses: working.Clauses{}}
	for strings.HasPrefix(text, "#") {
		line, rest, _ := strings.Cut(text, "\n")
		if err := t.head(line); err != nil {
			return nil, err
		}
		text = rest
	}
	if t.Title == "" || t.Source == "" || t.Status == "" {
		return nil, fmt.Errorf("the head lacks one of what, source, status")
	}
	records, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	if len(records) < 2 {
		return nil, fmt.Errorf("no rows")
	}
	t.Header, t.Rows = records[0], records[1:]
	return t, nil
}

// head reads one comment line: "# what: …", "# clause 2020: 310.16".
func (t *Table) head(line string) error {
	key, value, ok := strings.Cut(strings.TrimPrefix(line, "#"), ":")
	key, value = strings.TrimSpace(key), strings.TrimSpace(value)
	if !ok || value == "" {
		return fmt.Errorf("head line %q has no value", line)
	}
	switch key {
	case "what":
		t.Title = value
	case "source":
		t.Source = value
	case "status":
		t.Status = value
	case "mark":
		t.Mark = value
	case "note":
		t.Notes = append(t.Notes, value)
	case "clause always":
		t.Always = value
	default:
		year, ok := strings.CutPrefix(key, "clause ")
		e, err := strconv.Atoi(year)
		if !ok || err != nil {
			return fmt.Errorf("head line %q has an unknown key", line)
		}
		t.Clauses[working.Edition(e)] = value
	}
	return nil
}

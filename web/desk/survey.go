package desk

import (
	"encoding"
	"fmt"
	"reflect"
	"strings"

	"legwork/job"
	"legwork/quantity"
	"legwork/web"
	"legwork/where"
	"legwork/working"
)

// survey lists the facts of a document from the roof to the street. asked holds
// the facts that something waits for.
func survey(doc *job.Document, asked map[string]working.Missing) []web.Group {
	s := &surveyor{asked: asked, lines: strings.Split(string(doc.Source), "\n")}
	s.group("", "site", "site", doc.Site)
	for i := range doc.Planes {
		p := &doc.Planes[i]
		s.group("roof", "roof plane "+p.ID, "planes."+p.ID, *p)
		s.add(web.Fact{Means: "modules", Value: fmt.Sprintf("%d × %s in %d rows of %d, %s", p.Grid.Rows*p.Grid.Columns-len(p.Grid.Omit), p.Module, p.Grid.Rows, p.Grid.Columns, p.Grid.Orientation), Known: true})
		s.add(web.Fact{Means: "microinverter", Value: p.Inverter, Known: true})
	}
	e := doc.Equipment
	for i := range e.Modules {
		s.group("roof", "module "+e.Modules[i].ID+", nameplate", "equipment.modules."+e.Modules[i].ID, e.Modules[i])
	}
	for i := range e.Inverters {
		s.group("roof", "microinverter "+e.Inverters[i].ID+", nameplate", "equipment.inverters."+e.Inverters[i].ID, e.Inverters[i])
	}
	for i := range e.Trunks {
		s.group("roof", "trunk cable "+e.Trunks[i].ID, "equipment.trunks."+e.Trunks[i].ID, e.Trunks[i])
	}
	for i := range doc.JunctionBoxes {
		s.named(doc.JunctionBoxes[i].ID, doc.JunctionBoxes[i].Name, "junction_boxes", doc.JunctionBoxes[i])
	}
	for i := range doc.Runs {
		s.named(doc.Runs[i].ID, doc.Runs[i].Name, "runs", doc.Runs[i])
	}
	for i := range doc.Combiners {
		c := &doc.Combiners[i]
		s.named(c.ID, c.Name, "combiners", *c)
		for k := range e.Combiners {
			if e.Combiners[k].ID == c.Type {
				s.facts("equipment.combiners."+c.Type, "", reflect.ValueOf(e.Combiners[k]))
			}
		}
	}
	for i := range doc.Disconnects {
		s.named(doc.Disconnects[i].ID, doc.Disconnects[i].Name, "disconnects", doc.Disconnects[i])
	}
	for i := range doc.Panels {
		s.named(doc.Panels[i].ID, doc.Panels[i].Name, "panels", doc.Panels[i])
	}
	for i := range doc.Sources {
		x := &doc.Sources[i]
		s.group(x.ID, "source that is there, "+x.ID, "sources."+x.ID, *x)
	}
	s.group("service", "service", "service", doc.Service)
	s.group("", "current transformers", "meter", doc.Meter)
	s.group("", "people", "people", doc.People)
	return s.groups
}

// surveyor gathers groups; facts go to the last one.
type surveyor struct {
	asked  map[string]working.Missing
	lines  []string // of the document
	groups []web.Group
}

func (s *surveyor) named(id string, name job.Fact[string], kind string, v any) {
	title := id
	if name.Known {
		title = name.Value
	}
	s.group(id, title, kind+"."+id, v)
}

// group begins a group with the facts of v; one without any is dropped.
func (s *surveyor) group(place, title, path string, v any) {
	if n := len(s.groups); n > 0 && len(s.groups[n-1].Facts) == 0 {
		s.groups = s.groups[:n-1]
	}
	s.groups = append(s.groups, web.Group{Place: place, Title: title})
	s.facts(path, "", reflect.ValueOf(v))
}

func (s *surveyor) add(f web.Fact) {
	g := &s.groups[len(s.groups)-1]
	g.Facts = append(g.Facts, f)
}

// stated is a fact of the document, whatever its type.
type stated struct {
	path, key string
	says      string
	value     any
	known     bool
	open      bool // written "?"
	needed    bool // its key may not be left out
	at        where.Pos
}

// facts walks a struct of the document by the tags that its form is written
// from: yaml the key, doc what it means.
func (s *surveyor) facts(path, within string, v reflect.Value) {
	for i := range v.NumField() {
		f, tag := v.Type().Field(i), v.Type().Field(i).Tag
		key, options, _ := strings.Cut(tag.Get("yaml"), ",")
		name := strings.ReplaceAll(key, "_", " ")
		x, at := v.Field(i), path+"."+key
		switch known := fieldOf(x, "Known"); {
		case known.IsValid():
			if key == "name" && within == "" {
				continue // the group's title
			}
			s.fact(within, stated{path: at, key: name, says: tag.Get("doc"), value: x.FieldByName("Value").Interface(), known: known.Bool(),
				open: x.FieldByName("Open").Bool(), needed: options != "omitempty", at: x.FieldByName("At").Interface().(where.Pos)})
		case f.Type.Kind() == reflect.Pointer && !x.IsNil():
			s.facts(at, within+name+", ", x.Elem())
		case f.Type.Kind() == reflect.Struct:
			s.facts(at, within+name+", ", x)
		case f.Type.Kind() == reflect.Slice && f.Type.Elem().Kind() == reflect.Struct:
			for k := range x.Len() {
				s.item(fmt.Sprintf("%s[%d]", at, k), itemName(name, k, x), x.Index(k))
			}
		}
	}
}

// fieldOf is a field of a struct, invalid where there is none.
func fieldOf(v reflect.Value, name string) reflect.Value {
	if v.Kind() != reflect.Struct {
		return reflect.Value{}
	}
	return v.FieldByName(name)
}

// fact adds a row. What may be left out and is, and nothing waits for, is no
// row.
func (s *surveyor) fact(within string, f stated) {
	m, waited := s.asked[f.path]
	if !f.known && !f.open && !f.needed && !waited {
		return
	}
	key := f.key
	if within != "" && strings.HasSuffix(within, key+", ") { // fault current, current
		key = ""
		within = strings.TrimSuffix(within, ", ")
	}
	if strings.HasSuffix(within, " "+key+", ") {
		within, key = strings.TrimSuffix(within, ", "), ""
	}
	row := web.Fact{Means: within + key, Says: f.says, Known: f.known, From: working.Origin{Kind: working.Given, Path: f.path, At: f.at}}
	if f.known {
		row.Value = s.shown(f.value, f.at)
	} else {
		row.Find = m.Find
	}
	s.add(row)
}

// itemName is what an item of a list is called.
func itemName(list string, k int, items reflect.Value) string {
	x := items.Index(k)
	if id := fieldOf(x, "ID"); id.IsValid() {
		return id.String()
	}
	if sp, ok := x.Interface().(job.Breaker); ok {
		return "breaker " + spaces(sp.Spaces)
	}
	if items.Len() == 1 {
		return "whole way"
	}
	return fmt.Sprintf("part %d of %d", k+1, items.Len())
}

// item adds one row of what is known of a list's item, and one for each fact of
// it that is missing.
func (s *surveyor) item(path, name string, v reflect.Value) {
	var known []string
	row := web.Fact{Means: name, Known: true, From: working.Origin{Kind: working.Given, Path: path}}
	at := len(s.groups[len(s.groups)-1].Facts)
	s.add(row)
	for i := range v.NumField() {
		x, tag := v.Field(i), v.Type().Field(i).Tag
		isKnown := fieldOf(x, "Known")
		if !isKnown.IsValid() {
			continue
		}
		key, options, _ := strings.Cut(tag.Get("yaml"), ",")
		pos := x.FieldByName("At").Interface().(where.Pos)
		if row.From.At.Line == 0 {
			row.From.At = pos
		}
		if isKnown.Bool() {
			if said := s.inRow(key, x.FieldByName("Value").Interface(), pos); said != "" {
				known = append(known, said)
			}
			continue
		}
		s.fact(name+", ", stated{path: path + "." + key, key: strings.ReplaceAll(key, "_", " "), says: tag.Get("doc"),
			open: x.FieldByName("Open").Bool(), needed: options != "omitempty", at: pos})
	}
	facts := &s.groups[len(s.groups)-1].Facts
	row.Value = strings.Join(known, ", ")
	if (*facts)[at] = row; row.Value == "" {
		*facts = append((*facts)[:at], (*facts)[at+1:]...)
	}
}

// inRow words a value that stands among others.
func (s *surveyor) inRow(key string, v any, at where.Pos) string {
	said := s.shown(v, at)
	switch key {
	case "height":
		return said + " above the roof"
	case "arrow":
		return "arrow " + said
	case "sun":
		if v == true {
			return "in the sun"
		}
		return ""
	}
	return said
}

// shown prints a value: a quantity in the words that the document has for it,
// so that nothing stated is rounded or turned into other units.
func (s *surveyor) shown(v any, at where.Pos) string {
	if _, ok := v.(quantity.Quantity); ok && at.Line > 0 && at.Line <= len(s.lines) {
		line := []rune(s.lines[at.Line-1])
		written := strings.Trim(upTo(string(line[min(at.Col-1, len(line)):]), ",}#"), " \t\r\"'")
		back := reflect.New(reflect.TypeOf(v))
		if t, ok := back.Interface().(encoding.TextUnmarshaler); ok && t.UnmarshalText([]byte(written)) == nil && back.Elem().Interface() == v {
			return written
		}
	}
	return working.State(v, "", working.Origin{}).String()
}

// upTo is s before the first of some letters.
func upTo(s, letters string) string {
	if i := strings.IndexAny(s, letters); i >= 0 {
		return s[:i]
	}
	return s
}

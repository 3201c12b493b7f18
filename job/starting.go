package job

import (
	"fmt"
	"reflect"
	"strings"
)

// Starting is a commented document for a new job: every fact stands as "?" with
// what it means, and parses as it is. A list whose items cannot be unknown stands
// as an example behind "# ", ready to be uncommented.
func Starting(name string) []byte {
	w := &starter{}
	w.line(0, "# A job. Replace each \"?\" by what you know; what stays \"?\" is asked for later.", "")
	w.line(0, "# Every quantity carries its unit: 180 ft, 12 AWG, 35 in-lb, 94 F, 6/12, 1.8 kA.", "")
	w.line(0, "# Lines that begin with \"#\" and a key are examples: remove the # to use them.", "")
	w.line(0, "", "")
	w.line(0, fmt.Sprintf("legwork: %d", Version), "")
	w.line(0, "name: "+scalar(name), "")
	for _, f := range fieldsOf(reflect.TypeFor[Document]()) {
		switch f.key {
		case "legwork", "name", "id", "invented":
			continue
		}
		w.line(0, "", "")
		w.key(0, f)
	}
	return []byte(w.String())
}

// starter collects the lines of a starting document.
type starter struct {
	lines    []startingLine
	examples bool // writing what stands behind "# "
}

type startingLine struct {
	example bool
	depth   int
	text    string
	doc     string
}

// column is where meanings begin, when the line is short enough.
const column = 36

// String aligns the meanings, so that values read down the page.
func (w *starter) String() string {
	var b strings.Builder
	for _, l := range w.lines {
		s := indent(l.depth, l.text)
		if l.example {
			s = "# " + s
		}
		if l.doc != "" {
			s = fmt.Sprintf("%-*s # %s", column, s, l.doc)
		}
		b.WriteString(strings.TrimRight(s, " ") + "\n")
	}
	return b.String()
}

func (w *starter) line(depth int, text, doc string) {
	w.lines = append(w.lines, startingLine{w.examples, depth, text, doc})
}

func (w *starter) key(depth int, f field) {
	inner := factOf(f.typ)
	for inner.Kind() == reflect.Pointer {
		inner = inner.Elem()
	}
	isList := inner.Kind() == reflect.Slice && inner.Elem().Kind() == reflect.Struct
	was := w.examples
	switch {
	case f.absent, isList && !canBeUnknown(inner.Elem()), f.typ.Kind() == reflect.Pointer:
		w.examples = true
	case !isFact(f.typ) && !f.required() && !isList && inner.Kind() != reflect.Struct:
		w.examples = true // no value of a plain word or list means unknown
	}
	switch {
	case isList:
		w.line(depth, f.key+":", f.doc)
		w.item(depth+2, inner.Elem())
	case isFact(f.typ) && (!w.examples || f.eg == ""):
		w.line(depth, f.key+": "+scalar(unknown), w.meaning(f, inner))
	case inner.Kind() == reflect.Struct && !isText(inner):
		w.line(depth, f.key+":", f.doc)
		w.keys(depth+2, inner)
	default:
		w.line(depth, f.key+": "+f.eg, w.meaning(f, inner))
	}
	w.examples = was
}

func (w *starter) keys(depth int, t reflect.Type) {
	for _, f := range fieldsOf(t) {
		w.key(depth, f)
	}
}

// item writes one item of a list; its first key shares the line of the dash.
func (w *starter) item(depth int, t reflect.Type) {
	first := len(w.lines)
	w.keys(depth+2, t)
	w.lines[first].depth, w.lines[first].text = depth, "- "+w.lines[first].text
}

// canBeUnknown reports whether an item of a list can stand with nothing known
// but its id: a panel and the nameplates can, a plane cannot.
func canBeUnknown(t reflect.Type) bool {
	for _, f := range fieldsOf(t) {
		if f.required() && f.key != "id" && f.key != "trunk" {
			return false
		}
	}
	return true
}

// meaning is a key's doc, with the words that it takes or an example.
func (w *starter) meaning(f field, t reflect.Type) string {
	switch list := wordsOf(t); {
	case list != nil:
		return f.doc + ": " + strings.Join(list, ", ")
	case f.eg != "" && isFact(f.typ) && !w.examples && t.Kind() != reflect.Bool && !strings.Contains(f.doc, f.eg):
		return f.doc + ", such as " + f.eg
	}
	return f.doc
}

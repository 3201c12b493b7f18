package working

import (
	"fmt"
	"html"
	"regexp"
	"strings"
)

// HTML is the calculation as an escaped fragment for a page: a table of class
// calc whose cells are sym, means, val and from, then the comparison, then what
// is missing. A value carries its origin as a class: given is to be underlined,
// chosen plain, assumed in brackets (see MarksLegend), unknown as "?".
//
// A value that stands in the document leads to its line there: document is the
// address of the page that shows it, whose lines are named L1, L2 and so on.
//
// It is a string and not a template.HTML because that type would bring the
// template engine into the program for the phone; a page may convert it as is.
func (w *Sheet) HTML(document string) string {
	return fragment(document, w.steps, w.test, w.missing, w.notes)
}

// HTML is the finding's calculation as an escaped fragment, like Sheet.HTML.
func (f Finding) HTML(document string) string {
	return fragment(document, f.Steps, f.Test, f.Missing, f.Notes)
}

func fragment(document string, steps []Step, test *Test, missing []Missing, notes []string) string {
	var b strings.Builder
	if len(steps) > 0 {
		b.WriteString(`<table class="calc"><thead><tr><th scope="col">symbol</th><th scope="col">meaning</th>` +
			`<th scope="col">value</th><th scope="col">from</th></tr></thead><tbody>` + "\n")
		for _, s := range steps {
			fmt.Fprintf(&b, `<tr><th scope="row" class="sym">%s</th><td class="means">%s</td><td class="val">%s</td><td class="from">%s</td></tr>`+"\n",
				symbols(s.Sym), html.EscapeString(s.Meaning), value(s.Result), sourceHTML(document, s))
		}
		b.WriteString("</tbody></table>\n")
	}
	if test != nil {
		b.WriteString(`<p class="test">` + comparison(*test) + "</p>\n")
	}
	list := func(class string, items []string) {
		if len(items) == 0 {
			return
		}
		fmt.Fprintf(&b, `<ul class="%s">`, class)
		for _, item := range items {
			fmt.Fprintf(&b, "<li>%s</li>", html.EscapeString(item))
		}
		b.WriteString("</ul>\n")
	}
	asks := make([]string, len(missing))
	for i, m := range missing {
		asks[i] = m.String()
	}
	list("missing", asks)
	list("notes", notes)
	return b.String()
}

// comparison is a test as Test.String words it, its parts marked: one of words
// says what is, and what must be only where that differs.
func comparison(t Test) string {
	if t.Op == "is" {
		if t.Holds() || !t.Left.known {
			return value(t.Left)
		}
		return value(t.Left) + `; <span class="op">must be</span> ` + value(t.Right)
	}
	return fmt.Sprintf(`%s <span class="op">%s</span> %s <span class="margin">%s</span>`,
		value(t.Left), html.EscapeString(t.Relation()), value(t.Right), html.EscapeString(t.Spare()))
}

// value is a term with its origin as a class.
func value(t Term) string {
	class := string(t.from.Kind)
	if !t.known {
		class = "unknown"
	}
	return fmt.Sprintf(`<span class="%s">%s</span>`, html.EscapeString(class), html.EscapeString(t.String()))
}

// sourceHTML is the source of a step: its line in the document, or its sum with
// the symbols set as such.
func sourceHTML(document string, s Step) string {
	from := s.Result.from
	switch {
	case s.Expr != "":
		return symbols(s.source())
	case from.At.Line > 0 && s.Result.known:
		return fmt.Sprintf(`%s, <a href="%s#L%d" title="%s">line %[3]d</a>`,
			html.EscapeString(string(from.Kind)), html.EscapeString(document), from.At.Line, html.EscapeString(from.Path))
	}
	return html.EscapeString(from.plainly())
}

// plainly says where a value is from without paths of the document, for people
// who never open it.
func (o Origin) plainly() string {
	said := map[Kind]string{Given: "given", Chosen: "chosen by the plan", Assumed: "assumed", Computed: "counted from the plan"}[o.Kind]
	switch {
	case o.Kind == Table:
		return o.String()
	case o.Kind == Computed && o.Path == "":
		return ""
	case o.Mark != "":
		said += ", " + o.Mark
	}
	return said
}

var subscript = regexp.MustCompile(`(\pL+)_([\pL\pN_]+)`)

// symbols sets I_main as I with a subscript.
func symbols(s string) string {
	return subscript.ReplaceAllString(html.EscapeString(s), "$1<sub>$2</sub>")
}

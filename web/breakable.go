package web

import (
	"html/template"
	"strings"
)

// breakable lets a long path break after its dots and slashes, nowhere else.
func breakable(s string) template.HTML {
	r := strings.NewReplacer(".", ".<wbr>", "/", "/<wbr>", "@", "@<wbr>", "[", "<wbr>[")
	return template.HTML(r.Replace(template.HTMLEscapeString(s)))
}

package job

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"legwork/where"
)

// Set writes one single value, such as runs[0].length, and returns the document
// that results. Every other byte stays: comments, order, blank lines, line
// breaks. A key that is missing is added at the end of its mapping; mappings on
// the way to it are added too. The result is parsed again as a proof, so that a
// value that the document may not hold is refused with Parse's errors. The
// receiver does not change.
func (d *Document) Set(path, value string) (*Document, error) {
	if strings.ContainsFunc(value, unprintable) || !utf8.ValidString(value) {
		return nil, where.Errors{{File: d.File, Path: path, Came: "a value with a line break or a control character", Expected: "one line of text"}}
	}
	t, root, err := locate(d.File, d.Source)
	if err != nil {
		return nil, err
	}
	src, err := t.set(root, path, value)
	if err != nil {
		return nil, err
	}
	return d.proved(src, path, value)
}

// proved parses the edited bytes and compares the value that they hold.
func (d *Document) proved(src []byte, path, value string) (*Document, error) {
	out, err := Parse(d.File, src)
	if err != nil {
		return nil, err
	}
	t, root, err := locate(d.File, src)
	if err != nil {
		return nil, err
	}
	if n := at(root, path); n == nil || n.Kind != yaml.ScalarNode || strings.ReplaceAll(n.Value, t.hole, unknown) != value {
		return nil, where.Errors{{File: d.File, Path: path, Came: fmt.Sprintf("%q does not survive being written", shorten(value)), Try: "edit this one by hand"}}
	}
	return out, nil
}

func (t *text) set(root *yaml.Node, path, value string) ([]byte, error) {
	all := steps(path)
	node := root
	for i, s := range all {
		next := at(node, string(s))
		if next != nil && !(isNull(next) && i < len(all)-1) {
			node = next
			continue
		}
		for _, rest := range all[i:] {
			if _, isIndex := rest.index(); isIndex {
				return nil, where.Errors{{File: t.file, Path: path, Came: "no item " + string(rest), Expected: "an item of the list"}}
			}
		}
		return t.addKeys(node, all[i:], value)
	}
	if len(all) == 0 || node.Kind != yaml.ScalarNode {
		return nil, where.Errors{{File: t.file, Line: node.Line, Col: node.Column, Path: path, Came: kindOf(node), Expected: "the path of a single value"}}
	}
	return t.replace(node, value)
}

// replace writes a new scalar in the place of an old one.
func (t *text) replace(n *yaml.Node, value string) ([]byte, error) {
	from := t.start(n)
	to, err := t.scalarEnd(n)
	if err != nil {
		return nil, err
	}
	written := scalar(value)
	if from == to && from > 0 && t.src[from-1] == ':' { // an empty value right after its colon
		written = " " + written
	}
	return t.splice(from, to, written), nil
}

// addKeys adds a key with its value at the end of a mapping; several keys nest.
func (t *text) addKeys(n *yaml.Node, keys []step, value string) ([]byte, error) {
	if n.Kind != yaml.MappingNode {
		return nil, where.Errors{{File: t.file, Line: n.Line, Col: n.Column, Came: kindOf(n), Expected: fmt.Sprintf("a mapping that can hold %q", string(keys[0]))}}
	}
	if n.Style&yaml.FlowStyle != 0 {
		return t.addFlow(n, keys, value)
	}
	depth := n.Column - 1
	last, err := t.end(n)
	if err != nil {
		return nil, err
	}
	if empty := child(n, string(keys[0])); empty != nil { // "people:" with nothing below it
		if last, err = t.end(empty); err != nil {
			return nil, err
		}
		keys, depth = keys[1:], depth+2
	}
	var lines []string
	for i, k := range keys {
		line := string(k) + ":"
		if i == len(keys)-1 {
			line += " " + scalar(value)
		}
		lines = append(lines, indent(depth+2*i, line))
	}
	return t.insertLines(last, lines), nil
}

func (t *text) addFlow(n *yaml.Node, keys []step, value string) ([]byte, error) {
	if len(keys) > 1 {
		return nil, t.refuse(n, "a mapping in brackets")
	}
	pair := string(keys[0]) + ": " + scalar(value)
	if len(n.Content) == 0 {
		i := t.start(n) + 1
		return t.splice(i, i, pair), nil
	}
	i, err := t.end(n.Content[len(n.Content)-1])
	if err != nil {
		return nil, err
	}
	return t.splice(i, i, ", "+pair), nil
}

// plainForm is what can stand without quotes anywhere, in brackets too.
var plainForm = regexp.MustCompile(`^[A-Za-z0-9.-][A-Za-z0-9./%+_°Ω" -]*$`)

// scalar writes a value so that it reads back to the letter, here and in any
// other YAML reader: a text of digits with a leading zero gets quotes.
func scalar(s string) string {
	if plainForm.MatchString(s) && !strings.HasSuffix(s, " ") && !strings.HasPrefix(s, "- ") && s != "-" && !strings.HasPrefix(s, "---") && s != "..." && !mistaken.MatchString(s) {
		return s
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case unprintable(r):
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String() + `"`
}

// unprintable is what cannot stand in a line of YAML as it is.
func unprintable(r rune) bool {
	return r < ' ' || r >= 0x7f && r <= 0x9f || r == '\u2028' || r == '\u2029' || r == '\ufeff' || r == 0xfffe || r == 0xffff
}

// mistaken is a plain text that other readers take for null, a date, an octal
// or a number of another form than we write.
var mistaken = regexp.MustCompile(`(?i)^(null|yes|no|on|off|y|n|\.nan|\.inf|-\.inf|[-+]?0[0-9_xob].*|[0-9]{4}-[0-9]+-[0-9].*|[0-9.]+e[-+]?[0-9]+|[0-9]{16,})$`)

package job

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"legwork/where"
)

// text is the bytes of a document with the means to find a node in them. Nodes
// know line and column in runes; edits need byte offsets.
type text struct {
	file  string
	src   []byte
	hole  string // what nodes hold for a bare "?", see markUnknown
	lines []int  // offset of each line's first byte
}

// locate reads a document's bytes for editing.
func locate(file string, src []byte) (*text, *yaml.Node, error) {
	root, d, err := open(file, src)
	if err != nil {
		return nil, nil, err
	}
	t := &text{file: file, src: src, hole: d.hole, lines: []int{0}}
	if bytes.HasPrefix(src, []byte("\ufeff")) {
		t.lines[0] = len("\ufeff") // a byte order mark takes no column
	}
	for i := 0; i < len(src); {
		n := breakAt(src[i:])
		if n == 0 {
			i++
			continue
		}
		i += n
		t.lines = append(t.lines, i)
	}
	return t, root, nil
}

// breakAt is the length of the line break that s starts with, 0 for none. YAML
// readers also break lines at NEL, LS and PS.
func breakAt(s []byte) int {
	for _, b := range []string{"\r\n", "\n", "\r", "\u0085", "\u2028", "\u2029"} {
		if bytes.HasPrefix(s, []byte(b)) {
			return len(b)
		}
	}
	return 0
}

// eol is the line break that the document uses.
func (t *text) eol() string {
	if i := bytes.IndexByte(t.src, '\n'); i > 0 && t.src[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// start is the offset of a node's first byte.
func (t *text) start(n *yaml.Node) int {
	i := t.lines[n.Line-1]
	for range n.Column - 1 {
		_, size := utf8.DecodeRune(t.src[i:])
		i += size
	}
	return i
}

func (t *text) refuse(n *yaml.Node, what string) error {
	return where.Errors{{File: t.file, Line: n.Line, Col: n.Column, Came: what, Expected: "a value on one line, which the program can edit", Try: "edit this one by hand"}}
}

// end is the offset just after a node.
func (t *text) end(n *yaml.Node) (int, error) {
	switch {
	case n.Kind == yaml.ScalarNode:
		return t.scalarEnd(n)
	case n.Style&yaml.FlowStyle != 0:
		return t.flowEnd(n)
	}
	return t.end(n.Content[len(n.Content)-1])
}

func (t *text) scalarEnd(n *yaml.Node) (int, error) {
	i := t.start(n)
	switch {
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return 0, t.refuse(n, "a text block")
	case n.Style&yaml.DoubleQuotedStyle != 0:
		return t.quoteEnd(n, i, '"')
	case n.Style&yaml.SingleQuotedStyle != 0:
		return t.quoteEnd(n, i, '\'')
	}
	written := strings.ReplaceAll(n.Value, t.hole, unknown)
	if !bytes.HasPrefix(t.src[i:], []byte(written)) {
		return 0, t.refuse(n, "a value over several lines")
	}
	return i + len(written), nil
}

func (t *text) quoteEnd(n *yaml.Node, i int, quote byte) (int, error) {
	for j := i + 1; j < len(t.src); j++ {
		switch c := t.src[j]; {
		case c == '\\' && quote == '"':
			j++
		case c == quote && quote == '\'' && j+1 < len(t.src) && t.src[j+1] == quote:
			j++
		case c == quote:
			return j + 1, nil
		}
	}
	return 0, t.refuse(n, "a quoted text without an end")
}

// flowEnd finds the bracket that closes a flow collection: after its last child
// stand only blanks, line breaks, comments and a comma.
func (t *text) flowEnd(n *yaml.Node) (int, error) {
	i := t.start(n) + 1
	if len(n.Content) > 0 {
		last := n.Content[len(n.Content)-1]
		var err error
		if i, err = t.end(last); err != nil {
			return 0, err
		}
	}
	for i < len(t.src) {
		switch t.src[i] {
		case ']', '}':
			return i + 1, nil
		case '#':
			i = t.lineEnd(i)
		case ' ', '\t', '\r', '\n', ',', ':':
			i++
		default:
			return 0, t.refuse(n, "a list or mapping in brackets that is hard to read")
		}
	}
	return 0, t.refuse(n, "a bracket without an end")
}

// lineEnd is the offset of the line break after i, or of the end of the bytes.
func (t *text) lineEnd(i int) int {
	for i < len(t.src) && breakAt(t.src[i:]) == 0 {
		i++
	}
	return i
}

// nextLine is the offset of the line after the one that holds i.
func (t *text) nextLine(i int) int {
	i = t.lineEnd(i)
	return i + breakAt(t.src[i:])
}

// lineStart is the offset of the first byte of the line that holds i.
func (t *text) lineStart(i int) int {
	at := 0
	for _, s := range t.lines {
		if s <= i {
			at = s
		}
	}
	return at
}

// splice replaces src[from:to].
func (t *text) splice(from, to int, with string) []byte {
	out := make([]byte, 0, len(t.src)+len(with))
	out = append(out, t.src[:from]...)
	out = append(out, with...)
	return append(out, t.src[to:]...)
}

// insertLines puts whole lines in after the line that holds offset i.
func (t *text) insertLines(i int, lines []string) []byte {
	at := t.nextLine(i)
	block := strings.Join(lines, t.eol()) + t.eol()
	if at == len(t.src) && at > 0 && t.lineStart(at) != at {
		block = t.eol() + block // the last line had no break
	}
	return t.splice(at, at, block)
}

func indent(depth int, line string) string { return fmt.Sprintf("%*s%s", depth, "", line) }

package job

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"legwork/where"
)

// MaxBytes is the largest document that is read; a whole house takes some 20 kB.
const MaxBytes = 1 << 20

// Parse reads a job document strictly. It returns every fault at once as
// where.Errors and no document then. The bytes are kept as they came.
func Parse(file string, src []byte) (*Document, error) {
	doc := &Document{}
	root, d, err := open(file, src)
	if err != nil {
		return nil, err
	}
	if err := d.version(root); err != nil {
		return nil, err
	}
	d.value("", root, reflect.ValueOf(doc).Elem(), field{})
	if len(d.errs) == 0 {
		d.errs = check(file, root, doc)
	}
	if len(d.errs) > 0 {
		return nil, inOrder(file, d.errs)
	}
	doc.Source, doc.File = bytes.Clone(src), file
	return doc, nil
}

// maxErrors is as many faults as anybody reads; beyond it something else than a
// job was given.
const maxErrors = 100

// inOrder sorts faults by their place and cuts a flood of them short.
func inOrder(file string, errs where.Errors) where.Errors {
	slices.SortStableFunc(errs, func(a, b where.Error) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
	if n := len(errs) - maxErrors; n > 0 {
		return append(errs[:maxErrors:maxErrors], where.Error{File: file, Came: fmt.Sprintf("%d more faults", n)})
	}
	return errs
}

// ParseEquipment reads nameplates alone, as a catalogue keeps them.
func ParseEquipment(file string, src []byte) (Equipment, error) {
	var e Equipment
	root, d, err := open(file, src)
	if err != nil {
		return e, err
	}
	d.value("", root, reflect.ValueOf(&e).Elem(), field{})
	return e, inOrder(file, d.errs).OrNil()
}

// open reads the YAML of one document, and refuses what a job never needs:
// several documents, anchors, aliases, merge keys and tags.
func open(file string, src []byte) (*yaml.Node, *decoder, error) {
	fail := func(e where.Error) (*yaml.Node, *decoder, error) {
		e.File = file
		return nil, nil, where.Errors{e}
	}
	switch {
	case len(src) > MaxBytes:
		return fail(where.Error{
			Came:     fmt.Sprintf("the document has %d bytes", len(src)),
			Expected: fmt.Sprintf("at most %d", MaxBytes),
			Try:      "is this the right file?",
		})
	case !utf8.Valid(src):
		line := 1 + bytes.Count(src[:firstInvalid(src)], []byte("\n"))
		return fail(where.Error{Line: line, Came: "bytes that are no text", Expected: "a YAML document in UTF-8"})
	}
	marked, hole := markUnknown(src)
	loader, err := yaml.NewLoader(bytes.NewReader(marked))
	if err != nil {
		return nil, nil, err
	}
	var top, second yaml.Node
	if err := loader.Load(&top); errors.Is(err, io.EOF) || err == nil && empty(&top) {
		return fail(where.Error{Came: "the document is empty", Expected: `a job document, its first line "legwork: 1"`, Try: "legwork new NAME writes one"})
	} else if err != nil {
		return nil, nil, syntax(file, err)
	}
	d := &decoder{file: file, hole: hole}
	if err := loader.Load(&second); err == nil {
		return fail(where.Error{Line: second.Line, Col: second.Column, Came: "a second YAML document begins", Expected: "one document a file"})
	} else if !errors.Is(err, io.EOF) {
		return nil, nil, syntax(file, err)
	}
	d.refuse(&top)
	if len(d.errs) > 0 {
		return nil, nil, d.errs
	}
	return top.Content[0], d, nil
}

func empty(top *yaml.Node) bool {
	return len(top.Content) == 0 || isNull(top.Content[0])
}

func firstInvalid(src []byte) int {
	for i := 0; i < len(src); {
		r, n := utf8.DecodeRune(src[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(src)
}

// markUnknown puts a rune that the document does not hold in the place of each
// bare "?" after a colon: YAML itself would take it for the sign of a complex
// key. Lines and columns stay. The decoder turns the rune back.
func markUnknown(src []byte) (marked []byte, hole string) {
	r := rune(0xE000) // private use
	for bytes.ContainsRune(src, r) && r < 0xF8FF {
		r++
	}
	hole = string(r)
	marked = make([]byte, 0, len(src)+64)
	for i, c := range src {
		if c == '?' && (i+1 == len(src) || strings.IndexByte(" \t\r\n", src[i+1]) >= 0) && afterColon(src[:i]) {
			marked = append(marked, hole...)
			continue
		}
		marked = append(marked, c)
	}
	return marked, hole
}

func afterColon(before []byte) bool {
	trimmed := bytes.TrimRight(before, " ")
	return len(trimmed) < len(before) && bytes.HasSuffix(trimmed, []byte(":"))
}

// syntax turns a fault of the YAML reader into our error.
func syntax(file string, err error) error {
	e := where.Error{File: file, Came: strings.TrimSpace(err.Error()), Expected: "YAML"}
	var at *yaml.LoadError
	if errors.As(err, &at) {
		e.Line, e.Col, e.Came = at.Mark.Line, at.Mark.Column, at.Message
	}
	return where.Errors{e}
}

// refuse reports anchors, aliases, merge keys and tags: they hide what a line
// says, let a small file grow without end, and no edit could keep them whole.
func (d *decoder) refuse(n *yaml.Node) {
	switch {
	case n.Kind == yaml.AliasNode:
		d.fault("", n, where.Error{Came: "alias *" + n.Value, Expected: "the value itself", Try: "write it out"})
		return
	case n.Anchor != "":
		d.fault("", n, where.Error{Came: "anchor &" + n.Anchor, Expected: "the value alone", Try: "remove the anchor"})
	case n.Style&yaml.TaggedStyle != 0:
		d.fault("", n, where.Error{Came: "tag " + n.Tag, Expected: "the value alone", Try: "remove the tag"})
	case n.Tag == "!!merge":
		d.fault("", n, where.Error{Came: "merge key <<", Expected: "the keys themselves", Try: "write them out"})
	}
	for _, c := range n.Content {
		d.refuse(c)
	}
}

// version answers for the form of the document before anything else is read.
func (d *decoder) version(root *yaml.Node) error {
	if root.Kind != yaml.MappingNode {
		d.fault("", root, where.Error{Came: kindOf(root), Expected: `a mapping, its first line "legwork: 1"`})
		return d.errs
	}
	n := child(root, "legwork")
	if n == nil {
		d.fault("", root, where.Error{Came: `no key "legwork"`, Expected: fmt.Sprintf("legwork: %d, the version of the document's form", Version)})
		return d.errs
	}
	v, err := strconv.Atoi(n.Value)
	switch {
	case n.Kind != yaml.ScalarNode || err != nil || v < 1:
		d.fault("legwork", n, where.Error{Came: d.said(n), Expected: fmt.Sprintf("version %d", Version)})
	case v > Version:
		d.fault("legwork", n, where.Error{
			Came: fmt.Sprintf("this document is version %d; this program reads %d; nothing was touched", v, Version),
			Try:  "use a newer program",
		})
	}
	return d.errs.OrNil()
}

// child finds the value of a key, nil when it is left out.
func child(n *yaml.Node, key string) *yaml.Node {
	if n == nil || n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

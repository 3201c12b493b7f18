package job

import (
	"encoding"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"legwork/quantity"
	"legwork/where"
)

// decoder reads nodes into the types of the document. It never stops at a
// fault: it notes it and goes on, so that a person sees all of them.
type decoder struct {
	file string
	hole string // stands for a bare "?" in the nodes, see markUnknown
	errs where.Errors
}

func (d *decoder) pos(n *yaml.Node) where.Pos {
	return where.Pos{File: d.file, Line: n.Line, Col: n.Column}
}

func (d *decoder) fault(path string, n *yaml.Node, e where.Error) {
	e.Path = path
	d.errs = append(d.errs, e.At(d.pos(n)))
}

// text is a scalar as the person wrote it.
func (d *decoder) text(n *yaml.Node) string {
	return strings.ReplaceAll(n.Value, d.hole, unknown)
}

// said is what came, for an error.
func (d *decoder) said(n *yaml.Node) string {
	if n.Kind == yaml.ScalarNode && !isNull(n) {
		return strconv.Quote(shorten(d.text(n)))
	}
	return kindOf(n)
}

// shorten keeps a message readable whatever was pasted in.
func shorten(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

func kindOf(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.MappingNode:
		return "a mapping"
	case n.Kind == yaml.SequenceNode:
		return "a list"
	case isNull(n):
		return "nothing"
	}
	return "a single value"
}

// isNull tells an empty value. A quoted one is a text.
func isNull(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Style == 0 && n.Tag == "!!null"
}

// value reads n into v, which must be settable.
func (d *decoder) value(path string, n *yaml.Node, v reflect.Value, f field) {
	if s, ok := v.Addr().Interface().(slotted); ok {
		d.fact(path, n, s.slot(), f)
		return
	}
	if u, ok := v.Addr().Interface().(encoding.TextUnmarshaler); ok {
		if d.scalar(path, n, f, "one value with its unit") {
			d.unmarshal(path, n, u, v, f)
		}
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !isNull(n) {
			v.Set(reflect.New(v.Type().Elem()))
			d.value(path, n, v.Elem(), f)
		}
	case reflect.Struct:
		d.mapping(path, n, v)
	case reflect.Slice:
		d.list(path, n, v, f)
	case reflect.String:
		d.word(path, n, v, f)
	case reflect.Int:
		d.whole(path, n, v, f)
	case reflect.Bool:
		if !d.scalar(path, n, f, "true or false") {
			return
		}
		if n.Value != "true" && n.Value != "false" {
			d.fault(path, n, where.Error{Came: d.said(n), Expected: "true or false"})
			return
		}
		v.SetBool(n.Value == "true")
	default:
		panic("job: no reader for " + v.Type().String())
	}
}

// fact reads a value that may be unknown.
func (d *decoder) fact(path string, n *yaml.Node, s slot, f field) {
	*s.at = d.pos(n)
	if n.Kind == yaml.ScalarNode && d.text(n) == unknown {
		*s.open = true
		return
	}
	if isNull(n) {
		d.fault(path, n, where.Error{Came: "nothing", Expected: expected(f, "a value"), Try: `write "?" when it is unknown`})
		return
	}
	before := len(d.errs)
	d.value(path, n, reflect.ValueOf(s.value).Elem(), f)
	*s.known = len(d.errs) == before
}

// scalar reports whether n is one given value.
func (d *decoder) scalar(path string, n *yaml.Node, f field, want string) bool {
	switch {
	case n.Kind != yaml.ScalarNode || isNull(n):
		d.fault(path, n, where.Error{Came: kindOf(n), Expected: expected(f, want)})
		return false
	case d.text(n) == unknown:
		d.fault(path, n, where.Error{Came: `"?"`, Expected: expected(f, want), Try: "this cannot stay unknown: other things hang on it"})
		return false
	}
	return true
}

// expected prefers the field's own words to the general ones.
func expected(f field, general string) string {
	switch {
	case f.doc != "" && f.eg != "":
		return f.doc + ", such as " + f.eg
	case f.doc != "":
		return f.doc
	case f.eg != "":
		return general + ", such as " + f.eg
	}
	return general
}

// unmarshal reads a quantity or another type that knows its own text.
func (d *decoder) unmarshal(path string, n *yaml.Node, u encoding.TextUnmarshaler, v reflect.Value, f field) {
	if err := u.UnmarshalText([]byte(d.text(n))); err != nil {
		e := where.Error{Came: err.Error()}
		var own where.Error
		if errors.As(err, &own) {
			e = own
		}
		d.fault(path, n, e)
		return
	}
	q, ok := v.Interface().(quantity.Quantity)
	if !ok {
		return
	}
	if x := q.Float(); f.limits != nil && (x < f.limits.low || x > f.limits.high) {
		d.fault(path, n, where.Error{Came: d.said(n) + " is out of range", Expected: fmt.Sprintf("%g to %g %s", f.limits.low, f.limits.high, q.Unit())})
	}
}

// mapping reads a struct: every key known and once, every required key there.
func (d *decoder) mapping(path string, n *yaml.Node, v reflect.Value) {
	if n.Kind != yaml.MappingNode {
		if !isNull(n) {
			d.fault(path, n, where.Error{Came: d.said(n), Expected: "a mapping of keys and values"})
			return
		}
	}
	fields := fieldsOf(v.Type())
	keys := make([]string, len(fields))
	byKey := make(map[string]field, len(fields))
	for i, f := range fields {
		keys[i], byKey[f.key] = f.key, f
	}
	seen := map[string]*yaml.Node{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, val := n.Content[i], n.Content[i+1]
		f, known := byKey[k.Value]
		switch {
		case k.Kind != yaml.ScalarNode:
			d.fault(path, k, where.Error{Came: kindOf(k) + " as a key", Expected: "a word"})
		case !known:
			d.unknownKey(path, k, keys)
		case seen[k.Value] != nil:
			d.fault(join(path, k.Value), k, where.Error{Came: fmt.Sprintf("key %q stands twice", k.Value), Expected: "each key once", Try: fmt.Sprintf("the first is in line %d", seen[k.Value].Line)})
		default:
			seen[k.Value] = k
			d.value(join(path, f.key), val, v.FieldByIndex(f.index), f)
		}
	}
	for _, f := range fields {
		if seen[f.key] != nil {
			continue
		}
		if f.required() {
			d.fault(path, n, where.Error{Came: fmt.Sprintf("no key %q", f.key), Expected: expected(f, "one")})
		}
		leftOut(v.FieldByIndex(f.index), d.pos(n))
	}
}

func (d *decoder) unknownKey(path string, k *yaml.Node, keys []string) {
	e := where.Error{Came: fmt.Sprintf("unknown key %q", shorten(d.text(k)))}
	if near := where.Nearest(k.Value, keys); near != "" {
		e.Try = fmt.Sprintf("did you mean %q?", near)
	} else {
		e.Expected = "one of " + strings.Join(keys, ", ")
	}
	d.fault(join(path, shorten(d.text(k))), k, e)
}

// leftOut gives every fact below v the place of the parent that lacks it.
func leftOut(v reflect.Value, at where.Pos) {
	if s, ok := v.Addr().Interface().(slotted); ok {
		*s.slot().at = at
		return
	}
	if v.Kind() == reflect.Struct {
		for _, f := range fieldsOf(v.Type()) {
			leftOut(v.FieldByIndex(f.index), at)
		}
	}
}

func (d *decoder) list(path string, n *yaml.Node, v reflect.Value, f field) {
	switch {
	case isNull(n):
		return
	case n.Kind != yaml.SequenceNode:
		d.fault(path, n, where.Error{Came: d.said(n), Expected: "a list"})
		return
	}
	v.Set(reflect.MakeSlice(v.Type(), len(n.Content), len(n.Content)))
	for i, c := range n.Content {
		d.value(fmt.Sprintf("%s[%d]", path, i), c, v.Index(i), field{doc: f.doc, eg: f.eg, limits: f.limits})
	}
}

// word reads a text, or a word of a closed list.
func (d *decoder) word(path string, n *yaml.Node, v reflect.Value, f field) {
	list := wordsOf(v.Type())
	want := "a text"
	if list != nil {
		want = "one of " + strings.Join(list, ", ")
		f.doc = ""
	}
	if !d.scalar(path, n, f, want) {
		return
	}
	text := d.text(n)
	if list != nil && !slices.Contains(list, text) {
		e := where.Error{Came: d.said(n), Expected: want}
		if near := where.Nearest(text, list); near != "" {
			e.Try = fmt.Sprintf("did you mean %q?", near)
		}
		d.fault(path, n, e)
		return
	}
	v.SetString(text)
}

var wholeNumber = regexp.MustCompile(`^-?(0|[1-9][0-9]{0,8})$`)

// whole reads a count: decimal digits and nothing else.
func (d *decoder) whole(path string, n *yaml.Node, v reflect.Value, f field) {
	want := "a whole number of 0 or more"
	if f.limits != nil {
		want = fmt.Sprintf("a whole number from %g to %g", f.limits.low, f.limits.high)
	}
	if !d.scalar(path, n, field{}, want) {
		return
	}
	x, err := strconv.Atoi(n.Value)
	if !wholeNumber.MatchString(n.Value) || err != nil || x < 0 || f.limits != nil && (float64(x) < f.limits.low || float64(x) > f.limits.high) {
		d.fault(path, n, where.Error{Came: d.said(n), Expected: want})
		return
	}
	v.SetInt(int64(x))
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

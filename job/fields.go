package job

import (
	"encoding"
	"reflect"
	"strconv"
	"strings"

	"legwork/where"
)

// field is one key of the document's form, read from the struct tags that the
// decoder, the printer, the schema and the starting document share:
//
//	yaml    the key; ",omitempty" marks a key that may be left out
//	doc     what it means
//	eg      an example of a value, as it is written
//	absent  "true": left out says that there is none, not that it is unknown
//	range   lowest and highest value in the type's base unit, "-90 90"
type field struct {
	key      string
	index    []int
	typ      reflect.Type
	optional bool
	doc      string
	eg       string
	absent   bool
	limits   *limits
}

// limits is a closed range of values in the base unit of their type.
type limits struct{ low, high float64 }

// fieldsOf lists the keys of a struct in the order of the type; inlined structs
// stand in their place.
func fieldsOf(t reflect.Type) []field {
	var out []field
	for i := range t.NumField() {
		sf := t.Field(i)
		key, options, _ := strings.Cut(sf.Tag.Get("yaml"), ",")
		switch {
		case key == "-" || !sf.IsExported():
			continue
		case options == "inline":
			for _, f := range fieldsOf(sf.Type) {
				f.index = append([]int{i}, f.index...)
				out = append(out, f)
			}
			continue
		}
		f := field{
			key: key, index: []int{i}, typ: sf.Type, optional: options == "omitempty",
			doc: sf.Tag.Get("doc"), eg: sf.Tag.Get("eg"), absent: sf.Tag.Get("absent") == "true",
		}
		if low, high, ok := strings.Cut(sf.Tag.Get("range"), " "); ok {
			f.limits = &limits{number(low), number(high)}
		}
		out = append(out, f)
	}
	return out
}

func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("job: range tag " + s)
	}
	return v
}

// required reports whether the key must stand in the document. A fact or a list
// may always be left out: that makes it unknown or empty. An id, a reference or
// a word that other things hang on may not.
func (f field) required() bool {
	return !f.optional && !isFact(f.typ) && f.typ.Kind() != reflect.Slice && f.typ.Kind() != reflect.Pointer
}

// slot is the inside of a Fact, whatever its type.
type slot struct {
	value any // pointer to the value
	known *bool
	open  *bool
	at    *where.Pos
}

func (f *Fact[T]) slot() slot { return slot{&f.Value, &f.Known, &f.Open, &f.At} }

type slotted interface{ slot() slot }

var (
	slottedType = reflect.TypeFor[slotted]()
	textType    = reflect.TypeFor[encoding.TextUnmarshaler]()
)

// unknown is how a document writes a fact that is not known yet.
const unknown = "?"

func isFact(t reflect.Type) bool { return reflect.PointerTo(t).Implements(slottedType) }

func isText(t reflect.Type) bool { return reflect.PointerTo(t).Implements(textType) }

// factOf is the type inside a fact, or the type itself.
func factOf(t reflect.Type) reflect.Type {
	if isFact(t) {
		f, _ := t.FieldByName("Value")
		return f.Type
	}
	return t
}

// wordsOf lists the words of a closed list, nil for any other type.
func wordsOf(t reflect.Type) []string {
	if t.PkgPath() != reflect.TypeFor[By]().PkgPath() {
		return nil
	}
	return words[t.Name()]
}

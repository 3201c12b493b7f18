package job

import (
	"encoding"
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// printed lists the lines of a struct in block style, one key a line, in the
// order of its type. What is left out of the document is left out here; an open
// fact is "?".
func printed(v reflect.Value) []string {
	var lines []string
	for _, f := range fieldsOf(v.Type()) {
		fv := v.FieldByIndex(f.index)
		if isFact(f.typ) {
			known, open := fv.FieldByName("Known").Bool(), fv.FieldByName("Open").Bool()
			fv = fv.FieldByName("Value")
			if !known {
				if open || !f.optional {
					lines = append(lines, f.key+": "+scalar(unknown))
				}
				continue
			}
		} else if fv.IsZero() && !f.required() {
			continue
		}
		lines = append(lines, keyed(f.key, fv)...)
	}
	return lines
}

// keyed prints one key with its value.
func keyed(key string, v reflect.Value) []string {
	if v.Kind() == reflect.Pointer {
		v = v.Elem()
	}
	switch {
	case isText(v.Type()):
	case v.Kind() == reflect.Struct:
		return append([]string{key + ":"}, indented(printed(v))...)
	case v.Kind() == reflect.Slice && v.Type().Elem().Kind() == reflect.Struct:
		lines := []string{key + ":"}
		for i := range v.Len() {
			lines = append(lines, indented(listItem(v.Index(i)))...)
		}
		return lines
	case v.Kind() == reflect.Slice:
		items := make([]string, v.Len())
		for i := range items {
			items[i] = single(v.Index(i))
		}
		return []string{key + ": [" + strings.Join(items, ", ") + "]"}
	}
	return []string{key + ": " + single(v)}
}

// listItem prints a struct as an item of a block list.
func listItem(v reflect.Value) []string {
	lines := indented(printed(v))
	lines[0] = "- " + lines[0][2:]
	return lines
}

func indented(lines []string) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = "  " + l
	}
	return out
}

func single(v reflect.Value) string {
	if m, ok := v.Interface().(encoding.TextMarshaler); ok {
		if b, err := m.MarshalText(); err == nil {
			return scalar(string(b))
		}
		return scalar(fmt.Sprint(v.Interface())) // the proof after the edit refuses it
	}
	switch v.Kind() {
	case reflect.Int:
		if s, ok := v.Interface().(fmt.Stringer); ok {
			return scalar(s.String())
		}
		return strconv.FormatInt(v.Int(), 10)
	case reflect.Bool:
		return strconv.FormatBool(v.Bool())
	}
	return scalar(v.String())
}

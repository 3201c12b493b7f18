package job

import (
	"encoding"
	"encoding/json"
	"reflect"
	"regexp"
	"strings"

	"legwork/quantity"
	"legwork/tables"
)

// Schema is the JSON Schema (draft 2020-12) of the document's form, made from
// the types: keys, meanings, words of closed lists, forms of quantities. It
// serves completion in editors; Parse alone is the judge.
func Schema() ([]byte, error) {
	b := schemaBuilder{defs: map[string]any{}}
	top := b.object(reflect.TypeFor[Document]())
	top["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	top["title"] = "legwork job document, version 1"
	top["$defs"] = b.defs
	out, err := json.MarshalIndent(top, "", "  ")
	return append(out, '\n'), err
}

type schemaBuilder struct{ defs map[string]any }

func (b schemaBuilder) object(t reflect.Type) map[string]any {
	properties, required := map[string]any{}, []string{}
	for _, f := range fieldsOf(t) {
		s := b.key(f)
		if f.doc != "" {
			s["description"] = f.doc
		}
		properties[f.key] = s
		if f.required() {
			required = append(required, f.key)
		}
	}
	out := map[string]any{"type": "object", "additionalProperties": false, "properties": properties}
	if len(required) > 0 {
		out["required"] = required
	}
	return out
}

// key describes the value of one key.
func (b schemaBuilder) key(f field) map[string]any {
	if isFact(f.typ) {
		return map[string]any{"anyOf": []any{b.value(factOf(f.typ), f), map[string]any{"const": unknown}}}
	}
	s := b.value(f.typ, f)
	if k := f.typ.Kind(); !f.required() && (k == reflect.Slice || k == reflect.Pointer || k == reflect.Struct && f.optional) {
		return map[string]any{"anyOf": []any{s, map[string]any{"type": "null"}}}
	}
	return s
}

func (b schemaBuilder) value(t reflect.Type, f field) map[string]any {
	switch {
	case isText(t):
		return textSchema(t)
	case t.Kind() == reflect.Pointer:
		return b.value(t.Elem(), f)
	case t.Kind() == reflect.Struct:
		if b.defs[t.Name()] == nil {
			b.defs[t.Name()] = true // holds the name while the type is described
			b.defs[t.Name()] = b.object(t)
		}
		return map[string]any{"$ref": "#/$defs/" + t.Name()}
	case t.Kind() == reflect.Slice:
		return map[string]any{"type": "array", "items": b.value(t.Elem(), field{})}
	case t.Kind() == reflect.Bool:
		return map[string]any{"type": "boolean"}
	case t.Kind() == reflect.Int:
		s := map[string]any{"type": "integer", "minimum": 0}
		if f.limits != nil {
			s["minimum"], s["maximum"] = f.limits.low, f.limits.high
		}
		return s
	}
	if list := wordsOf(t); list != nil {
		return map[string]any{"enum": list}
	}
	return map[string]any{"type": "string"}
}

// textSchema describes a type that reads its own text.
func textSchema(t reflect.Type) map[string]any {
	switch reflect.Zero(t).Interface().(type) {
	case tables.Material:
		list := []string{}
		for _, m := range tables.Materials() {
			list = append(list, m.String(), m.Short())
		}
		return map[string]any{"enum": list}
	case tables.RacewayKind:
		return map[string]any{"enum": tables.RacewayKinds()}
	case tables.Insulation:
		return map[string]any{"type": "string"}
	case quantity.Size:
		return listed(quantity.Sizes())
	case quantity.TradeSize:
		return listed(quantity.TradeSizes())
	}
	return map[string]any{"type": "string", "pattern": pattern(t)}
}

// listed offers the usual spellings and lets others of the same reader pass.
func listed[T interface{ String() string }](list []T) map[string]any {
	var usual []string
	for _, v := range list {
		usual = append(usual, v.String())
	}
	return map[string]any{"type": "string", "examples": usual}
}

// spellings are units as people write them. Which of them a type takes is asked
// of its own reader, so that schema and reader cannot part.
var spellings = []string{
	"A", "kA", "V", "kV", "VA", "kVA", "W", "kW", "ft", "in", "mm", "cm", "m", "'", `"`,
	"F", "°F", "C", "°C", "deg", "°", "in-lb", "ft-lb", "N·m", "Nm", "%", "in3", "in³", "cm3", "cm³",
}

// pattern is the form of a quantity: a number and a unit that its type takes,
// feet with inches behind them, a roof pitch.
func pattern(t reflect.Type) string {
	takes := func(text string) bool {
		return reflect.New(t).Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(text)) == nil
	}
	var units []string
	for _, u := range spellings {
		if takes("1 " + u) {
			units = append(units, regexp.QuoteMeta(u))
		}
	}
	const n = `[-−]?[0-9.][0-9./ -]*`
	one := n + `(` + strings.Join(units, "|") + `)`
	if takes("1 ft 1 in") {
		one += `([ -]*[0-9.][0-9./ -]*(in|")?)?`
	}
	if takes("6/12") {
		one += `|[0-9.]+/12`
	}
	return `^(` + one + `)$`
}

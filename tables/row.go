package tables

import (
	"encoding"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

	"legwork/quantity"
	"legwork/working"
)

// rows reads a table into typed rows, once. Each field names its column in a
// tag `col:"size"`, each column has its field, and each cell must parse:
// `col:"f60C,blank"` lets an empty cell stand for zero. A field of type
// working.Clauses takes the columns clause_2017, clause_2020, clause_2023.
func rows[T any](name string) func() []T {
	return sync.OnceValue(func() []T {
		t := table(name)
		if err := bound[T](t); err != nil {
			panic(fmt.Sprintf("tables: %s: %v", name, err))
		}
		out := make([]T, len(t.Rows))
		for i, cells := range t.Rows {
			if err := fill(reflect.ValueOf(&out[i]).Elem(), t.Header, cells); err != nil {
				panic(fmt.Sprintf("tables: %s: row %d: %v", name, i+1, err))
			}
		}
		return out
	})
}

const clauseColumn = "clause_"

// bound checks that every column of the table has a field in T.
func bound[T any](t *Table) error {
	typ := reflect.TypeFor[T]()
	var fields []string
	clauses := false
	for f := range typ.NumField() {
		column, _, _ := strings.Cut(typ.Field(f).Tag.Get("col"), ",")
		fields = append(fields, column)
		clauses = clauses || typ.Field(f).Type == reflect.TypeFor[working.Clauses]()
	}
	for _, column := range t.Header {
		if !slices.Contains(fields, column) && (!clauses || !strings.HasPrefix(column, clauseColumn)) {
			return fmt.Errorf("no field for column %s", column)
		}
	}
	return nil
}

func fill(row reflect.Value, header, cells []string) error {
	for f := range row.NumField() {
		field := row.Field(f)
		if field.Type() == reflect.TypeFor[working.Clauses]() {
			c, err := clausesOf(header, cells)
			if err != nil {
				return err
			}
			field.Set(reflect.ValueOf(c))
			continue
		}
		column, option, _ := strings.Cut(row.Type().Field(f).Tag.Get("col"), ",")
		i := slices.Index(header, column)
		if i < 0 {
			return fmt.Errorf("no column %q", column)
		}
		if cells[i] == "" && option == "blank" {
			continue
		}
		if err := set(field, cells[i]); err != nil {
			return fmt.Errorf("column %s: %w", column, err)
		}
	}
	return nil
}

// clausesOf gathers the clause columns. An edition in which the rule has no
// clause is left out, so that it answers "not covered".
func clausesOf(header, cells []string) (working.Clauses, error) {
	out := working.Clauses{}
	for i, column := range header {
		year, ok := strings.CutPrefix(column, clauseColumn)
		if !ok || cells[i] == "" || cells[i] == "(none)" || cells[i] == "deleted" {
			continue
		}
		e, err := strconv.Atoi(year)
		if err != nil {
			return nil, fmt.Errorf("column %s names no edition", column)
		}
		out[working.Edition(e)] = cells[i]
	}
	return out, nil
}

func set(field reflect.Value, cell string) error {
	if field.Kind() == reflect.Float64 { // a bare number: the column names the unit
		v, err := strconv.ParseFloat(cell, 64)
		field.SetFloat(v)
		return err
	}
	switch p := field.Addr().Interface().(type) {
	case *quantity.Size:
		s, err := sizeOf(cell)
		*p = s
		return err
	case *quantity.TradeSize:
		s, err := tradeSizeOf(cell)
		*p = s
		return err
	case encoding.TextUnmarshaler:
		return p.UnmarshalText([]byte(cell))
	}
	switch field.Kind() {
	case reflect.String:
		field.SetString(cell)
	case reflect.Int:
		v, err := strconv.Atoi(cell)
		field.SetInt(int64(v))
		return err
	case reflect.Bool:
		field.SetBool(cell == "yes")
		if cell != "yes" && cell != "no" {
			return fmt.Errorf("%q is neither yes nor no", cell)
		}
	default:
		panic("tables: a row cannot hold a " + field.Type().String())
	}
	return nil
}

func sizeOf(key string) (quantity.Size, error) {
	for _, s := range quantity.Sizes() {
		if s.Key() == key {
			return s, nil
		}
	}
	return quantity.NoSize, fmt.Errorf("%q is no conductor size", key)
}

func tradeSizeOf(key string) (quantity.TradeSize, error) {
	for _, s := range quantity.TradeSizes() {
		if s.Key() == key {
			return s, nil
		}
	}
	return quantity.NoTradeSize, fmt.Errorf("%q is no trade size", key)
}

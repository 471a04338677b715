package plan

import (
	"fmt"
	"math"
	"reflect"
	"strings"
)

// A Key is one line of the plan reference.
type Key struct {
	Key, Kind, Unit, Default, Choices string

	Min, Max float64 // of a number or of the numbers of a list; infinite for other keys
	Field    string  // the struct field that declares it: plinth/retrofit.Price.Fixed
}

// Reference returns every key of a plan in order, with its default.
func Reference() []Key {
	root := Default().root()
	return reference(&root)
}

// reference returns the keys of a table, those of its subtables last.
func reference(table *setting) []Key {
	var out, below []Key
	for _, s := range table.keys() {
		if s.value.Kind() == reflect.Struct {
			below = append(below, reference(&s)...)
			continue
		}
		k := Key{
			Key: s.key, Kind: plainKind(s.value.Type()), Unit: s.unit, Field: s.field,
			Choices: strings.Join(s.choices, ", "), Default: plainDefault(s.value),
			Min: s.min, Max: s.max,
		}
		if !ofNumbers(s.value.Type()) {
			k.Min, k.Max = math.Inf(-1), math.Inf(1)
		}
		out = append(out, k)
	}
	return append(out, below...)
}

// ofNumbers reports whether a key of type t takes a number or a list of numbers.
func ofNumbers(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Slice, reflect.Array:
		return ofNumbers(t.Elem())
	case reflect.Float64, reflect.Int:
		return true
	}
	return false
}

// plainKind returns the kind of value that a key of type t takes, in plain words.
func plainKind(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Pointer:
		return plainKind(t.Elem())
	case reflect.Map:
		return "table"
	case reflect.Slice, reflect.Array:
		return "list"
	case reflect.Bool:
		return "true or false"
	case reflect.Float64:
		return "number"
	case reflect.Int:
		return "whole number"
	}
	return "text"
}

// plainDefault returns a default as TOML writes it, and "" where there is none.
func plainDefault(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Pointer, reflect.Map:
		return ""
	case reflect.Float64:
		if math.IsNaN(v.Float()) { // left to other keys
			return ""
		}
	case reflect.Slice, reflect.Array:
		if v.Len() == 0 {
			return ""
		}
		parts := make([]string, v.Len())
		for i := range parts {
			parts[i] = plainDefault(v.Index(i))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case reflect.String:
		if v.Len() == 0 {
			return ""
		}
		return fmt.Sprintf("%q", v.String())
	}
	return fmt.Sprint(v.Interface())
}

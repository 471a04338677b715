package plan

import (
	"fmt"
	"reflect"
	"strings"
)

// A Key is one line of the plan reference.
type Key struct {
	Key, Kind, Unit, Default, Choices, Doc string
}

// Reference returns every key of a plan in order, with its default.
func Reference() []Key {
	return reference("", reflect.ValueOf(Default()).Elem())
}

func reference(prefix string, v reflect.Value) []Key {
	var out []Key
	for _, s := range settings(prefix, v) {
		if s.value.Kind() == reflect.Struct {
			out = append(out, reference(s.key, s.value)...)
			continue
		}
		out = append(out, Key{
			Key: s.key, Kind: plainKind(s.value.Type()), Unit: s.unit, Doc: s.doc,
			Choices: strings.Join(s.choices, ", "), Default: plainDefault(s.value),
		})
	}
	return out
}

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

func plainDefault(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Pointer, reflect.Map:
		return ""
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

// Markdown returns the plan reference as a page: a table for each table of keys.
func Markdown() string {
	var b strings.Builder
	b.WriteString("# Plan reference\n\n" +
		"Made from the program by its tests; do not edit. A plan is strict TOML: an unknown key is an error. " +
		"Paths are relative to the plan file. `plinth sample DIR` writes a plan to start from. " +
		fmt.Sprintf("A plan has at most %d MB, and a dotted key at most %d parts.\n", mostBytes>>20, mostParts))
	table := "-"
	for _, k := range Reference() {
		t, name := "", k.Key
		if i := strings.LastIndexByte(k.Key, '.'); i >= 0 {
			t, name = k.Key[:i], k.Key[i+1:]
		}
		if t != table {
			table = t
			if t != "" {
				fmt.Fprintf(&b, "\n## [%s]\n", t)
			}
			b.WriteString("\n| key | kind | unit | default | meaning |\n| --- | --- | --- | --- | --- |\n")
		}
		doc := k.Doc
		if k.Choices != "" {
			doc += ". One of: " + k.Choices
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", name, k.Kind, k.Unit, strings.ReplaceAll(k.Default, "|", `\|`), doc)
	}
	return b.String()
}

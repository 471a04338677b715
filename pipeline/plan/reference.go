package plan

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
)

// A Key is one line of the plan reference.
type Key struct {
	Key, Kind, Unit, Default, Choices, Doc string

	Min, Max float64 // of a number; infinite where there is no bound
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
		out = append(out, Key{
			Key: s.key, Kind: plainKind(s.value.Type()), Unit: s.unit, Doc: s.doc,
			Choices: strings.Join(s.choices, ", "), Default: plainDefault(s.value),
			Min: s.min, Max: s.max,
		})
	}
	return append(out, below...)
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

// Markdown returns the plan reference as a page: a table for each table of keys.
func Markdown() string {
	var b strings.Builder
	b.WriteString("# Plan reference\n\n" +
		"Made from the program by its tests; do not edit. A plan is strict TOML: an unknown key is an error. " +
		"No key is without effect, and a combination of measures has no copies of the keys of its parts. " +
		"Paths are relative to the plan file. `plinth sample DIR` writes a plan to start from. " +
		fmt.Sprintf("A plan has at most %d MB, and a dotted key at most %d parts.\n", mostBytes>>20, mostParts))
	keys := Reference()
	b.WriteString(first(keys))
	table := "-"
	for _, k := range keys {
		t, name := "", k.Key
		if i := strings.LastIndexByte(k.Key, '.'); i >= 0 {
			t, name = k.Key[:i], k.Key[i+1:]
		}
		if t != table {
			table = t
			if t != "" {
				fmt.Fprintf(&b, "\n## [%s]\n", t)
			}
			b.WriteString("\n| key | kind | range | unit | default | meaning |\n")
			b.WriteString("| --- | --- | --- | --- | --- | --- |\n")
		}
		doc := k.Doc
		if k.Choices != "" {
			doc += ". One of: " + k.Choices
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s | %s |\n", name, k.Kind, k.bounds(), k.Unit, k.cell(), doc)
	}
	return b.String()
}

// bounds returns the range of a number in words.
func (k *Key) bounds() string {
	switch {
	case math.IsInf(k.Min, -1) && math.IsInf(k.Max, 1):
		return ""
	case math.IsInf(k.Max, 1):
		return fmt.Sprintf("%g or more", k.Min)
	}
	return fmt.Sprintf("%g to %g", k.Min, k.Max)
}

// cell returns the default as a cell of a table.
func (k *Key) cell() string { return strings.ReplaceAll(k.Default, "|", `\|`) }

// common are the keys that most plans write, in the order they are usually thought of.
var common = []string{
	"name", "inventory.path", "inventory.format", "inventory.columns", "inventory.units", "inventory.values",
	"hazard.kind", "hazard.path", "hazard.unit", "hazard.soil_included", "hazard.site_class",
	"archetypes.region", "archetypes.zone", "measures.use", "measures.currency", "measures.price_date",
	"consequence.life_yr", "consequence.discount_rate", "consequence.value_per_m2", "objective.rank_by",
	"budget.yearly", "uncertainty.draws", "output.folder", "output.formats",
}

// first returns the keys that most plans write, as a table. Each is explained below it.
func first(keys []Key) string {
	var b strings.Builder
	b.WriteString("\n## What most plans say\n\nAll else has a default that serves a first run.\n\n")
	b.WriteString("| key | default | meaning |\n| --- | --- | --- |\n")
	for _, name := range common {
		k := keys[slices.IndexFunc(keys, func(k Key) bool { return k.Key == name })]
		short, _, _ := strings.Cut(k.Doc, ";")
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", k.Key, k.cell(), short)
	}
	b.WriteString("\n## All keys\n")
	return b.String()
}

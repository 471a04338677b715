package plan

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"plinth/pipeline/internal/near"
)

// A checker collects the problems of one plan.
type checker struct {
	file     string
	at       map[string]position
	problems Problems
	bare     bool // the plan may be without a hazard
}

// add records a problem of a key. Only the first problem of each key and value counts, since others
// follow from it.
func (c *checker) add(key string, value any, rule, remedy string) {
	p := Problem{File: c.file, Key: key, Rule: rule, Remedy: remedy}
	if at, ok := c.at[key]; ok {
		p.Line, p.Column = at.line, at.column
	}
	if value != nil {
		p.Value = written(value)
	}
	for _, q := range c.problems {
		if q.Key == key && (value == nil || q.Value == p.Value) {
			return
		}
	}
	c.problems = append(c.problems, p)
}

// written returns a value of the tree roughly as the file has it.
func written(v any) string {
	switch v := v.(type) {
	case string:
		return strconv.Quote(v)
	case []any:
		parts := make([]string, len(v))
		for i, e := range v {
			parts[i] = written(e)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case map[string]any:
		return "a table"
	}
	return fmt.Sprint(v)
}

// table checks that tree has only keys of the table t, with values of their kind and within their
// bounds. It removes from the tree what is wrong.
func (c *checker) table(t *setting, tree map[string]any) {
	fields := make(map[string]setting)
	names := make([]string, 0, 16)
	for _, s := range t.keys() {
		fields[s.name] = s
		names = append(names, s.name)
	}
	for _, key := range slices.Sorted(maps.Keys(tree)) {
		s, known := fields[key]
		if !known {
			c.unknown(t, key, tree[key], names)
			delete(tree, key)
			continue
		}
		before := len(c.problems)
		c.value(s, tree[key])
		if _, isTable := tree[key].(map[string]any); len(c.problems) > before && !isTable ||
			s.isTable() != isTable {
			delete(tree, key)
		}
	}
}

func (c *checker) unknown(t *setting, key string, v any, names []string) {
	if sub, isTable := v.(map[string]any); isTable && slices.Contains(t.parts, key) {
		c.part(t, key, sub)
		return
	}
	where := "a plan"
	if t.key != "" {
		where = "[" + t.key + "]"
	}
	c.add(join(t.key, key), nil, "unknown key", suggest(key, names, where+" has "+strings.Join(names, ", ")))
}

// value checks one value against its setting.
func (c *checker) value(s setting, v any) {
	t := s.value.Type()
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch t.Kind() {
	case reflect.Struct:
		if sub, ok := v.(map[string]any); ok {
			c.table(&s, sub)
			return
		}
	case reflect.Map:
		if sub, ok := v.(map[string]any); ok {
			c.words(s.key, sub, t.Elem())
			return
		}
	case reflect.Slice, reflect.Array:
		c.list(s, t, v)
		return
	case reflect.String:
		if word, ok := v.(string); ok {
			c.choice(s, word)
			return
		}
	case reflect.Bool:
		if _, ok := v.(bool); ok {
			return
		}
	case reflect.Float64:
		if x, ok := number(v); ok {
			c.bounds(s, v, x)
			return
		}
	case reflect.Int:
		if x, ok := v.(int64); ok {
			c.bounds(s, v, float64(x))
			return
		}
	}
	c.add(s.key, v, "wrong kind of value", "write "+kindWords(t))
}

// list checks a slice, or an array of fixed length, of numbers or words.
func (c *checker) list(s setting, t reflect.Type, v any) {
	items, ok := v.([]any)
	if !ok || t.Kind() == reflect.Array && len(items) != t.Len() {
		c.add(s.key, v, "wrong kind of value", "write "+kindWords(t))
		return
	}
	for _, item := range items {
		if t.Elem().Kind() == reflect.String {
			if word, ok := item.(string); ok {
				c.choice(s, word)
				continue
			}
		} else if x, ok := number(item); ok {
			c.bounds(s, item, x)
			continue
		}
		c.add(s.key, item, "wrong kind of value in the list", "write "+kindWords(t))
	}
}

// words checks a table of words, or a table of tables of words.
func (c *checker) words(key string, tree map[string]any, elem reflect.Type) {
	for _, k := range slices.Sorted(maps.Keys(tree)) {
		switch v := tree[k].(type) {
		case map[string]any:
			if elem.Kind() == reflect.Map {
				c.words(join(key, k), v, elem.Elem())
				continue
			}
		case string:
			if elem.Kind() == reflect.String {
				continue
			}
		}
		c.add(join(key, k), tree[k], "wrong kind of value", "write "+kindWords(elem))
		delete(tree, k)
	}
}

func (c *checker) choice(s setting, word string) {
	if len(s.choices) > 0 && !slices.Contains(s.choices, word) {
		c.add(s.key, word, "not a value this key takes", suggest(word, s.choices, oneOf(s.choices)))
	}
}

// bounds checks a number of the tree, whose value is x.
func (c *checker) bounds(s setting, v any, x float64) {
	if !(x >= s.min && x <= s.max) {
		c.add(s.key, v, "out of range",
			fmt.Sprintf("write a number from %g to %g%s", s.min, s.max, unitWords(s.unit)))
	}
}

func number(v any) (float64, bool) {
	switch v := v.(type) {
	case int64:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}

func kindWords(t reflect.Type) string {
	switch t.Kind() {
	case reflect.String:
		return `text in quotes, such as "word"`
	case reflect.Bool:
		return "true or false"
	case reflect.Float64:
		return "a number"
	case reflect.Int:
		return "a whole number"
	case reflect.Slice:
		return "a list of " + map[bool]string{true: `words, such as ["a", "b"]`,
			false: "numbers, such as [1, 2]"}[t.Elem().Kind() == reflect.String]
	case reflect.Array:
		return fmt.Sprintf("a list of %d numbers, such as [low, high]", t.Len())
	}
	return "a table"
}

func unitWords(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

func join(prefix, key string) string {
	if prefix == "" {
		return key
	}
	return prefix + "." + key
}

// suggest puts the word that was probably meant in front of a remedy.
func suggest(word string, known []string, remedy string) string {
	for _, w := range near.Words(word, known, 1) {
		return "did you mean " + w + "? " + remedy
	}
	return remedy
}

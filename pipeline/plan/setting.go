package plan

import (
	"reflect"
	"strconv"
	"strings"
)

// A setting is one key of the plan as its struct field declares it: the tags
// toml (name), unit, min, max, choices (separated by |) and doc. Checks, the
// plan reference and error messages all read these tags.
type setting struct {
	name, key string
	value     reflect.Value
	unit, doc string
	min, max  float64
	choices   []string
}

// ceiling is the limit of a number whose field states none: of money, areas, counts and
// durations alike. A thousand times the world's dearest programme in the currency of
// least worth is below it (judgement); whole numbers of that size are exact in a
// float64, and no product of a few of them overflows.
const ceiling = 1e15

// isTable reports whether the key takes a table.
func (s *setting) isTable() bool {
	return s.value.Kind() == reflect.Struct || s.value.Kind() == reflect.Map
}

// settings returns the settings of the struct v, whose key is prefix.
func settings(prefix string, v reflect.Value) []setting {
	t := v.Type()
	out := make([]setting, 0, t.NumField())
	for i := range t.NumField() {
		tag := t.Field(i).Tag
		name := tag.Get("toml")
		if t.Field(i).Anonymous {
			out = append(out, settings(prefix, v.Field(i))...)
			continue
		}
		if name == "-" || !t.Field(i).IsExported() { // for programs, not for plans
			continue
		}
		s := setting{
			name: name, key: join(prefix, name), value: v.Field(i),
			unit: tag.Get("unit"), doc: tag.Get("doc"),
			min: bound(tag.Get("min"), -ceiling), max: bound(tag.Get("max"), ceiling),
		}
		if ch := tag.Get("choices"); ch != "" {
			s.choices = strings.Split(ch, "|")
		}
		out = append(out, s)
	}
	return out
}

func bound(tag string, otherwise float64) float64 {
	if tag == "" {
		return otherwise
	}
	x, err := strconv.ParseFloat(tag, 64)
	if err != nil {
		panic("plan: a bound in a struct tag is not a number")
	}
	return x
}

package plan

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"plinth/retrofit"
)

// A setting is one key of the plan as its struct field declares it by the tags toml (name), unit,
// min, max and choices (separated by |). A type with a method Choices lists its choices itself,
// since another package owns them. The tag without lists keys that a table does not take, though
// its struct has them. Checks, error messages and the plan reference read these tags. The comment
// above a field explains the key in the plan reference.
type setting struct {
	name, key string
	value     reflect.Value
	unit      string
	field     string // the struct field that declares it, with its package and type
	min, max  float64
	choices   []string
	without   []string // keys of its struct that a table does not take
	parts     []string // measures whose tables a combination reads
}

// ceiling is the limit of a number whose field states none, for money, areas, counts and durations
// alike. It exceeds a thousand times the world's dearest programme in the currency of least worth
// (judgement). A float64 holds whole numbers of that size exactly, and no product of a few of them
// overflows.
const ceiling = 1e15

// isTable reports whether the key takes a table.
func (s *setting) isTable() bool {
	return s.value.Kind() == reflect.Struct || s.value.Kind() == reflect.Map
}

// root returns the plan as a table without a name.
func (p *Plan) root() setting { return setting{value: reflect.ValueOf(p).Elem()} }

// keys returns the keys of a table: the fields of its struct and of structs embedded in it, and a
// table for each measure of a set of options.
func (s *setting) keys() []setting {
	t := s.value.Type()
	out := make([]setting, 0, t.NumField())
	for i := range t.NumField() {
		field, tag, v := t.Field(i), t.Field(i).Tag, s.value.Field(i)
		name := tag.Get("toml")
		switch set, isSet := exported(field, v).(retrofit.Set); {
		case field.Anonymous:
			out = append(out, (&setting{key: s.key, value: v}).keys()...)
		case isSet:
			out = append(out, s.measures(set)...)
		case name == "-" || !field.IsExported() || slices.Contains(s.without, name): // for programs, not for plans
		default:
			k := setting{
				name: name, key: join(s.key, name), value: v,
				field: t.PkgPath() + "." + t.Name() + "." + field.Name,
				unit:  tag.Get("unit"), without: strings.Fields(tag.Get("without")),
				min: bound(tag.Get("min"), -ceiling), max: bound(tag.Get("max"), ceiling),
			}
			if ch := tag.Get("choices"); ch != "" {
				k.choices = strings.Split(ch, "|")
			}
			if list, ok := exported(field, v).(interface{ Choices() []string }); ok {
				k.choices = list.Choices()
			}
			out = append(out, k)
		}
	}
	return out
}

// exported returns the value of an exported field, and nil for another field.
func exported(field reflect.StructField, v reflect.Value) any {
	if !field.IsExported() {
		return nil
	}
	return v.Interface()
}

// measures returns the tables of the measures in set.
func (s *setting) measures(set retrofit.Set) []setting {
	var out []setting
	for _, k := range retrofit.Kinds() {
		if o := set[k.Slug]; o != nil {
			table := setting{name: k.Slug, key: join(s.key, k.Slug), parts: k.Parts}
			table.value = reflect.ValueOf(o).Elem()
			out = append(out, table)
		}
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

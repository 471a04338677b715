package output

import (
	"encoding/json"
	"math"
)

// A leaf is one column of a Parquet file as it is stored.
type leaf[R any] struct {
	group    string // name of the struct it stands in, "" at the root
	name     string
	kind     string // schema attributes of its type
	optional bool   // it or its group can be null

	// fill sets values to those of rows, nil for a null, and levels to 1, for a
	// null to 0; levels is nil for a leaf that is not optional. It counts both
	// into s.
	fill func(rows []*R, values []any, levels []int32, s *stats)
}

// The types of leaves, in the schema language of the writing library.
const (
	kindDouble = "type=DOUBLE"
	kindInt    = "type=INT64"
	kindBool   = "type=BOOLEAN"
	kindText   = "type=BYTE_ARRAY, convertedtype=UTF8, logicaltype=STRING"
	kindBytes  = "type=BYTE_ARRAY"
)

// columnLeaves returns one leaf for each column of t.
func columnLeaves[R any](t *Table[R]) []leaf[R] {
	out := make([]leaf[R], len(t.Columns))
	for i := range t.Columns {
		c := &t.Columns[i]
		l := leaf[R]{name: c.Name, optional: !c.Required && c.Bool == nil}
		switch {
		case c.Float != nil:
			l.kind = kindDouble
			l.fill = fill(func(r *R) (float64, bool) { v := c.float(r); return v, !math.IsNaN(v) },
				func(s *stats, v float64) { s.float.add(v) })
		case c.Text != nil:
			l.kind = kindText
			l.fill = fill(func(r *R) (string, bool) { v := cleanText(*c.Text(r)); return v, v != "" },
				func(s *stats, v string) { s.text.add(v) })
		case c.Int != nil:
			l.kind = kindInt
			l.fill = fill(func(r *R) (int64, bool) { v := *c.Int(r); return v, v != NoInt },
				func(s *stats, v int64) { s.int.add(v) })
		default:
			l.kind = kindBool
			l.fill = fill(func(r *R) (bool, bool) { return *c.Bool(r), true },
				func(s *stats, v bool) { s.int.add(int64(boolByte(v))) })
		}
		out[i] = l
	}
	return out
}

// fill returns the fill of a leaf whose values are get's, counted by count.
func fill[R, T any](get func(*R) (T, bool), count func(*stats, T)) func([]*R, []any, []int32, *stats) {
	return func(rows []*R, values []any, levels []int32, s *stats) {
		for j, r := range rows {
			v, ok := get(r)
			if levels != nil {
				levels[j] = int32(boolByte(ok))
			}
			if !ok {
				values[j] = nil
				s.nulls++
				continue
			}
			values[j] = v
			count(s, v)
		}
	}
}

func boolByte(v bool) byte {
	if v {
		return 1
	}
	return 0
}

// jsonSchema returns the schema of leaves for the writing library. Leaves of one
// group stand together.
func jsonSchema[R any](leaves []leaf[R]) string {
	type item struct {
		Tag    string
		Fields []*item `json:",omitempty"`
	}
	repetition := func(optional bool) string {
		if optional {
			return ", repetitiontype=OPTIONAL"
		}
		return ", repetitiontype=REQUIRED"
	}
	root := &item{Tag: "name=schema, repetitiontype=REQUIRED"}
	group := ""
	for i := range leaves {
		l := &leaves[i]
		parent, optional := root, l.optional
		if l.group != "" {
			if l.group != group {
				root.Fields = append(root.Fields, &item{Tag: "name=" + l.group + repetition(l.optional)})
			}
			parent, optional = root.Fields[len(root.Fields)-1], false
		}
		group = l.group
		parent.Fields = append(parent.Fields, &item{Tag: "name=" + l.name + ", " + l.kind + repetition(optional) + ", omitstats=true"})
	}
	b, err := json.Marshal(root)
	if err != nil {
		panic("output: schema of texts cannot fail to encode")
	}
	return string(b)
}

package output

import (
	"encoding/binary"
	"encoding/json"
	"math"
)

// A leaf is one column of a Parquet file as it is stored there.
type leaf[R any] struct {
	group    string // name of the struct it stands in, "" at the root
	name     string
	kind     string // schema attributes of its type
	optional bool   // it or its group can be null

	series func() series[R] // of a new file
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
			l.double(func(r *R) (float64, bool) { v := c.float(r); return v, !math.IsNaN(v) })
		case c.Text != nil:
			l.text(kindText, func(r *R) (string, bool) { v := cleanText(*c.Text(r)); return v, v != "" },
				func(s *stats, v string) { s.text.add(v) })
		case c.Int != nil:
			l.kind = kindInt
			l.series = newSeries(l.optional, func(r *R) (int64, bool) { v := *c.Int(r); return v, v != NoInt },
				func(b []byte, v int64) []byte { return binary.LittleEndian.AppendUint64(b, uint64(v)) },
				func(s *stats, v int64) { s.int.add(v) })
		default:
			l.kind = kindBool
			l.series = newSeries(l.optional, func(r *R) (bool, bool) { return *c.Bool(r), true },
				nil, func(s *stats, v bool) { s.int.add(int64(boolByte(v))) })
		}
		out[i] = l
	}
	return out
}

// double makes l a leaf of numbers.
func (l *leaf[R]) double(get func(*R) (float64, bool)) {
	l.kind = kindDouble
	l.series = newSeries(l.optional, get,
		func(b []byte, v float64) []byte { return binary.LittleEndian.AppendUint64(b, math.Float64bits(v)) },
		func(s *stats, v float64) { s.float.add(v) })
}

// text makes l a leaf of texts or other bytes.
func (l *leaf[R]) text(kind string, get func(*R) (string, bool), count func(*stats, string)) {
	l.kind = kind
	l.series = newSeries(l.optional, get,
		func(b []byte, v string) []byte {
			return append(binary.LittleEndian.AppendUint32(b, uint32(len(v))), v...)
		}, count)
}

func boolByte(v bool) byte {
	if v {
		return 1
	}
	return 0
}

// jsonSchema returns the schema of leaves in the form of the writing library. Leaves of one group
// stand together.
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
		parent.Fields = append(parent.Fields, &item{Tag: "name=" + l.name + ", " + l.kind + repetition(optional) +
			", omitstats=true"})
	}
	b, err := json.Marshal(root)
	if err != nil {
		panic("output: schema of texts cannot fail to encode")
	}
	return string(b)
}

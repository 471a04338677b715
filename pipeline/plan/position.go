package plan

import (
	"fmt"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

type position struct{ line, column int }

// File returns the name of the plan file as it was given to Load or Parse, and "" for a plan
// without one.
func (p *Plan) File() string { return p.file }

// At returns the place of a dotted key in the form of problems. It has no line if the plan leaves
// the key out, and no file if the plan was not read from one.
func (p *Plan) At(key string) string {
	at, ok := p.at[key]
	switch {
	case ok:
		return fmt.Sprintf("%s:%d:%d: %s", p.file, at.line, at.column, key)
	case p.file != "":
		return p.file + ": " + key
	}
	return key
}

// positions returns the place of each dotted key of a TOML document, and the first key of more than
// mostParts parts, or "". It does not look behind such a key. A document with a syntax error gives
// the keys before the error.
func positions(doc []byte) (at map[string]position, long string) {
	k := keyFinder{at: make(map[string]position), lines: lineStarts(doc)}
	var p unstable.Parser
	p.Reset(doc)
	var table []string
	for k.long == "" && p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			table = k.note(nil, e.Key())
		case unstable.KeyValue:
			k.noteValue(table, e)
		}
	}
	return k.at, k.long
}

// A keyFinder records the places of keys.
type keyFinder struct {
	at    map[string]position
	lines []int // where each begins
	long  string
}

// lineStarts returns the byte at which each line begins.
func lineStarts(doc []byte) []int {
	starts := []int{0}
	for i, c := range doc {
		if c == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

// noteValue records the key of e below prefix and, for an inline table, the keys in it.
func (k *keyFinder) noteValue(prefix []string, e *unstable.Node) {
	key := k.note(prefix, e.Key())
	if v := e.Value(); v.Kind == unstable.InlineTable {
		it := v.Children()
		for k.long == "" && it.Next() {
			k.noteValue(key, it.Node())
		}
	}
}

// note records the place of every part of a key and returns the whole key.
func (k *keyFinder) note(prefix []string, it unstable.Iterator) []string {
	key := append([]string(nil), prefix...)
	for it.Next() {
		n := it.Node()
		key = append(key, string(n.Data))
		dotted := strings.Join(key, ".")
		if _, ok := k.at[dotted]; !ok {
			k.at[dotted] = k.position(int(n.Raw.Offset))
		}
		if len(key) > mostParts {
			k.long = dotted
			break
		}
	}
	return key
}

// position returns the line and the column of a byte of the document.
func (k *keyFinder) position(offset int) position {
	line := sort.SearchInts(k.lines, offset+1)
	return position{line, offset - k.lines[line-1] + 1}
}

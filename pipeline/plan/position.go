package plan

import (
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

type position struct{ line, column int }

// At returns where a dotted key stands, as problems name it; without a line where the plan
// leaves it out, and without a file where the plan is of none.
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

// positions returns where each dotted key of a TOML document stands. A document
// with a syntax error yields the keys before it.
func positions(doc []byte) map[string]position {
	at := make(map[string]position)
	var p unstable.Parser
	p.Reset(doc)
	var table []string
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			table = note(at, &p, nil, e.Key())
		case unstable.KeyValue:
			noteValue(at, &p, table, e)
		}
	}
	return at
}

// noteValue notes the key of e below prefix and, for an inline table, its keys.
func noteValue(at map[string]position, p *unstable.Parser, prefix []string, e *unstable.Node) {
	key := note(at, p, prefix, e.Key())
	if v := e.Value(); v.Kind == unstable.InlineTable {
		it := v.Children()
		for it.Next() {
			noteValue(at, p, key, it.Node())
		}
	}
}

// note records the position of every part of a key and returns the whole key.
func note(at map[string]position, p *unstable.Parser, prefix []string, it unstable.Iterator) []string {
	key := append([]string(nil), prefix...)
	for it.Next() {
		n := it.Node()
		key = append(key, string(n.Data))
		start := p.Shape(n.Raw).Start
		dotted := strings.Join(key, ".")
		if _, ok := at[dotted]; !ok {
			at[dotted] = position{start.Line, start.Column}
		}
	}
	return key
}

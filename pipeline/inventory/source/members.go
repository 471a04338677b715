package source

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"plinth/pipeline/inventory/fault"
)

// flaw returns what in the JSON of a feature would be lost if it were decoded: the
// first of two members of one name, of which the decoder keeps the second, or half of
// a pair of surrogates, which it replaces (RFC 8259 clauses 4 and 8.2). It returns ""
// for none. The names of RFC 7946 are compared as the decoder finds them, in any case;
// those of properties are the owner's and compared letter by letter. text is valid JSON.
func flaw(text []byte) string {
	var open []nest
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '{':
			open = append(open, opened(open))
		case '[':
			open = append(open, nest{})
		case '}', ']':
			open = open[:len(open)-1]
		case ',':
			at := &open[len(open)-1]
			at.naming = at.names != nil
		case '"':
			end := i + endOfString(text[i:])
			word := text[i:end]
			i = end - 1
			if bytes.Contains(word, []byte(`\u`)) && halfPair(word) {
				return "half of a pair of surrogates in " + strconv.QuoteToASCII(fault.Clip(string(word)))
			}
			if len(open) > 0 && open[len(open)-1].naming {
				if twice := open[len(open)-1].name(word); twice != "" {
					return twice
				}
			}
		}
	}
	return ""
}

// A nest is an object or a list that has begun and not ended.
type nest struct {
	names  map[string]bool // seen so far; nil in a list
	fold   bool            // names in any case are the same
	naming bool            // the next text is a name
	last   string          // name
}

// opened returns the nest of an object that begins within others.
func opened(within []nest) nest {
	n := len(within)
	geometry := n == 1 && strings.EqualFold(within[0].last, "geometry")
	return nest{names: make(map[string]bool), naming: true, fold: n == 0 || geometry}
}

// name enters a name in its quotation marks, and returns what is wrong with it.
func (l *nest) name(word []byte) string {
	l.naming = false
	var name string
	json.Unmarshal(word, &name) // it is valid
	if l.last = name; l.fold {
		name = strings.ToLower(name)
	}
	if l.names[name] {
		return fmt.Sprintf("two members called %s", strconv.QuoteToASCII(fault.Clip(l.last)))
	}
	l.names[name] = true
	return ""
}

// endOfString returns the length of the text that s begins with, quotation marks included.
func endOfString(s []byte) int {
	for i := 1; i < len(s); i++ {
		switch s[i] {
		case '\\':
			i++
		case '"':
			return i + 1
		}
	}
	return len(s)
}

// halfPair reports whether a text names one surrogate without the other.
func halfPair(word []byte) bool {
	high := false // a high surrogate was the last character
	for i := 0; i < len(word); i++ {
		unit := uint64(0)
		if word[i] == '\\' {
			i++
			if word[i] == 'u' && i+4 < len(word) {
				unit, _ = strconv.ParseUint(string(word[i+1:i+5]), 16, 16)
				i += 4
			}
		}
		low := unit >= 0xdc00 && unit < 0xe000
		if low != high {
			return true
		}
		high = unit >= 0xd800 && unit < 0xdc00
	}
	return high
}

package cell

import "strings"

// A Dictionary finds words by their exact letters, else in any case, without
// allocating.
type Dictionary[V any] struct {
	exact, lower map[string]V
}

func NewDictionary[V any](size int) Dictionary[V] {
	return Dictionary[V]{make(map[string]V, size), make(map[string]V, size)}
}

// Add enters a word; of two that differ only in case the first serves the rest.
func (d *Dictionary[V]) Add(word string, v V) {
	d.exact[word] = v
	l := strings.ToLower(word)
	if _, ok := d.lower[l]; !ok {
		d.lower[l] = v
	}
}

func (d *Dictionary[V]) Find(word string) (v V, ok bool) {
	if v, ok = d.exact[word]; ok || len(d.lower) == 0 {
		return v, ok
	}
	var buf [64]byte
	if len(word) > len(buf) {
		v, ok = d.lower[strings.ToLower(word)]
		return v, ok
	}
	b := buf[:0]
	for i := range len(word) {
		c := word[i]
		if c >= 'A' && c <= 'Z' {
			c += 'a' - 'A'
		}
		if c >= 0x80 {
			v, ok = d.lower[strings.ToLower(word)]
			return v, ok
		}
		b = append(b, c)
	}
	v, ok = d.lower[string(b)]
	return v, ok
}

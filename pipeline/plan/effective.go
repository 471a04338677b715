package plan

import (
	"math"
	"path/filepath"
	"reflect"
	"slices"
)

// Effective returns the whole plan as a tree of its keys, defaults included, as the manifest of a
// run holds it. Paths are relative to the folder of the plan, so that the same plan in another
// place gives the same tree.
func (p *Plan) Effective() map[string]any {
	q := *p
	q.Confirm.RecordFiles = slices.Clone(p.Confirm.RecordFiles)
	for _, path := range q.paths() {
		if rel, err := filepath.Rel(p.dir, *path); err == nil && p.dir != "" && *path != "" {
			*path = filepath.ToSlash(rel)
		}
	}
	root := q.root()
	return tree(&root)
}

func tree(table *setting) map[string]any {
	out := make(map[string]any)
	for _, s := range table.keys() {
		switch {
		case s.value.Kind() == reflect.Struct:
			out[s.name] = tree(&s)
		case s.value.Kind() == reflect.Float64 && math.IsNaN(s.value.Float()): // left to other keys
		case s.value.Kind() == reflect.Map && s.value.Len() == 0:
		default:
			out[s.name] = s.value.Interface()
		}
	}
	return out
}

package assessed

import (
	"encoding/json"
	"maps"
	"reflect"
	"slices"
)

// after are the tables of a plan, and its title, that a building is assessed without. They may
// change between a screening and the commands after it: money above all.
var after = []string{"name", "rating", "budget", "uncertainty", "confirm", "output"}

// differs returns the first key in which two effective plans differ, apart from those that a
// building is assessed without; "" if there is none.
func differs(was, is any) (string, error) {
	b, err := json.Marshal(is)
	if err != nil {
		return "", err
	}
	var now any
	if err := json.Unmarshal(b, &now); err != nil {
		return "", err
	}
	one, ok := was.(map[string]any)
	two, ok2 := now.(map[string]any)
	if !ok || !ok2 {
		return "the plan", nil
	}
	for _, key := range after {
		delete(one, key)
		delete(two, key)
	}
	return firstDifference("", one, two), nil
}

// firstDifference returns the dotted key of the first value that two tables do not share.
func firstDifference(path string, one, two map[string]any) string {
	keys := maps.Clone(one)
	maps.Copy(keys, two)
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		a, b := one[key], two[key]
		tableA, ok := a.(map[string]any)
		tableB, ok2 := b.(map[string]any)
		switch {
		case ok && ok2:
			if d := firstDifference(path+key+".", tableA, tableB); d != "" {
				return d
			}
		case !reflect.DeepEqual(a, b):
			return path + key
		}
	}
	return ""
}

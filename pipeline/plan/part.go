package plan

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// part refuses every key of tree, the table under path of the combination t. A combination reads
// the tables of its parts and has no copies of them. The problem says where each key belongs.
func (c *checker) part(t *setting, path string, tree map[string]any) {
	at := join(t.key, path)
	if len(tree) == 0 {
		c.add(at, nil, notACopy, "take it out")
	}
	for _, key := range slices.Sorted(maps.Keys(tree)) {
		if sub, isTable := tree[key].(map[string]any); isTable {
			c.part(t, join(path, key), sub)
			continue
		}
		c.add(join(at, key), tree[key], notACopy, t.remedy(path, key))
	}
}

const notACopy = "a combination has no copy of its parts"

// remedy returns where a key under path of a combination belongs: in the combination, if it has
// such a key, and in the part.
func (t *setting) remedy(path, key string) string {
	part := "measures." + path
	_, inner, _ := strings.Cut(path, ".")
	first, _, _ := strings.Cut(join(inner, key), ".")
	own := slices.ContainsFunc(t.keys(), func(s setting) bool { return s.name == first })
	switch {
	case own && inner != "":
		return fmt.Sprintf("write it under [%s], which %s follows; what both cost together goes under [%s]",
			part, t.name, join(t.key, inner))
	case own:
		return fmt.Sprintf("write it under [%s]", t.key)
	}
	return fmt.Sprintf("write it under [%s], which %s follows", part, t.name)
}

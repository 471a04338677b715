package plan

import "strings"

// BuiltIn returns in words what decides the answer in money and is not the owner's: the plan does
// not set it, and the program's default holds. The words are joined by commas; "" for nothing.
func (p *Plan) BuiltIn() string {
	var out []string
	if !p.anyKey("measures.", ".price.") {
		out = append(out, "prices of measures")
	}
	for _, k := range [...]struct{ key, words string }{
		{"consequence.value_per_m2", "value per m2 where the register gives none"},
		{"consequence.downtime_share", "worth of a day closed"},
	} {
		if _, given := p.at[k.key]; !given {
			out = append(out, k.words)
		}
	}
	return strings.Join(out, ", ")
}

// anyKey reports whether the plan sets a key that begins with prefix and holds part.
func (p *Plan) anyKey(prefix, part string) bool {
	for key := range p.at {
		if strings.HasPrefix(key, prefix) && strings.Contains(key, part) {
			return true
		}
	}
	return false
}

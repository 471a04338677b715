package retrofit

// A Rule is one line of the table of feasibility rules.
type Rule struct {
	Name   string // slug, unique
	Source string // document, edition and clause, or "judgement"
}

package retrofit

var noneKind = Kind{
	Slug: "none", Name: "leaving it as it is",
	Does:   "Nothing is changed; every other measure is compared with it.",
	Cannot: "It protects nothing. Replacing the building or changing its use are not priced here.",
	Mark:   Mark{Shape: Dot, Colour: black},
}

// None leaves the building as it is: the candidate with which others are compared. It has no
// rules, no design and no cost. It is never a finding of safety.
type None struct{}

// Slug returns "none".
func (None) Slug() string { return "none" }

// Evaluate copies the demand as it stands.
func (n None) Evaluate(w *Work, c *Case, out *Outcome) {
	out.reset(n)
	w.Built = Built{Stick: c.Stick}
	levels := out.levels(len(c.AsIs))
	for i := range levels {
		levels[i].CopyFrom(&c.AsIs[i])
	}
}

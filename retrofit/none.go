package retrofit

var noneKind = Kind{
	Slug: "none", Name: "leaving it as it is",
	Does:   "Nothing is changed; every other measure is compared with it.",
	Cannot: "It protects nothing. Replacing the building or changing its use are not priced here.",
	Mark:   Mark{Shape: Dot, Colour: black},
}

package fault

import "plinth/pipeline/internal/near"

// likely is how many words a message offers for one that is not known.
const likely = 3

// DidYouMean phrases the nearest words, with all of them behind.
func DidYouMean(s string, words []string) string {
	all := "there are " + Listed(words, ", ")
	if meant := Meant(s, words); meant != "" {
		return meant + " " + all
	}
	return all
}

// Meant asks for the nearest words, "" if none is near.
func Meant(s string, words []string) string {
	if found := near.Words(s, words, likely); len(found) > 0 {
		return "did you mean " + Listed(found, " or ") + "?"
	}
	return ""
}

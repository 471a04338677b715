package main

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
)

// A basis is what the number in a row of a table rests on.
type basis int

// The bases, the better first. All but the first two come with a published value beside them,
// or with the words that none was found.
const (
	read       basis = iota // a standard or a paper whose text was read
	made                    // a definition, a law of statics or a measurement of the project
	remembered              // a standard or a paper whose text was not at hand
	practice                // common practice
	judged
	numBases
)

// The ends of a source that rests on memory, practice or judgement.
const (
	mark = "; beside it: "
	none = "; no published value found"
)

// sign are the words by which a basis is known, in the order in which they are looked for: a
// source that is partly judgement is judgement.
var sign = []struct {
	basis
	*regexp.Regexp
}{
	{judged, regexp.MustCompile(`\bjudgement\b`)},
	{remembered, regexp.MustCompile(`\bfrom memory\b`)},
	{practice, regexp.MustCompile(`^common practice\b`)},
	{made, regexp.MustCompile(`^(by )?definition\b|^(statics|measured|docs/fidelity\.md): `)},
	{read, dated},
}

// dated finds the year of a publication or of an edition, as in "2010" or "ASCE 7-16": what
// says that somebody else has published a value.
var dated = regexp.MustCompile(`\b(1[89]|20)\d\d|\b\d+-\d\d\b`)

// judge returns what a source rests on, and whether a published value stands beside it. An
// error says what the source lacks.
func judge(source string) (b basis, beside bool, err error) {
	head, published, beside := strings.Cut(source, mark)
	head, found := strings.CutSuffix(head, none)
	b = numBases
	for _, s := range sign {
		if s.MatchString(head) {
			b = s.basis
			break
		}
	}
	switch weak := b >= remembered; {
	case b == numBases:
		err = errors.New("names no dated publication and does not say judgement, from memory, " +
			"common practice, definition or measured")
	case beside && !dated.MatchString(published):
		err = errors.New("the value beside it has no dated publication")
	case beside && sign[1].MatchString(published):
		err = errors.New("the value beside it must have been read, not be from memory")
	case weak && beside == found:
		err = fmt.Errorf("must end either with %q and a published value or with %q", mark, none)
	case !weak && (beside || found):
		err = errors.New("rests on what was read or made here, and needs no value beside it")
	}
	return b, beside, err
}

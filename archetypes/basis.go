package archetypes

// A Formula is how one value of an archetype comes about: a rule with its terms,
// and where the rule or its constants are printed.
type Formula struct {
	ID         string // slug
	Text       string // the rule in plain text, with units
	Source     string // document, edition and clause, "judgement" or "common practice, no source"
	Confidence Confidence
}

// A Basis is the formula a value came from and how much of its input was given.
type Basis struct {
	*Formula
	Origin Origin
}

// An Origin says where a value of an archetype came from.
type Origin uint8

// The origins, the better first.
const (
	Given   Origin = iota + 1 // by the owner: a report or a measurement
	Derived                   // from given facts by a rule of the tables
	Assumed                   // a fact the rule needs was missing and a stated one was used
)

var originWords = [...]string{"", "given", "derived", "assumed"}

// String returns the origin in one word, "" for none.
func (o Origin) String() string { return originWords[min(int(o), len(originWords)-1)] }

// A Confidence says how well the number in a table is backed.
type Confidence uint8

// The confidences: High is read in the source or a definition, Medium from memory
// of a source or a reading of it, Low a judgement or common practice.
const (
	Low Confidence = iota
	Medium
	High
)

var confidenceWords = [...]string{"low", "medium", "high"}

// String returns the confidence in one word.
func (c Confidence) String() string { return confidenceWords[min(int(c), len(confidenceWords)-1)] }

// A Value is one of the values of an archetype that has a Basis.
type Value uint8

// The values with a basis.
const (
	HeightValue Value = iota
	WeightValue
	PeriodValue
	CoefficientValue // design base-shear coefficient
	StrengthValue
	LimitsValue
	DuctilityValue

	NumValues
)

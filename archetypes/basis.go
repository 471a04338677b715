package archetypes

// Formula is the rule behind one value of an archetype, with its terms and its source.
type Formula struct {
	ID         string // slug
	Text       string // the rule in plain text, with units
	Source     string // document, edition and clause, "judgement" or "common practice, no source"
	Confidence Confidence
}

// Basis is the formula of a value and the origin of its input.
type Basis struct {
	*Formula
	Origin Origin
}

// Origin tells how a value of an archetype was obtained.
type Origin uint8

// The origins, best first.
const (
	Given   Origin = iota + 1 // by the owner: a report or a measurement
	Derived                   // from given facts by a rule of the tables
	Assumed                   // a fact the rule needs was missing; a stated assumption replaced it
)

var originWords = [...]string{"", "given", "derived", "assumed"}

// String returns the origin in one word, "" for none.
func (o Origin) String() string { return originWords[min(int(o), len(originWords)-1)] }

// Confidence grades the evidence for a number in a table.
type Confidence uint8

// The confidences. High: read in the source, or a definition. Medium: from memory or
// interpretation of a source. Low: judgement or common practice.
const (
	Low Confidence = iota
	Medium
	High
)

var confidenceWords = [...]string{"low", "medium", "high"}

// String returns the confidence in one word.
func (c Confidence) String() string { return confidenceWords[min(int(c), len(confidenceWords)-1)] }

// Value is a value of an archetype that has a Basis.
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
	DampingValue

	NumValues
)

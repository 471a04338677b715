package retrofit

import "errors"

// A Kind says everything of one measure that the rest of the program asks: its table in
// the plan, the rules it is held against, its row in the table of dispersions, its mark
// in charts and on the map, and what pages say of it. Each stands in the file of its
// measure; the list is kinds.
type Kind struct {
	Slug   string // short name in plans and files
	Name   string // in plain words, as in "Not Name here: ..."
	Does   string // what it does to the building
	Cannot string // what it cannot do, or what this package does not look at

	Rules []string // names of the rules it is held against, in any order
	Mark  Mark
	Parts []string // slugs of the measures it combines, whose options it reads; none for most

	// Options returns the options with their defaults; nil where there is nothing to set.
	Options func() Options

	// Band returns which of Bands, the rows of the table of dispersions, a building of so
	// many storeys takes with the options of s; nil for the row of the slug.
	Band  func(s Set, storeys int) string
	Bands []string
}

// kinds are the measures, in the order they are usually tried.
var kinds = []*Kind{
	&noneKind,
	&leadRubberKind,
	&leadRubberStrengthenKind,
	&sliderKind,
	&viscousKind,
	&yieldingKind,
	&tunedMassKind,
	&strengthenKind,
	&strengthenViscousKind,
}

// Kinds returns the measures, in the order they are usually tried. They are shared; do not
// change them.
func Kinds() []*Kind { return append([]*Kind(nil), kinds...) }

// KindOf returns the kind of a slug.
func KindOf(slug string) (*Kind, bool) {
	for _, k := range kinds {
		if k.Slug == slug {
			return k, true
		}
	}
	return nil, false
}

// BandOf returns the row of the table of dispersions that a building takes.
func (k *Kind) BandOf(s Set, storeys int) string {
	if k.Band == nil {
		return k.Slug
	}
	return k.Band(s, storeys)
}

// AllBands returns every row of the table of dispersions that a building may take.
func (k *Kind) AllBands() []string {
	if k.Band == nil {
		return []string{k.Slug}
	}
	return k.Bands
}

// Options are the options of one measure: a pointer to a struct whose tags declare the
// keys of a plan (package plan).
type Options interface {
	// Validate returns all that is impossible in the options, joined.
	Validate() error

	// measure returns the measure. Its parts have their options in s.
	measure(s Set) Measure
}

// defaults returns how options with their defaults are made, from a function that returns
// them by value.
func defaults[O any, P interface {
	*O
	Options
}](byDefault func() O) func() Options {
	return func() Options {
		o := byDefault()
		return P(&o)
	}
}

// A Set holds the options of measures by their slugs.
type Set map[string]Options

// Defaults returns the options of all measures with their defaults.
func Defaults() Set {
	s := make(Set)
	for _, k := range kinds {
		if k.Options != nil {
			s[k.Slug] = k.Options()
		}
	}
	return s
}

// Measure returns the measure called slug, or all that is impossible in its options and
// those of its parts. It panics for a slug without options.
func (s Set) Measure(slug string) (Measure, error) {
	k, ok := KindOf(slug)
	if !ok || k.Options == nil {
		panic("retrofit: no such measure")
	}
	errs := []error{s[slug].Validate()}
	for _, part := range k.Parts {
		errs = append(errs, s[part].Validate())
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	return s[slug].measure(s), nil
}

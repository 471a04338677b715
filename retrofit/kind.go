package retrofit

import "errors"

// Kind describes one measure for the rest of the program: its table in the plan, its rules, its
// row in the table of dispersions, its mark in charts and on the map, and the words of pages.
// It is declared in the file of its measure; the list is kinds.
type Kind struct {
	Slug   string // short name in plans and files
	Name   string // in plain words, to complete "Not ... here:"
	Does   string // effect on the building
	Cannot string // limits of the measure, or of this package

	Rules []string // names of its rules, in any order
	Mark  Mark
	Parts []string // slugs of the measures it combines and whose options it reads; usually none

	// Options returns the default options; nil if there are none.
	Options func() Options

	// Band returns the row of the table of dispersions, one of Bands, for a number of storeys
	// and the options of s; nil for the row of the slug.
	Band  func(s Set, storeys int) string
	Bands []string
}

// kinds are the measures, in the order in which they are usually tried.
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

// Kinds returns the measures, in the order in which they are usually tried. They are shared; do
// not change them.
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

// BandOf returns the building's row in the table of dispersions.
func (k *Kind) BandOf(s Set, storeys int) string {
	if k.Band == nil {
		return k.Slug
	}
	return k.Band(s, storeys)
}

// AllBands returns every row of the table of dispersions that a building may use.
func (k *Kind) AllBands() []string {
	if k.Band == nil {
		return []string{k.Slug}
	}
	return k.Bands
}

// Options are the options of one measure: a pointer to a struct whose tags declare the keys of
// a plan (package plan).
type Options interface {
	// Validate returns all invalid options, joined.
	Validate() error

	// measure returns the measure. The options of its parts are in s.
	measure(s Set) Measure
}

// defaults converts a function that returns default options by value to one that returns a
// pointer.
func defaults[O any, P interface {
	*O
	Options
}](byDefault func() O) func() Options {
	return func() Options {
		o := byDefault()
		return P(&o)
	}
}

// Set holds the options of measures by their slugs.
type Set map[string]Options

// Defaults returns the default options of all measures.
func Defaults() Set {
	s := make(Set)
	for _, k := range kinds {
		if k.Options != nil {
			s[k.Slug] = k.Options()
		}
	}
	return s
}

// Measure returns the measure called slug, or all invalid options of it and its parts. It
// panics for a slug without options.
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

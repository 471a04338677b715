package hazard

import "fmt"

// SiteClass is the letter of a ground class: A to F in ASCE 7 Table 20.3-1, A to E in EN 1998-1
// Table 3.1 and NZS 1170.5 3.1.3. The zero value is an unknown class. The standard defines what
// a letter means (SoilStandard).
type SiteClass byte

// ParseSiteClass returns the class named by s, one letter from A to F in either
// case.
func ParseSiteClass(s string) (SiteClass, error) {
	if len(s) == 1 {
		if c := s[0] &^ 0x20; c >= 'A' && c <= 'F' {
			return SiteClass(c), nil
		}
	}
	return 0, fmt.Errorf("site class %q is not one letter from A to F", s)
}

// String returns the letter, or "" for an unknown class.
func (c SiteClass) String() string {
	if c == 0 {
		return ""
	}
	return string(rune(c))
}

// Site is the hazard at one building: a spectrum for each return period, with a status that
// tells how it was read. It is filled in place for one building after another and keeps its
// storage.
type Site struct {
	ReturnPeriod []float64  // yr, ascending; shared, never written by a lookup
	Spectra      []Spectrum // one a return period
	Class        SiteClass  // class the spectra hold for, 0 if the source does not say
	Distance     float64    // m, to the nearest node used; 0 where it has no meaning
	Status       Status
}

// Status flags where a site's spectra are not plain values of the source. Values combine by or.
type Status uint16

// The statuses of a Site.
const (
	BelowRange   Status = 1 << iota // a return period shorter than the source's shortest
	AboveRange                      // a return period longer than the source's longest
	PowerLaw                        // return periods extended from one level by H ~ a^-k
	StudyNeeded                     // the standard requires a site-specific study (ASCE 7-16 11.4.8)
	AssumedClass                    // site class assumed, not given
	NearestNode                     // read from the nearest node, outside a zone or cell
	SlopeUnknown                    // one return period and no declared slope: others are by a default
	FarBeyond                       // annual values use return periods far outside the source's
)

var statusWords = []string{
	"return period below the source's range",
	"return period above the source's range",
	"return periods scaled from one level by a power law",
	"the standard requires a site-specific study",
	"site class assumed",
	"read from the nearest node",
	"how fast shaking grows with return period is not known: annual values decide nothing",
	"annual values rest on shaking far outside the source's return periods",
}

// Words returns the status in plain words, one entry a flag.
func (s Status) Words() []string {
	var out []string
	for i, w := range statusWords {
		if s&(1<<i) != 0 {
			out = append(out, w)
		}
	}
	return out
}

package motion

import (
	"math"
	"sync"

	"plinth/hazard"
)

// Library makes suites and keeps them by the shape of their spectrum and by duration: buildings on
// the same ground, and all levels of a scaled spectrum, share records. It is safe for concurrent use.
// What it returns depends on the spectrum alone, not on earlier calls.
type Library struct {
	settings Settings
	most     int

	mu     sync.Mutex
	kept   map[key]*entry
	oldest []key // keys of kept, oldest first
}

// A key is what makes two suites the same but for their level.
type key struct {
	shape
	Envelope
	tb, tc float64 // corners of the mean spectrum, s
}

// An entry is a suite that is made once, at the level of its shape.
type entry struct {
	once    sync.Once
	records []Record
	mean    *hazard.Spectrum
}

// NewLibrary returns a library of suites with the settings. It keeps the latest most shapes, at
// least one; a suite of 11 records of 17 s takes 600 kB.
func NewLibrary(s Settings, most int) (*Library, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	return &Library{settings: s, most: max(1, most), kept: map[key]*entry{}}, nil
}

// durationGrain is the step in ln of a duration to which those of spectra are rounded, so that sites
// alike share records. The error of half of it is far below the scatter of durations, 0.46.
const durationGrain = 0.1

// envelope returns the envelope of the settings, or else that of the duration of target; where that
// is not known, of the duration that the damping coefficients of codes assume.
func (l *Library) envelope(target *hazard.Spectrum) Envelope {
	if l.settings.Envelope != (Envelope{}) {
		return l.settings.Envelope
	}
	d := target.Duration
	if d == 0 {
		d = hazard.CodeDuration
	}
	return EnvelopeFor(math.Exp(durationGrain * math.Round(math.Log(d)/durationGrain)))
}

// Suite returns records that match target, by random phases under the envelope and iteration in
// the frequency domain (maker.match). Each record has its own stream of random numbers: the
// first seven records of eleven are those of a suite of seven.
//
// It is an error if a spectrum is not positive at every matched period.
func (l *Library) Suite(target *hazard.Spectrum) (*Suite, error) {
	sh, level, err := shapeOf(target)
	if err != nil {
		return nil, err
	}
	e := l.envelope(target)
	made := l.entry(key{sh, e, target.TB, target.TC})
	made.once.Do(func() {
		made.records = generate(&sh, e, l.settings)
		made.mean = meanOf(made.records, target)
		all := Suite{Records: made.records}
		made.mean.Duration = hazard.DurationWorth(all.significant())
	})
	out := &Suite{Records: make([]Record, len(made.records)), Target: target, Mean: &hazard.Spectrum{}}
	for i := range made.records {
		out.Records[i] = made.records[i].Times(level)
	}
	out.Mean.CopyFrom(made.mean)
	out.Mean.Scale(level)
	return out, nil
}

// entry returns the entry of a key, and makes room for it if it is new.
func (l *Library) entry(k key) *entry {
	l.mu.Lock()
	defer l.mu.Unlock()
	if e := l.kept[k]; e != nil {
		return e
	}
	if len(l.oldest) == l.most {
		delete(l.kept, l.oldest[0])
		l.oldest = append(l.oldest[:0], l.oldest[1:]...)
	}
	e := &entry{}
	l.kept[k] = e
	l.oldest = append(l.oldest, k)
	return e
}

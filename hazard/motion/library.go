package motion

import (
	"sync"

	"plinth/hazard"
)

// Library makes suites and keeps them by the shape of their spectrum: buildings on the same
// ground, and all levels of a scaled spectrum, share records. It is safe for concurrent use.
// What it returns depends on the spectrum alone, not on earlier calls.
type Library struct {
	settings Settings
	most     int

	mu     sync.Mutex
	kept   map[shape]*entry
	oldest []shape // keys of kept, oldest first
}

// An entry is a suite that is made once.
type entry struct {
	once    sync.Once
	records []Record
}

// NewLibrary returns a library of suites with the settings. It keeps the latest most shapes, at
// least one; a suite of 11 short records takes 150 kB.
func NewLibrary(s Settings, most int) (*Library, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	return &Library{settings: s, most: max(1, most), kept: map[shape]*entry{}}, nil
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
	e := l.entry(sh)
	e.once.Do(func() { e.records = generate(&sh, l.settings) })
	out := &Suite{Records: make([]Record, len(e.records)), Target: target}
	for i := range e.records {
		out.Records[i] = e.records[i].Times(level)
	}
	return out, nil
}

// entry returns the entry of a shape, and makes room for it if it is new.
func (l *Library) entry(sh shape) *entry {
	l.mu.Lock()
	defer l.mu.Unlock()
	if e := l.kept[sh]; e != nil {
		return e
	}
	if len(l.oldest) == l.most {
		delete(l.kept, l.oldest[0])
		l.oldest = append(l.oldest[:0], l.oldest[1:]...)
	}
	e := &entry{}
	l.kept[sh] = e
	l.oldest = append(l.oldest, sh)
	return e
}

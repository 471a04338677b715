package motion

import (
	"sync"

	"plinth/hazard"
)

// A Library makes suites and keeps them by the shape of their spectrum: buildings
// on one kind of ground, and every level of a scaled spectrum, share records. It is
// safe for concurrent use, and what it returns depends on the spectrum alone, not
// on what was asked before.
type Library struct {
	settings Settings
	most     int

	mu     sync.Mutex
	kept   map[shape]*entry
	oldest []shape // of kept, oldest first
}

// An entry is a suite that is made once.
type entry struct {
	once    sync.Once
	records []Record
}

// NewLibrary returns a library of suites with the settings. It keeps the last most
// shapes, at least one; a suite of 11 short records takes 150 kB.
func NewLibrary(s Settings, most int) (*Library, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	return &Library{settings: s, most: max(1, most), kept: map[shape]*entry{}}, nil
}

// Suite returns records that match target, by random phases under the envelope and
// iteration in the frequency domain (maker.match). Each record has a stream of
// random numbers of its own: the first seven of eleven are the seven.
//
// A spectrum that is not positive at every period of the match is an error.
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

// entry returns the place of a shape, making room for it.
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

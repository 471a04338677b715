package assess

import (
	"context"
	"fmt"
	"strings"

	"plinth/pipeline/inventory"
)

// namesakesShown is how many buildings of one name an error lists.
const namesakesShown = 10

// AssessOne reads the register and assesses the building whose id is key, or else the
// only building whose name is key. The error says if there is none, if it was
// rejected, if several have the name, or if it cannot be assessed.
func (study *Study) AssessOne(ctx context.Context, key string) (*Assessment, error) {
	s := search{key: key, again: make(map[string][]inventory.Reject)}
	if _, err := study.EachBatch(ctx, s.look); err != nil {
		return nil, err
	}
	b, err := s.found(study.plan.Inventory.Path)
	if err != nil {
		return nil, err
	}
	a := study.NewAssessment()
	a.Again = s.again[b.ID]
	if err := a.Assess(b); err != nil {
		return nil, fmt.Errorf("building %q, line %d, cannot be assessed: %w", b.ID, b.Line, err)
	}
	return a, nil
}

// A search looks through a register for one building.
type search struct {
	key    string
	byID   *inventory.Building
	byName []inventory.Building          // the first few of the name
	named  int                           // all of them
	again  map[string][]inventory.Reject // later rows of those found, by id
	reject *inventory.Reject             // the first of the id, for another reason than being there twice
	near   string                        // an id that looks like it
}

// look searches one batch of the register. It copies what it keeps.
func (s *search) look(batch *inventory.Batch) error {
	for i := range batch.Buildings {
		b := &batch.Buildings[i]
		switch {
		case b.ID == s.key:
			kept := *b
			s.byID = &kept
			s.again[b.ID] = nil
		case s.key != "" && strings.EqualFold(b.Name, s.key):
			if s.named++; s.named <= namesakesShown {
				s.byName = append(s.byName, *b)
				s.again[b.ID] = nil
			}
		case s.near == "" && inventory.Alike(b.ID, s.key):
			s.near = fmt.Sprintf("did you mean %q? ", b.ID)
		}
	}
	for i := range batch.Rejects {
		rj := batch.Rejects[i]
		if rows, kept := s.again[rj.ID]; kept && rj.ID != "" {
			s.again[rj.ID] = append(rows, rj)
		}
		if rj.ID == s.key && rj.Rule != inventory.DuplicateID && s.reject == nil {
			s.reject = &rj
		}
	}
	return nil
}

// found returns the building with the id, or else the only one with the name. The error says
// why there is none.
func (s *search) found(path string) (*inventory.Building, error) {
	switch {
	case s.byID != nil:
		return s.byID, nil
	case s.reject != nil:
		return nil, fmt.Errorf("building %q was rejected: %w", s.key, s.reject)
	case s.named == 1:
		return &s.byName[0], nil
	case s.named > 1:
		var ids []string
		for i := range s.byName {
			ids = append(ids, fmt.Sprintf("%s (line %d)", s.byName[i].ID, s.byName[i].Line))
		}
		more := ""
		if rest := s.named - len(ids); rest > 0 {
			more = fmt.Sprintf(" and %d more", rest)
		}
		return nil, fmt.Errorf("%d buildings are called %q: %s%s; give the id of one of them",
			s.named, s.key, strings.Join(ids, ", "), more)
	}
	return nil, fmt.Errorf("no building %q in %s; %sids are compared letter by letter, "+
		"as the register has them, names in any case", s.key, path, s.near)
}

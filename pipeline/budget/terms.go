package budget

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"plinth/pipeline/assess"
)

// terms hold the conditions of the owner for single buildings.
type terms struct {
	must, cannot map[string]bool
	latest       map[string]int // year of the programme, 1 first
	group        map[string]string
	line         map[string]int  // of the file of terms
	met          map[string]bool // buildings named here that were assessed
	wrong        []error         // apart from buildings that were not
}

func newTerms() *terms {
	return &terms{must: map[string]bool{}, cannot: map[string]bool{}, latest: map[string]int{},
		group: map[string]string{}, line: map[string]int{}, met: map[string]bool{}}
}

// readTerms reads the lists and the file of terms of the plan. What is wrong with them is told by
// problems, once the buildings are known.
func readTerms(study *assess.Study) *terms {
	b, t := &study.Plan().Budget, newTerms()
	for _, id := range b.Must {
		t.must[id] = true
	}
	for _, id := range b.Cannot {
		t.cannot[id] = true
	}
	for _, id := range b.Must {
		if t.cannot[id] {
			t.wrong = append(t.wrong, study.InPlan("budget.must",
				fmt.Errorf("building %q both must and cannot be done; take it off one list", id)))
		}
	}
	if b.Terms == "" {
		return t
	}
	f, err := assess.OpenNamed(b.Terms)
	if err == nil {
		defer f.Close()
		t.wrong = append(t.wrong, t.read(f, filepath.Base(b.Terms), b.FirstYear, b.Years))
	}
	t.wrong = append(t.wrong, study.InPlan("budget.terms", err))
	return t
}

// meet marks a building as assessed if the terms name it.
func (t *terms) meet(id string) {
	if _, named := t.group[id]; named || t.must[id] || t.cannot[id] {
		t.met[id] = true
	}
}

// problems returns all that is wrong with the terms, once every assessed building was met: it is
// an error to name a building that the run does not have, or one that both must and cannot be
// done.
func (t *terms) problems(study *assess.Study) error {
	b := &study.Plan().Budget
	var errs []error
	for _, list := range []struct {
		key string
		ids []string
	}{{"must", b.Must}, {"cannot", b.Cannot}} {
		for _, id := range list.ids {
			if !t.met[id] {
				errs = append(errs, study.InPlan("budget."+list.key,
					fmt.Errorf("no building %q was assessed; take it off the list or correct it: ids are "+
						"compared letter by letter", id)))
			}
		}
	}
	return errors.Join(append(append(errs, t.wrong...), t.unknown(filepath.Base(b.Terms)))...)
}

// unknown returns an error that names the first line of a file of terms whose building was not
// assessed.
func (t *terms) unknown(file string) error {
	first, at := "", 0
	for id, line := range t.line {
		if !t.met[id] && (at == 0 || line < at) {
			first, at = id, line
		}
	}
	if at == 0 {
		return nil
	}
	return fmt.Errorf("%s:%d: no building %q was assessed; take the line out or correct the id", file, at,
		first)
}

// termColumns are the columns of a file of terms, in any order; only id is needed.
var termColumns = []string{"id", "group", "latest_year"}

// read reads a file of terms: id, group, latest_year.
func (t *terms) read(from io.Reader, file string, firstYear, years int) error {
	in := csv.NewReader(from)
	header, err := in.Read()
	if err != nil {
		return fmt.Errorf("%s: %w; the first line names the columns %s", file, err,
			strings.Join(termColumns, ", "))
	}
	at := map[string]int{}
	for i, h := range header {
		h = strings.TrimSpace(strings.TrimPrefix(h, "\ufeff"))
		if !slices.Contains(termColumns, h) {
			return fmt.Errorf("%s:1: column %q is not one of %s", file, h, strings.Join(termColumns, ", "))
		}
		if _, ok := at[h]; ok {
			return fmt.Errorf("%s:1: column %s stands twice", file, h)
		}
		at[h] = i
	}
	if _, ok := at["id"]; !ok {
		return fmt.Errorf("%s:1: no column id", file)
	}
	for {
		row, err := in.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		line, _ := in.FieldPos(0)
		cell := func(name string) string {
			if i, ok := at[name]; ok {
				return strings.TrimSpace(row[i])
			}
			return ""
		}
		id := cell("id")
		if _, ok := t.group[id]; ok {
			return fmt.Errorf("%s:%d: building %s stands twice; leave one line of it", file, line, id)
		}
		t.group[id], t.line[id] = cell("group"), line
		if s := cell("latest_year"); s != "" {
			y, err := strconv.Atoi(s)
			if err != nil || y < firstYear {
				return fmt.Errorf("%s:%d: building %s: latest_year %q: want a year from %d on "+
					"(budget.first_year)", file, line, id, s, firstYear)
			}
			t.latest[id] = min(y-firstYear+1, years)
		}
	}
}

// termsFiles returns the path of the file of terms, if the plan names one.
func termsFiles(study *assess.Study) []string {
	if study.Plan().Budget.Terms == "" {
		return nil
	}
	return []string{study.Plan().Budget.Terms}
}

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
}

// readTerms reads the lists and the file of terms of the plan. It is an error to name a
// building that the run does not have, or one that both must and cannot be done.
func readTerms(study *assess.Study, all []building) (*terms, error) {
	b := &study.Plan().Budget
	known := make(map[string]bool, len(all))
	for i := range all {
		known[all[i].id] = true
	}
	t := &terms{must: map[string]bool{}, cannot: map[string]bool{}, latest: map[string]int{},
		group: map[string]string{}}
	var errs []error
	for _, list := range []struct {
		key string
		ids []string
		to  map[string]bool
	}{{"must", b.Must, t.must}, {"cannot", b.Cannot, t.cannot}} {
		for _, id := range list.ids {
			if !known[id] {
				errs = append(errs, study.InPlan("budget."+list.key,
					fmt.Errorf("no building %q was assessed; take it off the list or correct it: ids are "+
						"compared letter by letter", id)))
			}
			list.to[id] = true
		}
	}
	for _, id := range b.Must {
		if t.cannot[id] {
			errs = append(errs, study.InPlan("budget.must",
				fmt.Errorf("building %q both must and cannot be done; take it off one list", id)))
		}
	}
	if b.Terms != "" {
		f, err := assess.OpenNamed(b.Terms)
		if err != nil {
			return nil, study.InPlan("budget.terms", err)
		}
		defer f.Close()
		errs = append(errs, t.read(f, filepath.Base(b.Terms), b.FirstYear, b.Years, known))
	}
	return t, errors.Join(errs...)
}

// termColumns are the columns of a file of terms, in any order; only id is needed.
var termColumns = []string{"id", "group", "latest_year"}

// read reads a file of terms: id, group, latest_year.
func (t *terms) read(from io.Reader, file string, firstYear, years int, known map[string]bool) error {
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
		if !known[id] {
			return fmt.Errorf("%s:%d: no building %q was assessed; take the line out or correct the id", file,
				line, id)
		}
		if _, ok := t.group[id]; ok {
			return fmt.Errorf("%s:%d: building %s stands twice; leave one line of it", file, line, id)
		}
		t.group[id] = cell("group")
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

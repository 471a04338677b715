package pipeline

import (
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"plinth/pipeline/inventory"
)

// SolverFailed is the rule of a building on which the program failed.
const SolverFailed = "solver-failed"

// A FailedError says that the program failed on one building: a mistake in it that the
// data of this building has met, not a mistake of the data. The building is rejected and
// the run goes on.
type FailedError struct {
	ID    string // of the building
	Cause string // what went wrong and where in the program
}

// Finding says what happened.
func (e *FailedError) Finding() string {
	return fmt.Sprintf("%s: the program failed on building %q; the mistake is in the program, "+
		"not in the register", SolverFailed, e.ID)
}

// Remedy says what to do about it.
func (e *FailedError) Remedy() string {
	return "report it to the makers of the program, with this row, the plan and the version " +
		"(plinth --version); until it is mended have the building studied by itself: " +
		"nothing is known of its safety here"
}

// Error says what happened, why, and what to do about it.
func (e *FailedError) Error() string {
	return fmt.Sprintf("%s (%s); %s", e.Finding(), e.Cause, e.Remedy())
}

// failure returns err as a *FailedError, nil if it is none.
func failure(err error) *FailedError {
	if err == nil {
		return nil // nothing is allocated for a building that goes well
	}
	var f *FailedError
	errors.As(err, &f)
	return f
}

// recovered is deferred by what is done for one building. It makes a panic there the error
// of that building, whose scratch space is then not to be used again. It is the one place
// where a building's panic ends.
func recovered(b *inventory.Building, err *error) {
	if p := recover(); p != nil {
		*err = &FailedError{ID: b.ID, Cause: cause(p)}
	}
}

// placesShown is how many functions of the program a cause names.
const placesShown = 3

// cause returns what was panicked with and the innermost functions of the program it came
// through. The same mistake has the same cause: no address and no path of a machine is in
// it.
func cause(p any) string {
	what := fmt.Sprintf("%T", p)
	switch v := p.(type) {
	case error:
		what = v.Error()
	case string:
		what = v
	}
	var pcs [64]uintptr
	frames := runtime.CallersFrames(pcs[:runtime.Callers(3, pcs[:])]) // from the panic on
	var at []string
	for more := true; more && len(at) < placesShown; {
		var f runtime.Frame
		f, more = frames.Next()
		if _, name, ours := strings.Cut(f.Function, module); ours {
			at = append(at, fmt.Sprintf("%s, line %d", name[strings.LastIndex(name, "/")+1:], f.Line))
		}
	}
	return fmt.Sprintf("%s (%s)", what, strings.Join(at, "; "))
}

// module is how the names of the program's functions begin.
const module = "plinth/"

// A failedList gathers the buildings that were assessed and on which the program failed
// afterwards. Goroutines may share it.
type failedList struct {
	mu  sync.Mutex
	ids []string
}

func (l *failedList) add(id string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.ids = append(l.ids, id)
}

// sort puts the ids in order, once all are known.
func (l *failedList) sort() { slices.Sort(l.ids) }

// failedShown is how many buildings a note of failures names.
const failedShown = 20

// failedNote says in a manifest of which buildings something is missing; none where
// nothing is.
func failedNote(ids []string, missing string) []string {
	if len(ids) == 0 {
		return nil
	}
	more := ""
	if n := len(ids) - failedShown; n > 0 {
		more = fmt.Sprintf(" and %d more", n)
	}
	named := strings.Join(ids[:min(len(ids), failedShown)], ", ")
	return []string{fmt.Sprintf("Of %s %s, since the program failed there away from what is assumed (%s): "+
		"%s%s. Report it to the makers of the program.",
		someBuildings(int64(len(ids))), missing, SolverFailed, named, more)}
}

// someBuildings returns a number of buildings in words.
func someBuildings(n int64) string {
	if n == 1 {
		return "1 building"
	}
	return fmt.Sprintf("%d buildings", n)
}

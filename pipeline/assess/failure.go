package assess

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

// A FailedError says that the program failed on one building. The mistake is in the program,
// not in the data. The building is rejected and the run goes on.
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

// FailureOf returns err as a *FailedError, nil if it is none.
func FailureOf(err error) *FailedError {
	if err == nil {
		return nil // nothing is allocated for a building that goes well
	}
	var f *FailedError
	errors.As(err, &f)
	return f
}

// CatchPanic turns a panic into a *FailedError of building b. It must be deferred by the
// function that works on the building. The scratch space of that work must not be used again.
// No other place recovers from a panic of a building.
func CatchPanic(b *inventory.Building, err *error) {
	if p := recover(); p != nil {
		*err = &FailedError{ID: b.ID, Cause: cause(p)}
	}
}

// placesShown is how many functions of the program a cause names.
const placesShown = 3

// cause returns the value of a panic and the innermost functions of the program that it
// passed. It holds no addresses and no paths, so that the same mistake has the same cause.
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

// FailedBuildings collects the ids of buildings that were assessed and on which the program
// failed afterwards. Goroutines may share it.
type FailedBuildings struct {
	mu  sync.Mutex
	IDs []string
}

func (l *FailedBuildings) Add(id string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.IDs = append(l.IDs, id)
}

// Sort puts the ids in order, once all are known.
func (l *FailedBuildings) Sort() { slices.Sort(l.IDs) }

// failedShown is how many buildings a note of failures names.
const failedShown = 20

// FailedNote returns the note of a manifest that says for which buildings something is
// missing; nil for no buildings.
func FailedNote(ids []string, missing string) []string {
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
		BuildingsInWords(int64(len(ids))), missing, SolverFailed, named, more)}
}

// BuildingsInWords returns a number of buildings in words.
func BuildingsInWords(n int64) string {
	if n == 1 {
		return "1 building"
	}
	return fmt.Sprintf("%d buildings", n)
}

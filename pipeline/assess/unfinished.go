package assess

import (
	"fmt"
	"strings"
)

// An UnfinishedError says that a run ended early and can be resumed.
type UnfinishedError struct {
	Done int64
	What string // is done, such as rows
	How  string // the command that goes on
	Err  error
}

// Unfinished returns the error of a run of the plan file that ended early with err. The
// results of the first done rows or buildings (what) are kept; command resumes the run.
func Unfinished(done int64, what, command, plan string, err error) error {
	return &UnfinishedError{Done: done, What: what, How: Command(command, plan), Err: err}
}

func (e *UnfinishedError) Error() string { return e.Err.Error() + "\n" + e.Remedy() }

// Remedy says what is kept and how to go on.
func (e *UnfinishedError) Remedy() string {
	return fmt.Sprintf("%d %s are done and kept: `%s` goes on from there", e.Done, e.What, e.How)
}

// Command returns the line for a shell that runs a command of the program on a plan file.
func Command(command, plan string) string {
	if plan == "" {
		plan = "PLAN"
	} else if strings.Trim(plan, shellPlain) != "" {
		plan = "'" + strings.ReplaceAll(plan, "'", `'\''`) + "'"
	}
	return "plinth " + command + " " + plan
}

// shellPlain holds some characters that every shell leaves alone.
const shellPlain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789/._-+"

// Unwrap returns the error that ended the run.
func (e *UnfinishedError) Unwrap() error { return e.Err }

// Package commands is the command line of Plinth, one file for each command. Main runs it and
// returns the exit code. Nothing else in the program exits or prints.
//
// Diagnostics and progress go to stderr. Results that were asked for go to stdout.
package commands

import (
	"context"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"strings"

	"github.com/urfave/cli/v2"

	"plinth/pipeline/output"
	"plinth/pipeline/page"
	"plinth/pipeline/plan"
)

// Version is the version of the program. Package main sets it.
var Version = "unknown"

// The exit codes.
const (
	exitDone     = 0
	exitUnusable = 1 // input that cannot be used
	exitUsage    = 2
	exitRejected = 3 // done, with more rejected rows than are tolerated
	exitInternal = 4
)

// Main runs the command line args, where args[0] is the program, and returns the exit code. An
// interrupt ends the run cleanly.
func Main(args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(stderr, "plinth: this is a mistake in the program, not in your data: %v\n%s", r, debug.Stack())
			code = exitInternal
		}
	}()
	ctx, stop := untilSignal(context.Background())
	defer stop()
	err := app(stdin, stdout, stderr).RunContext(ctx, args)
	if errors.Is(err, context.Canceled) {
		return stopped(ctx, err, stderr)
	}
	return report(err, stderr)
}

// report prints err once and returns its exit code.
func report(err error, stderr io.Writer) int {
	var done *rejectedError
	var usage *usageError
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &done):
		if !done.tolerated.None() {
			fmt.Fprintf(stderr, "plinth: %v\n", err)
		}
		return exitRejected
	case errors.As(err, &usage):
		complain(stderr, err.Error())
		return exitUsage
	}
	complain(stderr, err.Error())
	return exitUnusable
}

// complain prints each line of a message with its controls replaced, since it may hold names from
// an owner's files, columns and tables.
func complain(stderr io.Writer, message string) {
	for line := range strings.SplitSeq(message, "\n") {
		fmt.Fprintln(stderr, "plinth:", page.Harmless(line))
	}
}

// A usageError is the error of a command line that cannot be understood.
type usageError struct{ error }

// A rejectedError says that a run is done and that more rows were rejected than are tolerated. If
// none are tolerated, it is not printed: the summary has said so.
type rejectedError struct {
	counts    output.Counts
	tolerated plan.Tolerance
}

func (e *rejectedError) Error() string {
	return fmt.Sprintf("%d of %d rows were rejected, more than the %s that are tolerated", e.counts.Rejected,
		e.counts.In, e.tolerated)
}

func app(stdin io.Reader, stdout, stderr io.Writer) *cli.App {
	return &cli.App{
		Name:    "plinth",
		Usage:   "which buildings of a stock to protect against earthquakes, with what, at what cost, and how sure",
		Version: Version,
		Description: "One run is one plan, a TOML file that names the register, the hazard and the measures.\n" +
			"Start with `plinth sample demo` and `plinth screen demo/plan.toml`, or with your own register:\n" +
			"`plinth init REGISTER`.\n\n" +
			"Exit codes: 0 done, 1 input unusable, 2 usage, 3 done but more rows of the register were rejected than " +
			"--tolerate-rejects or the plan allows, which is none by default (screen, check, confirm, budget, " +
			"inspect), 4 internal, 129 hung up (SIGHUP), 130 interrupted (SIGINT), 143 terminated (SIGTERM).\n\n" +
			output.Caution,
		Reader: stdin, Writer: stdout, ErrWriter: stderr,
		Commands: []*cli.Command{
			initCommand(), screenCommand(), checkCommand(), confirmCommand(), explainCommand(),
			budgetCommand(), inspectCommand(), auditCommand(), sampleCommand(), completionCommand(), completeCommand(),
		},
		HideHelpCommand: true,
		Suggest:         true,
		ExitErrHandler:  func(*cli.Context, error) {},
		OnUsageError:    asUsage,
		Action: func(c *cli.Context) error {
			if c.Args().Present() {
				return &usageError{fmt.Errorf("no command %q; `plinth --help` lists them", c.Args().First())}
			}
			return cli.ShowAppHelp(c)
		},
	}
}

// asUsage turns an error of the flag parser into a usageError.
func asUsage(c *cli.Context, err error, _ bool) error {
	name := "plinth"
	if c.Command != nil && c.Command.Name != "" && c.Command.Name != name {
		name += " " + c.Command.Name
	}
	return &usageError{fmt.Errorf("%w; `%s --help` shows how it is used", err, name)}
}

// arguments returns the positional arguments of the command. There must be as many as names.
func arguments(c *cli.Context, names ...string) ([]string, error) {
	for _, arg := range c.Args().Slice() {
		if strings.HasPrefix(arg, "-") && len(arg) > 1 {
			return nil, &usageError{fmt.Errorf("%s stands after %s: flags come first; `plinth %s --help` shows how "+
				"it is used", arg, names[0], c.Command.Name)}
		}
	}
	if c.NArg() != len(names) {
		return nil, &usageError{fmt.Errorf("%s wants %s, got %d argument(s); `plinth %s --help` shows how it is "+
			"used",
			c.Command.Name, strings.Join(names, " and "), c.NArg(), c.Command.Name)}
	}
	return c.Args().Slice(), nil
}

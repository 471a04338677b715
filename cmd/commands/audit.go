package commands

import (
	"encoding/json"
	"errors"
	"fmt"

	"github.com/urfave/cli/v2"

	"plinth/pipeline/audit"
	"plinth/pipeline/output"
	"plinth/pipeline/page"
)

func auditCommand() *cli.Command {
	return &cli.Command{
		Name:      "audit",
		Usage:     "check a finished run's files by named rules",
		ArgsUsage: "DIR",
		Description: "Reads the files in DIR, the output folder of a run, and checks that they are whole, agree " +
			"with each\n" +
			"other and with the manifest. Exit code 1 if a rule fails.\n\n" +
			"Examples:\n" +
			"   plinth audit demo/out\n" +
			"   plinth audit --json demo/out",
		Flags:        []cli.Flag{quietFlag(), &cli.BoolFlag{Name: "json", Usage: "print the findings as JSON"}},
		OnUsageError: asUsage,
		Action: func(c *cli.Context) error {
			args, err := arguments(c, "DIR")
			if err != nil {
				return err
			}
			findings, err := audit.Dir(c.Context, args[0])
			if err != nil {
				return err
			}
			if err := printFindings(c, findings); err != nil {
				return err
			}
			if audit.Failed(findings) {
				return errors.New("the run must not be relied on: a rule fails; screen again, or find out who changed " +
					"the files")
			}
			return nil
		},
	}
}

// printFindings prints a line a rule, or all of them as JSON, or nothing.
func printFindings(c *cli.Context, findings []audit.Finding) error {
	if c.Bool("quiet") {
		return nil
	}
	if c.Bool("json") {
		e := json.NewEncoder(c.App.Writer)
		e.SetIndent("", "  ")
		return e.Encode(findings)
	}
	w := page.New(c.App.Writer)
	for _, f := range findings {
		w.Wrap(fmt.Sprintf("%-8s", f.Verdict), f.Rule+": "+f.Detail)
	}
	w.Line("")
	w.Wrap("", output.Caution)
	return w.Flush()
}

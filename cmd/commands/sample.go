package commands

import (
	"fmt"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"plinth/pipeline/sample"
)

func sampleCommand() *cli.Command {
	return &cli.Command{
		Name:      "sample",
		Usage:     "write the demo town: a plan, a register and a hazard grid",
		ArgsUsage: "DIR",
		Description: "Calder Sound is a fictional harbour town in the open ocean. Every number in it is " +
			"invented.\n\n" +
			"Examples:\n" +
			"   plinth sample demo                        the town, 240 buildings\n" +
			"   plinth sample --buildings 100000 big      the same country, more buildings",
		Flags: []cli.Flag{
			&cli.IntFlag{Name: "buildings", Value: sample.Buildings, Usage: "`N` buildings"},
			&cli.BoolFlag{Name: "force", Usage: "write over files of an earlier demo"},
			quietFlag(),
		},
		OnUsageError: asUsage,
		Action: func(c *cli.Context) error {
			args, err := arguments(c, "DIR")
			if err != nil {
				return err
			}
			if err := sample.Write(c.Context, args[0], c.Int("buildings"), c.Bool("force")); err != nil {
				return err
			}
			if c.Bool("quiet") {
				return nil
			}
			fmt.Fprintf(c.App.ErrWriter, "wrote %s\nnext: plinth screen %s\n",
				filepath.Join(args[0], "{plan.toml, buildings.csv, hazard.csv}"), filepath.Join(args[0], sample.PlanFile))
			return nil
		},
	}
}

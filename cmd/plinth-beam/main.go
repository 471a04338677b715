// Plinth-beam screens the register of a plan on many machines, by Apache Beam. It writes the rows
// that plinth screen writes, in one file for each range of the order.
//
//	stretches of the registers -> scouted: ids, and the keys of some rows
//	  -> which ids came before, borders of ranges -> assessed: rows and keys, by range
//	  -> keys sorted: the places in every order -> rows sorted with them, written
//
// Packages assess and screen do all that is done with a building. This package carries rows between
// machines, many in a block. No step holds more in memory than one stretch, the blocks that it
// fills, or a few numbers for each range. The rows of one range are sorted on disk.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"net"
	"os"
	"runtime"
	"time"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/options/jobopts"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/x/beamx"

	"plinth/pipeline/output"
)

// version is set by the linker (make beam).
var version = "unknown"

var (
	registers = flag.String("registers", "", "glob of the registers to read, each with its header, in place of the plan's")
	ranges    = flag.Int("ranges", 8, "ranges of the order, each sorted by one worker and written to a file of its own")
	rows      = flag.Int("rows", 8192, "rows of a register that one worker assesses at a time")
	memory    = flag.Int("memory", 256, "megabytes for a worker to gather rows in, and to sort a range in before going to disk")
	force     = flag.Bool("force", false, "write over another run in the folder; never over a file that is read or is not of a run")
	engine    = flag.String("engine", "", "engine behind the job service and its version, for the manifest: 'Apache Flink 1.20.1'")
	pool      = flag.Int("pool", 0, "serve workers on this port of this machine, for runners whose environment is EXTERNAL, and run no plan")
	here      = flag.Bool("here", false, "write to the folder of the plan, your home folder or the root, if the plan names it")
)

func main() {
	flag.Usage = usage
	flag.Parse()
	beam.Init() // does not return in a worker that a runner has started
	do := run
	if *pool != 0 {
		do = func(ctx context.Context) error { return servePool(ctx, *pool) }
	}
	if err := do(context.Background()); err != nil {
		fmt.Fprintln(os.Stderr, "plinth-beam:", err)
		os.Exit(1)
	}
}

func usage() {
	fmt.Fprintf(flag.CommandLine.Output(), "plinth-beam [FLAGS] PLAN: the screening of a plan spread over machines (docs/scale.md)\n\n%s\n\n", output.Caution)
	flag.PrintDefaults()
}

func run(ctx context.Context) error {
	if flag.NArg() != 1 {
		return errors.New("wants one argument, the plan; --help lists the flags")
	}
	j, err := newJob(flag.Arg(0), *registers)
	if err != nil {
		return err
	}
	if notice := j.notice(); notice != "" {
		fmt.Fprintln(os.Stderr, "plinth-beam:", notice)
	}
	j.Ranges, j.Rows, j.Memory, j.Version = *ranges, *rows, int64(*memory)<<20, version
	if err := errors.Join(j.check(ctx), reachable(*jobopts.Endpoint)); err != nil {
		return err
	}
	if !*here {
		if err := output.Crowded(j.Folder, j.Plan); err != nil {
			return err
		}
	}
	if err := j.prepare(*force); err != nil {
		return err
	}
	if *jobopts.WorkerBinary == "" && runtime.GOOS == "linux" {
		if *jobopts.WorkerBinary, err = os.Executable(); err != nil { // the SDK would compile one, from the source
			return err
		}
	}
	p, s := beam.NewPipelineWithRoot()
	j.build(s)
	return beamx.Run(ctx, p)
}

// reachable returns an error if nothing listens at the address of the runner's job service. The
// client would wait for it without a word.
func reachable(endpoint string) error {
	if endpoint == "" {
		return nil
	}
	c, err := net.DialTimeout("tcp", endpoint, 10*time.Second)
	if err != nil {
		return fmt.Errorf("--endpoint: no job service answers: %w", err)
	}
	return c.Close()
}

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
	"cmp"
	"context"
	"errors"
	"flag"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/core"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/options/jobopts"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/runners"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/x/beamx"

	"plinth/pipeline/output"
	"plinth/pipeline/plan"
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

// A job holds the settings of a run besides its plan. Workers get it with their functions, so every
// path in it must lead to the same file on all machines.
type job struct {
	Plan      string
	Registers []string
	Folder    string
	Ranges    int
	Rows      int
	Memory    int64
	Version   string
	Engine    string   // what carries the rows, in words
	Skipped   []string // formats of the plan that cannot be written range by range
}

// carriedBy says what carries the rows, for the manifest. A job service does not tell which engine is
// behind it, so that the user may.
func carriedBy(runner, engine string) string {
	s := "Spread over machines by the Apache Beam Go SDK " + core.SdkVersion + ", runner " + cmp.Or(runner, "prism")
	if engine != "" {
		s += ", on " + engine
	}
	return s + "."
}

// newJob reads the plan at path and finds the registers that a glob names. Without a glob it takes
// the register of the plan.
func newJob(path, glob string) (*job, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	p, err := plan.Load(path)
	if err != nil {
		return nil, err
	}
	j := &job{Plan: path, Registers: []string{p.Inventory.Path}, Engine: carriedBy(*runners.Runner, *engine)}
	if glob != "" {
		if j.Registers, err = filepath.Glob(glob); err != nil || len(j.Registers) == 0 {
			return nil, fmt.Errorf("--registers %q finds no file", glob)
		}
		slices.Sort(j.Registers)
	}
	for i := range j.Registers {
		if j.Registers[i], err = filepath.Abs(j.Registers[i]); err != nil {
			return nil, err
		}
	}
	if j.Folder, err = filepath.Abs(p.Output.Folder); err != nil {
		return nil, err
	}
	if p.Uncertainty.Draws > 0 {
		return nil, errors.New("uncertainty.draws must be 0 here: rank intervals hold all sampled buildings against each other in one memory. Run this first, then plinth screen with draws over the shortlist")
	}
	if p.Inventory.Impute == "stock" {
		return nil, errors.New(`inventory.impute = "stock" is not for a run over machines: gaps are filled from the whole register. Write impute = "defaults"`)
	}
	written := formats(p)
	if len(written) == 0 {
		return nil, errors.New(`output.formats names neither "parquet" nor "csv", and no other is written here: add one`)
	}
	for _, f := range p.Output.Formats {
		if !slices.Contains(written, f) {
			j.Skipped = append(j.Skipped, f)
		}
	}
	return j, nil
}

// notice returns a sentence on the formats of the plan that this run does not write, "" for none.
func (j *job) notice() string {
	if len(j.Skipped) == 0 {
		return ""
	}
	return "warning: not written here: " + strings.Join(j.Skipped, ", ") + " of output.formats. Only parquet and csv can be cut into ranges; for the others run plinth screen over the shortlist"
}

// check refuses settings and registers that workers could only fail on: an error of theirs comes back in
// the words of the runner.
func (j *job) check(ctx context.Context) error {
	if j.Ranges < 1 || j.Rows < 1 || j.Memory < 1<<20 {
		return errors.New("--ranges, --rows and --memory must be 1 or more")
	}
	run, err := openRun(j.Plan)
	if err != nil {
		return err
	}
	for _, path := range j.Registers {
		r, err := run.OpenRegister(ctx, path, j.Rows)
		if err != nil {
			return err
		}
		r.Close()
	}
	return nil
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

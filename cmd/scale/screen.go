package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"runtime/pprof"
	"strings"
	"time"

	"github.com/google/pprof/profile"

	"plinth/pipeline/assess"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
	"plinth/pipeline/screen"
)

// measures are those of the default plan: no combinations.
var measures = plan.Default().Measures.Use

// prepare writes the register and hazard of n buildings of the demo's country.
func prepare(dir string, n int) error { return sample.Write(context.Background(), dir, n, false) }

// spent is what a screening reports of itself.
type spent struct {
	Wall    float64            // s
	Written int64              // bytes
	Shares  map[string]float64 // of CPU time
}

// screening screens the register in dir: eight return periods, six measures, no draws, every table
// in the given formats.
func screening(dir string, formats []string) error {
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	if err != nil {
		return err
	}
	p.Measures.Use, p.Output.Formats, p.Uncertainty.Draws = measures, formats, 0
	var samples bytes.Buffer
	if err := pprof.StartCPUProfile(&samples); err != nil {
		return err
	}
	begun := time.Now()
	r, err := assess.Open(p)
	if err != nil {
		return err
	}
	if _, err := screen.Stock(context.Background(), r, assess.Settings{Version: "scale"}); err != nil {
		return err
	}
	s := spent{Wall: time.Since(begun).Seconds()}
	pprof.StopCPUProfile()
	if s.Shares, err = shares(&samples); err != nil {
		return err
	}
	files, err := filepath.Glob(filepath.Join(p.Output.Folder, "*"))
	if err != nil {
		return err
	}
	for _, f := range files {
		info, err := os.Stat(f)
		if err != nil {
			return err
		}
		s.Written += info.Size()
	}
	return json.NewEncoder(os.Stdout).Encode(s)
}

// parts attributes time to the innermost function whose name has one of these prefixes. Samples
// that match none belong to the runtime: garbage collection, the scheduler, the system.
var parts = []struct{ prefix, part string }{
	{"plinth/pipeline/inventory", "reading and cleaning the register"},
	{"plinth/hazard/field.", "hazard at the place"},
	{"plinth/archetypes.", "archetypes and modes"},
	{"plinth/retrofit.", "measures"},
	{"plinth/retrofit/demand.", "measures"},
	{"plinth/retrofit/consequence.", "consequence"},
	{"plinth/pipeline/ranking.", "sorting and merging"},
	{"plinth/pipeline/extsort.", "sorting and merging"},
	{"plinth/pipeline/output.", "encoding and writing files"},
	{"github.com/xitongsys/parquet-go/", "encoding and writing files"},
	{"plinth/pipeline/assess.", "making rows, the rest of the run"},
	{"plinth/pipeline/screen.", "making rows, the rest of the run"},
}

// other collects samples that match none of the listed functions.
const other = "runtime"

// partNames lists the parts in the order they are shown.
func partNames() []string {
	var names []string
	for _, p := range parts {
		if len(names) == 0 || names[len(names)-1] != p.part {
			names = append(names, p.part)
		}
	}
	return append(names, other)
}

// shares returns the share of each part of the program in a CPU profile.
func shares(samples *bytes.Buffer) (map[string]float64, error) {
	p, err := profile.Parse(samples)
	if err != nil {
		return nil, err
	}
	out := map[string]float64{}
	var all float64
	last := len(p.SampleType) - 1 // nanoseconds
	for _, s := range p.Sample {
		v := float64(s.Value[last])
		out[part(s)] += v
		all += v
	}
	for name := range out {
		out[name] /= all
	}
	return out, nil
}

// part returns which part of the program a profile sample belongs to.
func part(s *profile.Sample) string {
	for _, place := range s.Location { // innermost first
		for _, line := range place.Line {
			for _, p := range parts {
				if strings.HasPrefix(line.Function.Name, p.prefix) {
					return p.part
				}
			}
		}
	}
	return other
}

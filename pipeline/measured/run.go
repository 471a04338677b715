package measured

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"plinth/pipeline"
	"plinth/pipeline/plan"
)

// A cell is one column of a register row and its value.
type cell struct{ column, value string }

// A level is one level of the hazard table.
type level struct {
	returnPeriod float64
	spectrum
}

// A job is a register of one building and a plan, as an owner would write them.
type job struct {
	region, zone string
	measure      string // the one the plan tries
	design       float64
	levels       []level
	periods      []float64 // nodes of the levels
	building     []cell
}

// units are those of the columns of a register that need one.
var units = map[string]string{"height": "m", "width": "m", "length": "m", "floor_area": "m2"}

// The place of every building: the shaking is that of the hazard table.
const (
	lon = "13.4"
	lat = "42.35"
)

// assess writes the job to a folder of its own, opens it and assesses the building as
// plinth screen does.
func (j *job) assess() (*pipeline.Run, *pipeline.Assessment, error) {
	dir, err := os.MkdirTemp("", "measured")
	if err != nil {
		return nil, nil, err
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "plan.toml")
	if err := errors.Join(
		writeTable(filepath.Join(dir, "register.csv"), j.register()),
		writeTable(filepath.Join(dir, "hazard.csv"), j.hazard()),
		os.WriteFile(path, []byte(j.plan()), 0o666),
	); err != nil {
		return nil, nil, err
	}
	p, err := plan.Load(path)
	if err != nil {
		return nil, nil, err
	}
	run, err := pipeline.Open(p)
	if err != nil {
		return nil, nil, err
	}
	a, err := run.AssessOne(context.Background(), j.cells()[0].value)
	return run, a, err
}

// cells returns the columns of the register, the id first.
func (j *job) cells() []cell {
	return append(slices.Clone(j.building), cell{"lon", lon}, cell{"lat", lat})
}

// register returns the register.
func (j *job) register() [][]string {
	out := make([][]string, 2)
	for _, c := range j.cells() {
		out[0], out[1] = append(out[0], c.column), append(out[1], c.value)
	}
	return out
}

// hazard returns the hazard table.
func (j *job) hazard() [][]string {
	head := []string{"lon", "lat", "return_period_yr", "pga_g"}
	for _, t := range j.periods {
		head = append(head, "sa_"+number(t))
	}
	out := [][]string{head}
	for _, l := range j.levels {
		line := []string{lon, lat, number(l.returnPeriod), number(l.pga)}
		for _, sa := range l.sa {
			line = append(line, number(sa))
		}
		out = append(out, line)
	}
	return out
}

// plan returns the plan: what an owner must say, defaults beside it.
func (j *job) plan() string {
	var b strings.Builder
	fmt.Fprintf(&b, "name = \"measured\"\n\n[inventory]\npath = \"register.csv\"\n\n[inventory.columns]\n")
	for _, c := range j.cells() {
		fmt.Fprintf(&b, "%s = %q\n", c.column, c.column)
	}
	fmt.Fprintf(&b, "\n[inventory.units]\n")
	for _, c := range j.cells() {
		if u := units[c.column]; u != "" {
			fmt.Fprintf(&b, "%s = %q\n", c.column, u)
		}
	}
	var tr []string
	for _, l := range j.levels {
		tr = append(tr, number(l.returnPeriod))
	}
	fmt.Fprintf(&b, "\n[hazard]\nkind = \"points\"\npath = \"hazard.csv\"\nunit = \"g\"\nsoil_included = true\n"+
		"return_periods_yr = [%s]\ndesign_return_period_yr = %s\n", strings.Join(tr, ", "), number(j.design))
	fmt.Fprintf(&b, "\n[archetypes]\nregion = %q\n", j.region)
	if j.zone != "" {
		fmt.Fprintf(&b, "zone = %q\n", j.zone)
	}
	fmt.Fprintf(&b, "\n[measures]\nuse = [%q]\n", j.measure)
	return b.String()
}

func writeTable(path string, rows [][]string) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	w := csv.NewWriter(f)
	if err := w.WriteAll(rows); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// number returns a number as files have it.
func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

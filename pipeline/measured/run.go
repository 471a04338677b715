package measured

import (
	"context"
	"encoding/csv"
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

// A job is a register and a plan as an owner would write them.
type job struct {
	region, zone string
	measure      string // the one the plan tries
	design       float64
	levels       []level
	periods      []float64 // nodes of the levels
	rows         [][]cell  // of the register; the columns of the first
}

// units are those of the columns of a register that need one.
var units = map[string]string{"height": "m", "width": "m", "length": "m", "floor_area": "m2"}

// open writes the job to a folder and opens it as plinth screen does.
func (j *job) open(dir string) (*pipeline.Run, error) {
	var columns []string
	register := [][]string{}
	for i, cells := range j.rows {
		var line []string
		for _, c := range cells {
			if i == 0 {
				columns = append(columns, c.column)
			}
			line = append(line, c.value)
		}
		register = append(register, line)
	}
	register = append([][]string{append([]string{"lon", "lat"}, columns...)}, register...)
	for i := range register[1:] {
		register[i+1] = append([]string{place.lon, place.lat}, register[i+1]...)
	}
	if err := writeTable(filepath.Join(dir, "register.csv"), register); err != nil {
		return nil, err
	}
	if err := writeTable(filepath.Join(dir, "hazard.csv"), j.hazard()); err != nil {
		return nil, err
	}
	path := filepath.Join(dir, "plan.toml")
	if err := os.WriteFile(path, []byte(j.plan(append([]string{"lon", "lat"}, columns...))), 0o666); err != nil {
		return nil, err
	}
	p, err := plan.Load(path)
	if err != nil {
		return nil, err
	}
	return pipeline.Open(p)
}

// place is where the hazard table and the register have every building: the shaking is
// that of the table.
var place = struct{ lon, lat string }{"13.4", "42.35"}

// hazard returns the hazard table.
func (j *job) hazard() [][]string {
	head := []string{"lon", "lat", "return_period_yr", "pga_g"}
	for _, t := range j.periods {
		head = append(head, "sa_"+number(t))
	}
	out := [][]string{head}
	for _, l := range j.levels {
		line := []string{place.lon, place.lat, number(l.returnPeriod), number(l.pga)}
		for _, sa := range l.sa {
			line = append(line, number(sa))
		}
		out = append(out, line)
	}
	return out
}

// plan returns the plan: what an owner must say, defaults beside it.
func (j *job) plan(columns []string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "name = \"measured\"\n\n[inventory]\npath = \"register.csv\"\n\n[inventory.columns]\n")
	for _, c := range columns {
		fmt.Fprintf(&b, "%s = %q\n", c, c)
	}
	fmt.Fprintf(&b, "\n[inventory.units]\n")
	for _, c := range columns {
		if u := units[c]; u != "" {
			fmt.Fprintf(&b, "%s = %q\n", c, u)
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

// assess opens the job in a folder of its own and takes every building of it through
// the run. The folder is gone when assess returns.
func (j *job) assess(see func(*pipeline.Run, *pipeline.Assessment) error) error {
	dir, err := os.MkdirTemp("", "measured")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	run, err := j.open(dir)
	if err != nil {
		return err
	}
	for _, cells := range j.rows {
		i := slices.IndexFunc(cells, func(c cell) bool { return c.column == "id" })
		a, err := run.AssessOne(context.Background(), cells[i].value)
		if err != nil {
			return err
		}
		if err := see(run, a); err != nil {
			return err
		}
	}
	return nil
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

// Command scale measures what a screening costs by the size of the stock: time, memory,
// where the time goes, and DuckDB doing the reading and writing alone beside it. It
// writes docs/performance.md and its picture, and takes minutes.
//
//	go run ./cmd/scale -sizes 10000,100000,1000000 -docs docs
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
)

func main() {
	sizes := flag.String("sizes", "10000,100000,1000000", "numbers of buildings, with commas between")
	lean := flag.String("lean", "", "more of them, whose results are written as Parquet alone and without DuckDB beside: 50 GB for 10 million")
	docs := flag.String("docs", "docs", "folder of performance.md and performance.svg")
	temp := flag.String("temp", os.TempDir(), "folder for registers and results: some 6 GB a million buildings")
	readers := flag.String("readers", "testdata/readers", "folder of the script that runs DuckDB")
	child := flag.String("screen", "", "screen the register in this folder and say what it cost; for its own use")
	formats := flag.String("formats", "parquet,csv", "of its results")
	flag.Parse()
	var err error
	if *child != "" {
		err = screening(*child, strings.Split(*formats, ","))
	} else {
		err = run(*sizes, *lean, *docs, *temp, *readers)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "scale:", err)
		os.Exit(1)
	}
}

func run(sizes, lean, docs, temp, readers string) error {
	all, err := numbers(sizes)
	if err != nil {
		return err
	}
	more, err := numbers(lean)
	if err != nil {
		return err
	}
	var list []measured
	for i, n := range append(all, more...) {
		m, err := measure(n, i >= len(all), temp, readers)
		if err != nil {
			return fmt.Errorf("%d buildings: %w", n, err)
		}
		fmt.Fprintf(os.Stderr, "%d buildings: %.1f s, %.0f MB\n", n, m.Cost.Wall, m.Cost.Memory/1e6)
		list = append(list, m)
	}
	if err := draw(filepath.Join(docs, "performance.svg"), list); err != nil {
		return err
	}
	return write(filepath.Join(docs, "performance.md"), sizes, lean, list)
}

// numbers reads numbers of buildings with commas between; an empty text has none.
func numbers(text string) ([]int, error) {
	var all []int
	for _, s := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' }) {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 {
			return nil, fmt.Errorf("size %q: write numbers of buildings with commas between", s)
		}
		all = append(all, n)
	}
	return all, nil
}

// A cost is what a process took.
type cost struct {
	Wall   float64 `json:"wall"`   // s
	CPU    float64 `json:"cpu"`    // s, of all processors, in the process and for it in the system
	Memory float64 `json:"memory"` // bytes, the most it held
}

// A measured is one size of stock.
type measured struct {
	Buildings int
	Lean      bool // results as Parquet alone
	Cost      cost
	Written   int64              // bytes of the result files
	Shares    map[string]float64 // of the CPU time, by what it went to
	Baseline  *cost              // of DuckDB, nil where it is not installed
}

// measure makes a register of n buildings, screens it in a process of its own and,
// unless it is to be lean, has DuckDB read and write the same tables.
func measure(n int, lean bool, temp, readers string) (measured, error) {
	m := measured{Buildings: n, Lean: lean}
	dir, err := os.MkdirTemp(temp, "plinth-scale-")
	if err != nil {
		return m, err
	}
	defer os.RemoveAll(dir)
	if err := prepare(dir, n); err != nil {
		return m, err
	}
	self, err := os.Executable()
	if err != nil {
		return m, err
	}
	args := []string{"-screen", dir}
	if lean {
		args = append(args, "-formats", "parquet")
	}
	out, err := spend(exec.Command(self, args...), &m.Cost)
	if err != nil {
		return m, err
	}
	var said spent
	if err := json.Unmarshal(out, &said); err != nil {
		return m, err
	}
	m.Shares, m.Written = said.Shares, said.Written
	if lean {
		return m, nil
	}
	if _, err := os.Stat(filepath.Join(readers, "node_modules", "@duckdb")); err != nil {
		fmt.Fprintln(os.Stderr, "scale: without DuckDB (make readers): no ratio")
		return m, nil
	}
	m.Baseline = new(cost)
	_, err = spend(exec.Command("node", filepath.Join(readers, "baseline.mjs"), dir), m.Baseline)
	return m, err
}

// spend runs a process, fills what it took and returns what it printed. The wall time
// is that which the process says itself, where it says any.
func spend(cmd *exec.Cmd, c *cost) ([]byte, error) {
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Base(cmd.Path), err)
	}
	c.CPU = (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds()
	if u, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		c.Memory = float64(u.Maxrss) * 1024 // kB on Linux
	}
	var said struct{ Wall float64 }
	if json.Unmarshal(out, &said) == nil {
		c.Wall = said.Wall
	}
	return out, nil
}

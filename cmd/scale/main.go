// Command scale measures the cost of a screening by the size of the stock: time, memory, and
// the share of each part of the program. For comparison DuckDB does the reading and writing
// alone. The command writes docs/performance.md and its picture, and takes minutes.
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

	"plinth/cmd/internal/keep"
)

func main() {
	sizes := flag.String("sizes", "10000,100000,1000000", "numbers of buildings, separated by commas")
	lean := flag.String("lean", "",
		"more of them, whose results are written as Parquet alone, without DuckDB: 50 GB for 10 million")
	docs := flag.String("docs", "docs", "folder of performance.md and performance.svg")
	temp := flag.String("temp", os.TempDir(),
		"folder for registers and results: some 6 GB a million buildings")
	readers := flag.String("readers", "testdata/readers", "folder of the script that runs DuckDB")
	child := flag.String("screen", "",
		"screen the register in this folder and say what it cost; for its own use")
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
	page := filepath.Join(docs, "performance.md")
	history, err := keep.History(page)
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
	return write(page, history, sizes, lean, list)
}

// numbers parses numbers of buildings separated by commas; an empty text has none.
func numbers(text string) ([]int, error) {
	var all []int
	for _, s := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' }) {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 {
			return nil, fmt.Errorf("size %q: write numbers of buildings separated by commas", s)
		}
		all = append(all, n)
	}
	return all, nil
}

// cost is the time and memory of a process.
type cost struct {
	Wall   float64 `json:"wall"`   // s
	CPU    float64 `json:"cpu"`    // s, on all processors, in the process and in the system for it
	Memory float64 `json:"memory"` // bytes, peak
}

// measured is the cost at one size of stock.
type measured struct {
	Buildings int
	Lean      bool // results in Parquet only
	Cost      cost
	Written   int64              // bytes of the result files
	Shares    map[string]float64 // of the CPU time, by part
	Baseline  *cost              // of DuckDB, nil if it is not installed
}

// measure makes a register of n buildings, screens it in a separate process and, unless it is
// lean, lets DuckDB read and write the same tables.
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

// spend runs a process, fills c with its cost and returns its output. The wall time is the one
// the process reports, if it reports one.
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

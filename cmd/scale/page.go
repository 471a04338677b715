package main

import (
	"fmt"
	"image/color"
	"os"
	"runtime"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
)

// write writes the page. history is the handwritten part of the page it replaces.
func write(path, history, sizes, lean string, list []measured) error {
	var b strings.Builder
	also := ""
	if lean != "" {
		also = ", `-lean " + lean + "`:\nresults as Parquet alone, for the disk they take"
	}
	fmt.Fprintf(&b, `# Performance

Written by `+"`make scale`"+` (`+"`go run ./cmd/scale -sizes %s`"+`%s);
do not edit but its history. The cost of parts is in the benchmarks: `+"`make bench`"+`.

Screening of the demo's country with the given number of buildings: eight return periods, six measures
(%s), no draws; results as
Parquet and CSV. %s, %s/%s, %d processors.

DuckDB is the measure of the machine: it reads the register's CSV, and reads the buildings and candidates of
the result as CSV and writes them as Parquet with zstd. It computes nothing.

`+"| buildings | time s | CPU s | CPU us a building | most memory MB | written MB | DuckDB time s "+
		"| DuckDB CPU s | CPU over DuckDB's |"+`
| --- | --- | --- | --- | --- | --- | --- | --- | --- |
`, sizes, also, strings.Join(measures, ", "), runtime.Version(), runtime.GOOS, runtime.GOARCH,
		runtime.NumCPU())
	for _, m := range list {
		fmt.Fprintf(&b, "| %s | %.1f | %.1f | %.0f | %.0f | %.0f |", m.name(), m.Cost.Wall, m.Cost.CPU,
			m.Cost.CPU/float64(m.Buildings)*1e6, m.Cost.Memory/1e6, float64(m.Written)/1e6)
		if d := m.Baseline; d != nil {
			fmt.Fprintf(&b, " %.1f | %.1f | %.1f |\n", d.Wall, d.CPU, m.Cost.CPU/d.CPU)
		} else {
			b.WriteString(" | | |\n")
		}
	}
	b.WriteString("\n![CPU time by the number of buildings](performance.svg)\n\n")
	b.WriteString("## Where the time goes\n\nShares of CPU time in %, from a profile of the same run: the " +
		"innermost function that is ours or the Parquet library's.\n\n| part |")
	for _, m := range list {
		fmt.Fprintf(&b, " %s |", m.name())
	}
	b.WriteString("\n| --- |" + strings.Repeat(" --- |", len(list)) + "\n")
	for _, name := range partNames() {
		fmt.Fprintf(&b, "| %s |", name)
		for _, m := range list {
			fmt.Fprintf(&b, " %.0f |", 100*m.Shares[name])
		}
		b.WriteByte('\n')
	}
	b.WriteString("\n" + history)
	return os.WriteFile(path, []byte(b.String()), 0o644)
}

// name returns the heading of m.
func (m *measured) name() string {
	if m.Lean {
		return fmt.Sprintf("%d, Parquet alone", m.Buildings)
	}
	return fmt.Sprint(m.Buildings)
}

// draw plots CPU time by size on logarithmic axes, with the line of a cost in proportion to the
// number of buildings.
func draw(path string, list []measured) error {
	p := plot.New()
	p.X.Label.Text, p.Y.Label.Text = "buildings", "CPU time, s"
	p.X.Scale, p.Y.Scale = plot.LogScale{}, plot.LogScale{}
	p.X.Tick.Marker, p.Y.Tick.Marker = plot.LogTicks{Prec: -1}, plot.LogTicks{Prec: -1}
	points := make(plotter.XYs, len(list))
	for i, m := range list {
		points[i] = plotter.XY{X: float64(m.Buildings), Y: m.Cost.CPU}
	}
	last := points[len(points)-1]
	straight, err := plotter.NewLine(plotter.XYs{{X: points[0].X, Y: last.Y * points[0].X / last.X}, last})
	if err != nil {
		return err
	}
	straight.Dashes, straight.Color = []vg.Length{vg.Points(4), vg.Points(3)}, color.Gray{Y: 130}
	marks, err := plotter.NewScatter(points)
	if err != nil {
		return err
	}
	p.Add(plotter.NewGrid(), straight, marks)
	p.Legend.Add("measured", marks)
	p.Legend.Add("in proportion to the largest", straight)
	p.Legend.Top, p.Legend.Left = true, true
	return p.Save(5*vg.Inch, 3.5*vg.Inch, path)
}

package sample

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"runtime"
	"sync"
)

// The hazard grid of the demo: nodes every 0.02 degrees around the town.
const (
	gridWest, gridSouth = -141.30, 41.50
	gridStep            = 0.02
	gridColumns         = 11
	gridRows            = 11
)

// writeHazard writes the hazard grid of the demo: one line for each node and return period, for
// rock. The site classes of the register state the ground above the rock.
func writeHazard(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprint(b, "lon,lat,return_period_yr,pga_g")
	for _, t := range demoPeriods {
		fmt.Fprintf(b, ",sa_%g", t)
	}
	fmt.Fprintln(b)
	lines := make([]string, gridColumns*gridRows)
	var wg sync.WaitGroup
	work := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range work {
				lines[i] = nodeLines(gridWest+gridStep*float64(i%gridColumns), gridSouth+gridStep*float64(i/gridColumns))
			}
		}()
	}
	for i := range lines {
		work <- i
	}
	close(work)
	wg.Wait()
	for _, l := range lines {
		b.WriteString(l)
	}
	return b.Flush()
}

// nodeLines returns the lines of one node, one for each return period.
func nodeLines(lon, lat float64) string {
	var out []byte
	ts := terms(lon, lat)
	for _, tr := range demoReturnPeriods {
		x := level(ts, tr)
		out = fmt.Appendf(out, "%.2f,%.2f,%g,%.5f", lon, lat, tr, math.Exp(x+demoShape(0)))
		for _, t := range demoPeriods {
			out = fmt.Appendf(out, ",%.5f", math.Exp(x+demoShape(t)))
		}
		out = append(out, '\n')
	}
	return string(out)
}

package measured

import (
	"encoding/csv"
	"fmt"
	"io/fs"
	"math"
	"strconv"

	"plinth/hazard"
	"plinth/hazard/motion"
)

// periods are the nodes in s at which a foot motion is told to the program.
var periods = []float64{0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.75, 1, 1.5, 2, 3, 4, 5, 6, 8, 10}

// A spectrum is a foot motion as a hazard table holds it: PGA and Sa at periods, g, 5 %.
type spectrum struct {
	pga float64
	sa  []float64
}

// firm returns the generic shape of firm ground that stands for a motion of which only
// the peak is known:
//
//	Sa = 2.5 PGA from 0.1 to 0.5 s, 1.25 PGA/T beyond, a straight line from PGA below
//
// Common practice, no source: near that of EN 1998-1 type 1 on ground B.
func firm(pga float64) spectrum {
	return shaped(pga, 2.5*pga, 0.1, 1.25*pga)
}

// code is what buildings of eras that design by a map were designed for in these
// comparisons: SDS 1.0 g and SD1 0.6 g, the highest design category of the examples of
// FEMA P-695 (from memory), at the level of 2475 years 1.5 times as much.
func code() spectrum { return shaped(0.6, 1.5, 0.12, 0.9) }

// shaped returns a plateau from a period on, a fall with 1/T and a rise from pga.
func shaped(pga, plateau, from, fall float64) spectrum {
	s := spectrum{pga: pga}
	for _, t := range periods {
		sa := min(plateau, fall/t)
		if t < from {
			sa = pga + (plateau-pga)*t/from
		}
		s.sa = append(s.sa, sa)
	}
	return s
}

// of returns the spectrum of a record.
func of(r *motion.Record) spectrum {
	s := spectrum{pga: r.PGA(), sa: make([]float64, len(periods))}
	r.Spectrum(periods, 0.05, s.sa)
	return s
}

// groundColumn is the channel of a record at the foot of the building.
const groundColumn = "ground_315_cm_s2"

// readRecord reads the foot motion of a structure.
func readRecord(fsys fs.FS, name string) (*motion.Record, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(rows) < 3 || len(rows[0]) < 2 || rows[0][0] != "time_s" || rows[0][1] != groundColumn {
		return nil, fmt.Errorf("%s: the columns must begin with time_s and %s", name, groundColumn)
	}
	r := &motion.Record{Name: name, Scale: 1}
	var time []float64
	for i, cells := range rows[1:] {
		t, err := strconv.ParseFloat(cells[0], 64)
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, i+2, err)
		}
		a, err := strconv.ParseFloat(cells[1], 64)
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, i+2, err)
		}
		time, r.Accel = append(time, t), append(r.Accel, a/100/hazard.Gravity)
	}
	r.Step = (time[len(time)-1] - time[0]) / float64(len(time)-1)
	if !(r.Step > 0) || math.Abs(time[1]-time[0]-r.Step) > 0.01*r.Step {
		return nil, fmt.Errorf("%s: times must go in even steps", name)
	}
	return r, nil
}

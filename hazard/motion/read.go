package motion

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// RecordError is a fault in a record file.
type RecordError struct {
	Name   string // of the file
	Line   int    // from 1; 0 for the file as a whole
	Column string // time or acceleration; empty for the line as a whole
	Raw    string // text found there
	Rule   string // what is wrong and what to do
	Err    error  // underlying, or nil
}

// Error returns the place, the text found there and the rule.
func (e *RecordError) Error() string {
	place := e.Name
	if e.Line > 0 {
		place += fmt.Sprintf(":%d", e.Line)
	}
	if e.Column != "" {
		place += ", " + e.Column
	}
	if e.Raw != "" {
		place += fmt.Sprintf(" %q", e.Raw)
	}
	return place + ": " + e.Rule
}

// Unwrap returns the underlying error.
func (e *RecordError) Unwrap() error { return e.Err }

// Limits of a record file.
const (
	mostSamples = 1 << 20 // bounds memory: 1.5 hours at 0.005 s
	mostAccel   = 10.0    // g; above it the column is surely in other units
	evenSteps   = 0.01    // share of a step by which a rounded time may be off
)

// ReadRecord reads a record of two columns, time in s and acceleration in g, separated by a
// comma, a semicolon, a tab or spaces. A first line that is not numbers is a header; empty
// lines and lines that begin with # are skipped. Times may start at any value and must increase
// in even steps. The first sample becomes time 0.
//
// Errors are of type *RecordError.
func ReadRecord(src io.Reader, name string) (*Record, error) {
	in := bufio.NewScanner(src)
	in.Buffer(make([]byte, 0, 4096), 1<<16)
	r := &Record{Name: name, Scale: 1}
	var first, last float64
	header := false
	for line := 1; in.Scan(); line++ {
		text := strings.TrimSpace(strings.TrimPrefix(in.Text(), "\ufeff"))
		if text == "" || text[0] == '#' {
			continue
		}
		cells := strings.FieldsFunc(text, func(c rune) bool { return strings.ContainsRune(",;\t ", c) })
		if _, err := number(cells, 0); err != nil && len(r.Accel) == 0 && !header {
			header = true
			continue
		}
		bad := func(column, raw, rule string) (*Record, error) {
			return nil, &RecordError{name, line, column, raw, rule, nil}
		}
		time, a, fault := sample(text, cells)
		if fault != nil {
			fault.Name, fault.Line = name, line
			return nil, fault
		}
		switch n := len(r.Accel); {
		case n == mostSamples:
			return bad("", "", fmt.Sprintf("more than %d samples; cut the quiet parts or thin the record",
				mostSamples))
		case n == 0:
			first = time
		case n == 1:
			r.Step = time - first
			if !(r.Step > 0) {
				return bad("time", cells[0], "times must ascend")
			}
		case math.Abs(time-last-r.Step) > evenSteps*r.Step+1e-9*math.Abs(time):
			return bad("time", cells[0],
				fmt.Sprintf("the step from the line before is %.6g s and the first step %.6g s; "+
					"interpolate the record to even steps", time-last, r.Step))
		}
		last = time
		r.Accel = append(r.Accel, a)
	}
	if err := in.Err(); err != nil {
		return nil, &RecordError{Name: name, Rule: "cannot be read: " + err.Error(), Err: err}
	}
	if len(r.Accel) < 2 {
		return nil, &RecordError{Name: name,
			Rule: "holds fewer than two samples of time in s and acceleration in g"}
	}
	r.Step = (last - first) / float64(len(r.Accel)-1) // exact even if times are rounded
	if !(r.Step >= leastStep && r.Step <= mostStep) {
		return nil, &RecordError{Name: name, Column: "time",
			Rule: fmt.Sprintf("steps of %g s; from %g to %g s can be used, and times are in s", r.Step,
				leastStep, mostStep)}
	}
	if r.PGA() == 0 {
		return nil, &RecordError{Name: name, Column: "acceleration", Rule: "zero throughout"}
	}
	return r, nil
}

// sample returns the time in s and acceleration in g of a line, or its fault.
func sample(text string, cells []string) (time, a float64, fault *RecordError) {
	if len(cells) != 2 {
		return 0, 0, &RecordError{Raw: text,
			Rule: "a line must hold two numbers, time in s and acceleration in g"}
	}
	time, err := number(cells, 0)
	if err != nil {
		return 0, 0, &RecordError{Column: "time", Raw: cells[0], Rule: "not a finite number; times are in s",
			Err: err}
	}
	if a, err = number(cells, 1); err != nil {
		return 0, 0, &RecordError{Column: "acceleration", Raw: cells[1],
			Rule: "not a finite number; accelerations are in g", Err: err}
	}
	if math.Abs(a) > mostAccel {
		return 0, 0, &RecordError{Column: "acceleration", Raw: cells[1],
			Rule: fmt.Sprintf("above %g g; accelerations are in g, so divide values in m/s2 by 9.80665",
				mostAccel)}
	}
	return time, a, nil
}

// The usable range of a record's step in s: no digitised accelerogram is finer than 0.0005 s,
// and one coarser than 0.1 s has no content in the range of building periods (judgement).
const (
	leastStep = 0.0005
	mostStep  = 0.1
)

var errNotFinite = errors.New("motion: not a finite number")

// number returns the finite number in a cell.
func number(cells []string, i int) (float64, error) {
	if i >= len(cells) {
		return 0, errNotFinite
	}
	v, err := strconv.ParseFloat(cells[i], 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, errNotFinite
	}
	return v, nil
}

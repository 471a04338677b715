package history

import (
	"bytes"
	"encoding/json"
	"math"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard/motion"
	"plinth/retrofit/demand"
)

// pythonWithScipy returns a Python that has scipy, that of Debian first.
func pythonWithScipy(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import scipy.integrate").Run() == nil {
			return name
		}
	}
	t.Skip("no Python with scipy: install python3-scipy to compare with an independent solver")
	return ""
}

// TestAgainstGeneralSolver checks bilinear oscillators, without dampers (central
// differences) and with linear and nonlinear ones (average acceleration), against the
// general solver of scipy, which finds every yield and every turn as an event: peak
// and final displacement within 0.5 %, the whole motion within 0.5 % of the peak.
func TestAgainstGeneralSolver(t *testing.T) {
	if testing.Short() {
		t.Skip("runs an independent solver")
	}
	python := pythonWithScipy(t)
	r := shaking(0.01, 0.5)
	r.Accel = r.Accel[:350]
	st := oneStorey(t, 0.6, 0.12, 0.05, 0)
	var models []*Model
	var problems []map[string]any
	for _, d := range []Device{nil, demand.Viscous{Alpha: 1, Damping: 0.15},
		demand.Viscous{Alpha: 0.5, Damping: 0.15, ReferenceRoof: 0.05},
		demand.Viscous{Alpha: 0.15, Damping: 0.04, ReferenceRoof: 0.05}} {
		m, err := New(st, d, Options{})
		require.NoError(t, err)
		// the solver knows no damping but that of the dampers
		m.links[0].massDamping, m.links[0].tangent = 0, 0
		models, problems = append(models, m), append(problems, problemOf(m, r, st.Strength[0]))
	}
	for i, want := range generalSolver(t, python, problems) {
		var out Result
		w := Work{Series: &Series{}}
		w.Run(models[i], r, &out)
		assert.Zero(t, out.Status, "case %d", i)
		peak, worst := largest(want), 0.0
		assert.Greater(t, peak, 2*st.Strength[0]/st.Stiffness[0],
			"it must yield for the test to mean anything")
		for j, u := range want {
			worst = max(worst, math.Abs(u-w.Series.Roof[j]))
		}
		assert.Less(t, worst, 5e-3*peak, "case %d", i)
		assert.InEpsilon(t, peak, largest(w.Series.Roof[:len(want)]), 5e-3, "case %d", i)
	}
}

// problemOf returns the model of one storey as the solver reads it.
func problemOf(m *Model, r *motion.Record, strength float64) map[string]any {
	l := &m.links[0]
	accel := make([]float64, len(r.Accel))
	for i, a := range r.Accel {
		accel[i] = a * r.Scale * gravity
	}
	alpha := l.damper.alpha
	if l.damper.c == 0 {
		alpha = 1
	}
	return map[string]any{
		"mass": l.mass, "stiffness": l.main.k, "strength": strength, "ratio": l.main.r / l.main.k,
		"damping": l.damper.c, "alpha": alpha, "step": r.Step, "accel": accel,
	}
}

// generalSolver returns the displacements at the samples, for each problem.
func generalSolver(t *testing.T, python string, problems []map[string]any) (out [][]float64) {
	t.Helper()
	in, err := json.Marshal(problems)
	require.NoError(t, err)
	run := exec.Command(python, "testdata/bilinear.py")
	run.Stdin = bytes.NewReader(in)
	var answer, complaint bytes.Buffer
	run.Stdout, run.Stderr = &answer, &complaint
	require.NoError(t, run.Run(), complaint.String())
	require.NoError(t, json.Unmarshal(answer.Bytes(), &out))
	return out
}

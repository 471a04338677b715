package motion

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestReadRecord(t *testing.T) {
	for name, text := range map[string]string{
		"comma and header": "time,acc (g)\n0,0\n0.01,0.1\n0.02,-0.2\n",
		"byte order mark":  "\ufefftime;acc\r\n5.00;0\r\n5.01;0.1\r\n\r\n5.02;-0.2\r\n",
		"no header":        "# station\n0.1 0\n0.11\t 0.1\n0.12 -0.2",
	} {
		r, err := ReadRecord(strings.NewReader(text), name)
		require.NoError(t, err, name)
		assert.Equal(t, []float64{0, 0.1, -0.2}, r.Accel, name)
		assert.InDelta(t, 0.01, r.Step, 1e-12, name)
		assert.InDelta(t, 0.2, r.PGA(), 1e-12, name)
	}
}

func TestReadRecordSaysWhatIsWrong(t *testing.T) {
	for _, c := range []struct {
		text   string
		line   int
		column string
		rule   string
	}{
		{"", 0, "", "fewer than two samples"},
		{"time,acc\nmore words,here\n", 2, "", "two numbers"},
		{"0,0\n0.01,0.1\n0.02\n", 3, "", "two numbers"},
		{"0,0\n0.01,0.1,7\n", 2, "", "two numbers"},
		{"0,0\n0.01,x\n", 2, "acceleration", "finite"},
		{"0,0\n0.01,0\nNaN,1\n", 3, "time", "finite"},
		{"0,0\n0.01,31.4\n", 2, "acceleration", "9.80665"},
		{"0,0\n0,0.1\n", 2, "time", "ascend"},
		{"0,0\n0.01,0.1\n0.03,0.1\n", 3, "time", "even steps"},
		{"0,0\n1,0.1\n2,0.1\n", 0, "time", "steps of 1 s"},
		{"0,0\n0.01,0\n", 0, "acceleration", "zero"},
		{strings.Repeat("1", 70000), 0, "", "cannot be read"},
	} {
		_, err := ReadRecord(strings.NewReader(c.text), "a.csv")
		var e *RecordError
		require.ErrorAs(t, err, &e, c.text[:min(20, len(c.text))])
		assert.Equal(t, c.line, e.Line, err)
		assert.Equal(t, c.column, e.Column, err)
		assert.Contains(t, e.Rule, c.rule)
		assert.Contains(t, err.Error(), "a.csv")
	}
}

func FuzzReadRecord(f *testing.F) {
	f.Add("time,acc (g)\n0,0\n0.02,0.0063\n0.04,0.00364\n")
	f.Add("0 0\n.01 1\n.02 -1e0\n")
	f.Add("0;0\n1e-3;nan\n")
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ReadRecord(strings.NewReader(text), "f")
		if err != nil {
			var e *RecordError
			if !errors.As(err, &e) {
				t.Fatalf("%T is not a RecordError", err)
			}
			return
		}
		if sa := r.Sa(0.5, 0.05); math.IsNaN(sa) || math.IsInf(sa, 0) || !(r.Step > 0) {
			t.Fatalf("response %g at step %g", sa, r.Step)
		}
	})
}

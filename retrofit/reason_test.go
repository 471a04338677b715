package retrofit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestReasonNamesTheNumberThatDecided(t *testing.T) {
	c := teachingHospital.build(t)
	c.Facts.Gap = 0.12
	o := run(NewLeadRubber(DefaultLeadRubberOptions()), c)
	assert.Equal(t, Bar, o.Verdict)
	assert.Regexp(t, `^Not isolation on lead-rubber bearings here: the gap of 0\.12 m to the neighbour is `+
		`below the 0\.\d+ m the isolators are sized to move$`, o.Reason())

	c.Facts.Gap = 0
	o = run(NewLeadRubber(DefaultLeadRubberOptions()), c)
	assert.Equal(t, "Not isolation on lead-rubber bearings here: it shares a wall with its neighbour and "+
		"could not move on its own", o.Reason())
	assert.Empty(t, o.Levels, "barred before sizing")
	assert.Empty(t, o.Sized)
	assert.Zero(t, o.Cost)

	c = slenderTower.build(t)
	c.Facts.Brittle = Unknown
	small := DefaultViscousOptions()
	// whose forces raise no doubt
	small.TargetDriftRatio, small.MinDamping, small.MaxDamping = 0.05, 0.03, 0.05
	o = run(NewViscous(small), c)
	assert.Equal(t, Missing, o.Verdict)
	assert.Equal(t, "Cannot tell about added viscous dampers: whether the columns are brittle is not known",
		o.Reason())

	o = run(asItStands{}, c)
	assert.Equal(t, Clear, o.Verdict)
	assert.Equal(t, "Nothing found against leaving it as it is at this level of study", o.Reason())
}

func TestAppendValue(t *testing.T) {
	for _, test := range []struct {
		v    float64
		unit string
		want string
	}{
		{0.12, "m", "0.12 m"}, {3, "", "3"}, {0.7, "%", "70 %"}, {0.0049, "%", "0.49 %"},
		{12.34, "s", "12.3 s"},
		{9.996, "", "10"}, {123.4, "kPa", "123 kPa"}, {1, "answer", "yes"}, {0, "answer", "no"},
		{math.NaN(), "answer", "unknown"}, {math.NaN(), "m", "NaN m"}, {math.Inf(1), "", "+Inf"},
	} {
		assert.Equal(t, test.want, string(appendValue(nil, test.v, test.unit)))
	}
}

package plan

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// No number of a plan is without limit, and none beyond its limits is taken: not
// 1e308, whose products overflow, nor the largest whole number. The message states the
// limits.
func TestEveryNumberHasLimits(t *testing.T) {
	digits := regexp.MustCompile(`[0-9][0-9.e+-]*`)
	limits := regexp.MustCompile(`out of range; write a number from (\S+) to (\S+)`)
	tested := 0
	for _, k := range Reference() {
		value := map[string]string{"number": "1e308", "whole number": "9223372036854775807"}[k.Kind]
		if k.Kind == "list" && !strings.Contains(k.Default, `"`) {
			if value = digits.ReplaceAllString(k.Default, "1e308"); value == "" {
				value = "[1e308]"
			}
		}
		if value == "" {
			continue
		}
		dot := strings.LastIndexByte(k.Key, '.')
		doc := fmt.Sprintf("[%s]\n%s = %s\n", k.Key[:dot], k.Key[dot+1:], value)
		_, err := Parse("p.toml", []byte(doc))
		require.ErrorContains(t, err, "p.toml:2:1: "+k.Key, doc)
		if strings.Contains(err.Error(), "wrong kind of value in the list") {
			continue // a list of words, empty by default
		}
		m := limits.FindStringSubmatch(err.Error())
		require.NotNil(t, m, "%s%v", doc, err)
		assert.NotContains(t, m[1]+m[2], "Inf", k.Key)
		tested++
	}
	assert.Greater(t, tested, 100)
	assert.Less(t, ceiling*ceiling*ceiling, math.MaxFloat64, "a product of three is a number")
}

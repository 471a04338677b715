package page

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestWrapKeepsWidthAndWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.StringMatching(`[a-zé]{1,30}`)).Draw(t, "words")
		var b strings.Builder
		w := New(&b)
		w.Wrap("  - ", strings.Join(words, " "))
		assert.NoError(t, w.Flush())
		for _, line := range strings.Split(b.String(), "\n") {
			assert.LessOrEqual(t, len([]rune(line)), Width)
		}
		assert.Equal(t, append([]string{"-"}, words...), strings.Fields(b.String()))
	})
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestFirstErrorIsReturned(t *testing.T) {
	w := New(full{})
	w.Heading("title")
	assert.EqualError(t, w.Flush(), "no space left")
}

// A terminal obeys escapes and turns text around at marks of direction; neither may
// come through from a register.
func TestHarmless(t *testing.T) {
	assert.Equal(t, "a\ufffd[31mb\ufffdc\ufffd", Harmless("a\x1b[31mb\u202ec\n"))
	for _, whole := range []string{"naïve 学校 مدرسة", "👩‍👩‍👧‍👦"} {
		assert.Equal(t, whole, Harmless(whole))
	}
	assert.Equal(t, "\ufffd[31mred", Cut("\x1b[31mred", 20), "a name cannot colour or move the terminal")
	assert.Equal(t, "a\ufffdb", Cut("a\nb", 20))
	assert.Equal(t, "abcd.", Cut("abcdefgh", 5))
	assert.Equal(t, "abcde", Cut(" abcde ", 5))
	var b strings.Builder
	w := New(&b)
	w.Wrap("", "town\x1b]0;title\x07hall")
	assert.NoError(t, w.Flush())
	assert.Equal(t, "town\ufffd]0;title\ufffdhall\n", b.String())
}

// A table keeps ends of line and tabs; what moves a terminal or turns text goes, and what
// is no UTF-8.
func TestLegible(t *testing.T) {
	for s, want := range map[string]string{
		"a\x1b[31mb\a\b\x00\x7f\u009b":      "a\ufffd[31mb\ufffd\ufffd\ufffd\ufffd\ufffd",
		"a\u202eb\u2066c\u200fd\u061c":      "a\ufffdb\ufffdc\ufffdd\ufffd",
		"a\r\nb\n\tc":                       "a\r\nb\n\tc",
		"hidden\rshown\r":                   "hidden\ufffdshown\ufffd",
		"a\xffb":                            "a\ufffdb",
		"na\u00efve \u5b66\u6821 12\u00a0m": "na\u00efve \u5b66\u6821 12\u00a0m",
	} {
		assert.Equal(t, want, Legible(s))
		assert.Equal(t, want, Legible(Legible(s)))
	}
}

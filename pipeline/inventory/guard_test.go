package inventory

import (
	"encoding/binary"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Lengths that the reading library would make room for are refused: a list of two
// thousand million row groups, a text of as many bytes, structs without end.
func TestThriftLengths(t *testing.T) {
	varint := func(head []byte, n uint64) []byte { return binary.AppendUvarint(head, n) }
	const field = 1 << 4 // the next field, of a type
	good := append([]byte{field | thriftI32, 2, field | thriftList, 2<<4 | thriftI32, 1, 3, field | thriftBinary, 3}, 'a', 'b', 'c', 0)
	n, err := checkThrift(append(good, 9, 9))
	require.NoError(t, err)
	assert.Equal(t, len(good), n, "what is behind the struct is not of it")
	for name, b := range map[string][]byte{
		"list":   append(varint([]byte{field | thriftList, 15<<4 | thriftStruct}, 1<<31-1), 0, 0),
		"text":   append(varint([]byte{field | thriftBinary}, 1<<31-1), 'a', 0),
		"map":    append(varint([]byte{field | thriftMap}, 1<<31-1), 0x55, 0),
		"depth":  []byte(strings.Repeat(string(rune(field|thriftStruct)), 40) + strings.Repeat("\x00", 40)),
		"type":   {field | 13, 0},
		"end":    good[:len(good)-1],
		"varint": {field | thriftI64, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0},
		"empty":  {},
	} {
		_, err := checkThrift(b)
		assert.ErrorIs(t, err, errThrift, name)
	}
}

// Runs of more values than their page are refused before anything is unpacked.
func TestRunLengths(t *testing.T) {
	run := func(head uint64, more ...byte) []byte { return append(binary.AppendUvarint(nil, head), more...) }
	assert.NoError(t, checkRuns(run(100<<1, 1), 1, 100))
	assert.NoError(t, checkRuns(run(13<<1|1, make([]byte, 13)...), 1, 100), "thirteen eights for a hundred")
	assert.NoError(t, checkRuns(append(run(50<<1, 7), run(50<<1, 9)...), 4, 100))
	for name, b := range map[string][]byte{
		"one run":        run(1<<31, 1),
		"packed":         run(1<<29|1, 1),
		"packed, empty":  run(1<<62|1, 1),
		"many runs":      append(run(60<<1, 7), run(60<<1, 9)...),
		"values missing": run(100 << 1),
		"bytes missing":  run(13<<1|1, 0, 0),
	} {
		assert.ErrorIs(t, checkRuns(b, 4, 100), errRuns, name)
	}
	assert.ErrorIs(t, checkRuns(run(100<<1, 1), 33, 100), errRuns, "no number is so wide")
	assert.NoError(t, checkRuns(run(12<<1|1), 0, 100), "a dictionary of one word")
	assert.ErrorIs(t, checkRuns(run(1<<40|1), 0, 100), errRuns, "packed in no bits")

	head := binary.AppendUvarint([]byte{128, 1, 4}, 101)
	assert.NoError(t, checkDelta(head, 101))
	assert.ErrorIs(t, checkDelta(head, 100), errRuns)
}

// Text is taken for UTF-8 even where its head ends within a letter.
func TestValidHead(t *testing.T) {
	text := []byte("Māori 建物 🏠")
	for n := range text {
		assert.True(t, validHead(text[:n], false), n)
	}
	assert.True(t, validHead(text, true))
	assert.False(t, validHead(text[:2], true), "the whole file ends within a letter")
	assert.False(t, validHead([]byte("Caf\xe9 Noir"), false))
	assert.True(t, validHead(nil, true))
}

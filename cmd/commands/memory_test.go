package commands

import (
	"runtime/debug"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestBoundMemory(t *testing.T) {
	before := debug.SetMemoryLimit(-1)
	defer debug.SetMemoryLimit(before)
	boundMemory(0)
	assert.EqualValues(t, memoryLimit, debug.SetMemoryLimit(-1))
	boundMemory(1 << 30)
	assert.EqualValues(t, memoryLimit+(768<<20), debug.SetMemoryLimit(-1), "sorters of 1 GiB, 768 MiB above the usual")
	t.Setenv("GOMEMLIMIT", "3GiB")
	debug.SetMemoryLimit(3 << 30)
	boundMemory(0)
	assert.EqualValues(t, 3<<30, debug.SetMemoryLimit(-1), "the environment goes before")
}

package assess

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The command that goes on with a run can be pasted into a shell as it stands.
func TestResumeCommand(t *testing.T) {
	assert.Equal(t, "plinth screen --resume town/plan.toml",
		Command("screen --resume", "town/plan.toml"))
	assert.Equal(t, `plinth confirm 'our town'\''s plan.toml'`,
		Command("confirm", "our town's plan.toml"))
	assert.Equal(t, "plinth confirm PLAN", Command("confirm", ""))
}

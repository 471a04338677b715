package audit

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plinth/pipeline/output"
)

// The audit reads again what the list of formats says is audited, and nothing else.
func TestFormatsAreAuditedAsTheySay(t *testing.T) {
	for _, f := range output.Formats() {
		_, rows := rowReaders[f.Name]
		_, spots := spotReaders[f.Name]
		tiles := f.Name == output.FormatTiles
		assert.Equal(t, f.Audited, rows || spots || tiles, f.Name)
		assert.False(t, rows && f.Map, "%s holds points, which are read as spots", f.Name)
		assert.False(t, spots && !f.Map, "%s holds no points", f.Name)
	}
	assert.Len(t, tableFormats, len(rowReaders))
}

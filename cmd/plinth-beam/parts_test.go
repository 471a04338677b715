package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/sample"
)

// oneTable asks DuckDB whether the ranges of a table, read as one by their glob in the order of their
// names, are the table of one machine, row for row. It prints the number of rows and of differences.
const oneTable = `
const require = (await import('node:module')).createRequire(process.argv[1])
const { DuckDBInstance } = require('@duckdb/node-api')
const db = await (await DuckDBInstance.create()).connect()
const [parts, whole] = process.argv.slice(2).map((glob) =>
  "select row_number() over () as nth, * from read_parquet('" + glob.replaceAll("'", "''") + "')")
const count = async (sql) =>
  Number((await db.runAndReadAll('select count(*) as n from (' + sql + ')')).getRowObjectsJS()[0].n)
console.log(await count(parts), await count(whole), await count('(' + parts + ') except (' + whole + ')'))
`

// DuckDB reads the ranges of buildings and candidates as one table each.
func TestRangesAreOneTableElsewhere(t *testing.T) {
	readers, err := filepath.Abs("../../testdata/readers/check.mjs")
	require.NoError(t, err)
	if _, err := exec.LookPath("node"); err != nil {
		t.Skip("needs Node.js")
	}
	if _, err := os.Stat(filepath.Join(filepath.Dir(readers), "node_modules", "@duckdb", "node-api")); err != nil {
		t.Skip("needs the readers: make readers")
	}
	path := town(t, sample.Buildings)
	out, want := spreadOut(t, path, "", 5, 16), local(t, path)
	for _, table := range []string{"buildings", "candidates"} {
		require.Greater(t, len(ranged(t, out, table, "parquet")), 1)
		said, err := exec.Command("node", "--input-type=module", "-e", oneTable, readers,
			filepath.Join(out, table+"-*.parquet"), filepath.Join(want, table+".parquet")).CombinedOutput()
		require.NoError(t, err, string(said))
		var parts, whole, different int
		_, err = fmt.Sscan(strings.TrimSpace(string(said)), &parts, &whole, &different)
		require.NoError(t, err, string(said))
		assert.Positive(t, whole, table)
		assert.Equal(t, whole, parts, table)
		assert.Zero(t, different, table)
	}
}

package inventory

import (
	"fmt"
	"hash/crc32"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/plan"
)

// foreignPlan is the plan for a register of testdata/readers/registers.mjs or .py.
func foreignPlan(path string) *plan.Inventory {
	inv := &plan.Inventory{
		Path: path, Format: "parquet",
		Columns: map[string]string{
			"id": "ref", "year": "built", "storeys": "floors", "floor_area": "area", "system": "type",
		},
		Units:  map[string]string{"floor_area": "m2"},
		Values: map[string]map[string]string{"system": {"RC": "concrete-frame", "W": "timber-frame"}},
	}
	if !strings.Contains(path, "-geo-") {
		inv.Columns["lon"], inv.Columns["lat"] = "lon", "lat"
	}
	return inv
}

// foreignName has the kind of a file and its rows.
var foreignName = regexp.MustCompile(`(?:duckdb|pyarrow)-(.+)-(\d+)\.parquet$`)

// readForeign reads a register that another program wrote and holds every row against
// what that program was told to write.
func readForeign(t *testing.T, path string) {
	name := foreignName.FindStringSubmatch(path)
	require.NotNil(t, name, path)
	rows, err := strconv.Atoi(name[2])
	require.NoError(t, err)
	r, err := Open(foreignPlan(path), Options{})
	if name[1] == "blob" || name[1] == "bytes" {
		require.ErrorContains(t, err, `column "ref": the register has bytes there that are not said to be text`)
		require.ErrorContains(t, err, "as text")
		return
	}
	require.NoError(t, err)
	defer r.Close()
	if strings.Contains(name[1], "lz4") {
		err = r.Read(&Raw{}, &Batch{})
		require.ErrorContains(t, err, "it is packed by LZ4_RAW, which is not read; write it packed by zstd")
		return
	}
	buildings, rejects, rep := read(t, r)
	require.Empty(t, rejects)
	require.Equal(t, rows, rep.Tally.In)
	type row struct {
		id            string
		year, storeys int
		origin        Origin // of the year
		area          float64
		lon           int64 // in 0.00001 degrees
		lat           float64
		concrete      bool
	}
	for i := range buildings {
		want := row{foreignID(name[1], i), 1930 + i%60, 1 + i%5, Given,
			100 + float64(i)*0.25, int64(i) - 14120000, 41.6, i%3 == 0}
		if name[1] == "empty" || name[1] != "whole" && i%7 == 0 {
			want.year, want.origin = 0, Absent
		}
		b := &buildings[i]
		got := row{b.ID, b.Year, b.Storeys, b.Origin[Year],
			b.FloorArea, int64(math.Round(b.Lon * 1e5)), b.Lat, b.System.String() == "concrete-frame"}
		if got != want {
			require.Equal(t, want, got)
		}
	}
}

// foreignID is the id of row i.
func foreignID(kind string, i int) string {
	switch kind {
	case "uuid":
		return fmt.Sprintf("00000000-0000-4000-8000-%012d", i)
	case "number": // beyond what a double holds
		return strconv.FormatInt(9007199254740993+int64(i), 10)
	}
	return fmt.Sprintf("B%d", i)
}

// Registers that DuckDB and pyarrow wrote are read whole, in every packing, encoding,
// version of pages and type of column those writers have for such rows.
func TestForeignParquet(t *testing.T) {
	files, err := filepath.Glob("testdata/parquet/*.parquet")
	require.NoError(t, err)
	require.Greater(t, len(files), 25)
	for _, path := range files {
		t.Run(filepath.Base(path), func(t *testing.T) { readForeign(t, path) })
	}
}

// The same of registers as DuckDB writes them now, of sizes at and beside the bounds of
// its vectors (2048 rows) and of the packed runs in its pages (256 numbers).
func TestDuckDBRegisters(t *testing.T) {
	if testing.Short() {
		t.Skip("starts Node.js: seconds")
	}
	script, err := filepath.Abs("../../testdata/readers/registers.mjs")
	require.NoError(t, err)
	if _, err := exec.LookPath("node"); err != nil {
		t.Skip("needs Node.js 20 or later; TestForeignParquet reads kept files")
	}
	if _, err := os.Stat(filepath.Join(filepath.Dir(script), "node_modules", "@duckdb", "node-api")); err != nil {
		t.Skip("needs: npm ci --prefix testdata/readers")
	}
	dir := t.TempDir()
	sizes := []string{"1", "239", "250", "1000", "2048", "5000", "19999"}
	out, err := exec.Command("node", append([]string{script, dir}, sizes...)...).CombinedOutput()
	require.NoError(t, err, string(out))
	files, err := filepath.Glob(filepath.Join(dir, "*.parquet"))
	require.NoError(t, err)
	require.Len(t, files, len(sizes)*21)
	for _, path := range files {
		t.Run(filepath.Base(path), func(t *testing.T) { readForeign(t, path) })
	}
}

// One changed byte in any page that has a checksum is an error, however it reads
// without; pyarrow writes checksums when asked.
func TestPageChecksum(t *testing.T) {
	check := crc32.ChecksumIEEE([]byte("123456789"))
	require.EqualValues(t, 0xCBF43926, check, "the check value of the CRC-32 of ISO 3309, from memory")
	for _, kind := range []string{"checked", "checked-v2"} {
		path := filepath.Join("testdata/parquet", "pyarrow-"+kind+"-239.parquet")
		whole, err := os.ReadFile(path)
		require.NoError(t, err)
		for _, text := range []string{"B100", "B238"} {
			at := strings.Index(string(whole), text)
			if at < 0 { // compressed: any byte of the first page
				at = 60
			}
			for _, bit := range []byte{1, 64} {
				doc := append([]byte(nil), whole...)
				doc[at+1] ^= bit
				r, err := openBytes(t, doc, foreignPlan(""), Options{})
				if err == nil {
					err = readDamaged(t, r)
				}
				assert.ErrorContains(t, err, "a page differs from its checksum", kind)
			}
		}
	}
}

// Three hundred copies of registers whose pages have checksums, each with one to eight
// bytes changed, are refused or read as the sound ones are: none gives another value.
func TestMutatedParquet(t *testing.T) {
	if testing.Short() {
		t.Skip("damages many files")
	}
	type register struct {
		doc  []byte
		inv  func() *plan.Inventory
		want []string
	}
	var registers []register
	for _, kind := range []string{"checked", "checked-v2"} {
		doc, err := os.ReadFile(filepath.Join("testdata/parquet", "pyarrow-"+kind+"-239.parquet"))
		require.NoError(t, err)
		registers = append(registers, register{doc: doc, inv: func() *plan.Inventory { return foreignPlan("") }})
	}
	geo := func() *plan.Inventory { return stockPlan("parquet") }
	registers = append(registers, register{doc: stockGeo(t, madeRows(60, true), "1.1.0", &parquet.Zstd), inv: geo},
		register{doc: stockGeo(t, madeRows(60, true), "1.0.0", &parquet.Uncompressed), inv: geo})
	values := func(doc []byte, inv *plan.Inventory) ([]string, error) {
		r, err := openBytes(t, doc, inv, Options{})
		if err != nil {
			return nil, err
		}
		defer r.Close()
		var raw Raw
		var b Batch
		var out []string
		for err = r.Read(&raw, &b); err == nil; err = r.Read(&raw, &b) {
			out = append(out, withoutLines(b.Buildings)...)
			for _, x := range b.Rejects {
				x.File = ""
				out = append(out, fmt.Sprintf("%+v", x))
			}
		}
		if err == io.EOF {
			err = nil
		}
		return out, err
	}
	for i := range registers {
		var err error
		registers[i].want, err = values(registers[i].doc, registers[i].inv())
		require.NoError(t, err)
	}
	random, refused := rand.New(rand.NewPCG(5, 6)), 0
	for i := range 300 {
		r := &registers[i%len(registers)]
		doc := append([]byte(nil), r.doc...)
		for range 1 + random.IntN(8) {
			doc[random.IntN(len(doc))] ^= byte(1 + random.IntN(255))
		}
		got, err := values(doc, r.inv())
		if err != nil {
			refused++
			continue
		}
		require.Equal(t, r.want, got, "copy %d", i)
	}
	t.Logf("%d of 300 refused, the others read as the sound ones", refused)
	assert.Greater(t, refused, 150)
}

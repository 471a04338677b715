package measured

import (
	"io/fs"
	"math"
	"path"
	"slices"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rowsOf returns the rows of a table.
func rowsOf(t *testing.T, file string) []row {
	t.Helper()
	rows, err := readRows(folder, file, nil, nil)
	require.NoError(t, err)
	return rows
}

// TestEveryRowIsUsed: every row of every table is beside a prediction or is named with
// the reason why it is not.
func TestEveryRowIsUsed(t *testing.T) {
	c := comparison(t)
	assert.Len(t, c.buildings.structures, len(rowsOf(t, "structures.csv")))
	assert.Len(t, c.buildings.values, len(rowsOf(t, "measured.csv")))
	for i := range c.buildings.values {
		v := &c.buildings.values[i]
		assert.NotEqual(t, v.unused == "", math.IsNaN(v.predicted), "%v", v.key())
	}
	assert.Len(t, c.codes, len(rowsOf(t, "codes.csv")))
	for i := range c.codes {
		k := &c.codes[i]
		assert.NotEqual(t, k.unused == "", math.IsNaN(k.predicted), "codes.csv:%d", k.line)
	}
	assert.Len(t, c.laws, len(rowsOf(t, "periods.csv")))
	for i := range c.laws {
		assert.NotEqual(t, c.laws[i].unused == "", len(c.laws[i].ratios) == 0, "periods.csv:%d", c.laws[i].line)
	}
	assert.Len(t, c.damage.curves, len(rowsOf(t, "damage/fragilities.csv")))
	for i := range c.damage.curves {
		f := &c.damage.curves[i]
		assert.NotEqual(t, f.unused == "", len(f.program) == 0, "fragilities.csv:%d", f.line)
	}
	assert.Len(t, c.damage.shares, len(rowsOf(t, "damage/shares.csv")))
	n := 0
	for _, s := range c.damage.stocks {
		n += len(s.rows)
	}
	assert.Equal(t, len(rowsOf(t, "damage/laquila-2009-masonry-damage.csv")), n)
}

// TestEveryElementIsPlaced: a row of elements.csv stands beside a limit or is named as
// unused; one that says that nothing was found stands where nothing is.
func TestEveryElementIsPlaced(t *testing.T) {
	c := comparison(t)
	var placed []string
	for i := range c.limits {
		l := &c.limits[i]
		for j := range l.elements {
			e := &l.elements[j]
			placed = append(placed, e.text("id"))
			if e.none {
				others := slices.DeleteFunc(slices.Clone(l.elements), func(o element) bool { return o.none })
				assert.Empty(t, others, "%s %s has values, and %s says that it has none", l.of, l.name, e.text("id"))
			}
		}
	}
	for i := range c.astray {
		e := &c.astray[i]
		placed = append(placed, e.text("id"))
		assert.Equal(t, "floor_velocity", e.text("quantity"), "elements.csv:%d names no limit", e.line)
	}
	for _, r := range rowsOf(t, "elements.csv") {
		assert.Contains(t, placed, r.text("id"), "elements.csv:%d", r.line)
	}
}

// TestEveryFileIsRead: there is no file in the folder that the page is not made from, but
// for what is written about it.
func TestEveryFileIsRead(t *testing.T) {
	known := []string{
		"README.md", "damage/README.md", "nist-notice.md",
		"structures.csv", "measured.csv", "reasons.csv", "elements.csv", "codes.csv", "periods.csv",
		"damage/fragilities.csv", "damage/shares.csv", "damage/laquila-2009-masonry-damage.csv",
	}
	for i := range comparison(t).buildings.structures {
		if r := comparison(t).buildings.structures[i].record; r != "" {
			known = append(known, path.Clean(r))
		}
	}
	require.NoError(t, fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			assert.Contains(t, known, name)
		}
		return err
	}))
}

// TestEveryReasonHasItsRow: a sentence of reasons.csv names a row that is there, and is no
// empty one.
func TestEveryReasonHasItsRow(t *testing.T) {
	ids := map[string][]string{"damage": {"dispersion", "medians"}}
	for _, file := range []string{"codes", "periods", "elements"} {
		for _, r := range rowsOf(t, file+".csv") {
			ids[file] = append(ids[file], r.text("id"))
		}
	}
	values := map[key]bool{}
	for i := range comparison(t).buildings.values {
		k := comparison(t).buildings.values[i].key()
		values[k], values[key{k.file, k.id, k.quantity, ""}], values[key{k.file, k.id, "", ""}] = true, true, true
	}
	for k, s := range comparison(t).why {
		assert.NotEmpty(t, s.why, "%v", k)
		if k.file == "measured" || k.file == "timed" {
			assert.True(t, values[key{"measured", k.id, k.quantity, k.level}], "%v", k)
		} else {
			assert.Contains(t, ids[k.file], k.id)
		}
	}
}

// TestTablesThatAreWrong: what is wrong with a table is said with its place.
func TestTablesThatAreWrong(t *testing.T) {
	for text, want := range map[string]string{
		"id\n1\n":          "no column pga_g",
		"id,pga_g\na,1x\n": `bad.csv:2, column pga_g: "1x" is no number`,
		"":                 "EOF",
		"id,pga_g\na\n":    "wrong number of fields",
	} {
		bad := fstest.MapFS{"bad.csv": {Data: []byte(text)}}
		_, err := readRows(bad, "bad.csv", []string{"id"}, []string{"pga_g"})
		assert.ErrorContains(t, err, want)
	}
	for text, want := range map[string]string{
		"measured,a,,,sure,x\n":                    "is not one of off, apart, unused",
		"measured,a,,,off,x\nmeasured,a,,,off,y\n": "is named twice",
	} {
		_, err := readReasons(reasonsOf(text))
		assert.ErrorContains(t, err, want)
	}
}

// reasonsOf returns a folder with a table of reasons.
func reasonsOf(rows string) fs.FS {
	return fstest.MapFS{"reasons.csv": {Data: []byte("file,id,quantity,level,use,why\n" + rows)}}
}

// TestReasonsOfARowServeItsValues: a sentence for a quantity or a row serves values that
// have none of their own, and for its use alone.
func TestReasonsOfARowServeItsValues(t *testing.T) {
	why, err := readReasons(reasonsOf("measured,a,,,off,row\n" +
		"measured,a,period_s,,off,quantity\nmeasured,a,period_s,EW,apart,value\n"))
	require.NoError(t, err)
	assert.Equal(t, "row", why.of(key{"measured", "a", "roof_accel_g", ""}, whyOff))
	assert.Equal(t, "quantity", why.of(key{"measured", "a", "period_s", "NS"}, whyOff))
	assert.Equal(t, "value", why.of(key{"measured", "a", "period_s", "EW"}, whyApart))
	assert.Empty(t, why.of(key{"measured", "a", "period_s", "NS"}, whyUnused))
	assert.Empty(t, why.of(key{"measured", "b", "period_s", ""}, whyOff))
}

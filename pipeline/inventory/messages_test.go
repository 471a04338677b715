package inventory

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/plan"
)

// smallPlan maps the columns of the small registers of these tests.
func smallPlan() *plan.Inventory {
	return &plan.Inventory{
		Format: "csv", Delimiter: ",", Encoding: "utf-8",
		Columns: map[string]string{
			"id": "ref", "name": "name", "lon": "lon", "lat": "lat", "year": "built", "storeys": "floors", "height": "height", "floor_area": "area", "system": "type", "use": "use",
		},
		Units:  map[string]string{"height": "m", "floor_area": "m2"},
		Values: map[string]map[string]string{"system": {"RC": "concrete-frame"}},
	}
}

const smallHeader = "ref,name,lon,lat,built,floors,height,area,type,use\n"
const smallRow = "B1,Old Hall,-150.1234,40.1234,1965,4,14,2000,RC,office\n"

func TestOpenMessages(t *testing.T) {
	dir := t.TempDir()
	inv := smallPlan()
	inv.Path = filepath.Join(dir, "none.csv")
	_, err := Open(inv, Options{})
	require.EqualError(t, err, inv.Path+": inventory.path: no such file; check the path; it is relative to the plan's folder")
	inv.Path = dir
	_, err = Open(inv, Options{})
	require.EqualError(t, err, dir+": inventory.path: this is a folder; give the register's file")
	inv.Path = filepath.Join(dir, "good.csv")
	require.NoError(t, os.WriteFile(inv.Path, []byte(smallHeader+smallRow), 0o600))
	r, err := Open(inv, Options{})
	require.NoError(t, err)
	require.NoError(t, r.Close())
}

// Every error of a whole file says where, what and what to do.
func TestFileMessages(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		edit func(*plan.Inventory)
		want string
	}{
		"empty":       {"", nil, "register.csv: the file is empty; export the register again, with a header line"},
		"blank lines": {"\n\n\n\n", nil, "register.csv:1: the file holds blank lines only; the first line must name the columns"},
		"workbook":    {"PK\x03\x04....", nil, "register.csv: inventory.format: this is a spreadsheet workbook or an archive, not text; write format = \"xlsx\" under [inventory] if it is a workbook of that kind"},
		"utf-16":      {"\xff\xfer\x00e\x00", nil, "register.csv: the text is UTF-16; save the register as UTF-8"},
		"compressed":  {"\x1f\x8b\x08\x00", nil, "register.csv: the file is compressed; unpack it first"},
		"carriage returns": {strings.ReplaceAll(smallHeader+smallRow, "\n", "\r"), nil,
			"register.csv:1: lines end in a bare carriage return; save the register with line feeds"},
		"semicolons": {strings.ReplaceAll(smallHeader, ",", ";"), nil,
			`register.csv:1: inventory.delimiter: the header has one column if cells are split at ','; write delimiter = ";" under [inventory]`},
		"no such column": {strings.Replace(smallHeader, "height", "HEIGHT_M", 1) + smallRow, nil,
			`register.csv:1: inventory.columns.height: column "height": the header has no such column; did you mean HEIGHT_M?`},
		"same header twice": {strings.Replace(smallHeader, "name", "height", 1) + smallRow, func(i *plan.Inventory) { delete(i.Columns, "name") },
			`register.csv:1: inventory.columns.height: column "height": the header has 2 columns of this name; rename all but one, so that it is clear which is meant`},
		"no unit": {smallHeader + smallRow, func(i *plan.Inventory) { delete(i.Units, "height") },
			`register.csv: inventory.units.height: column "height": no unit declared (its cells are such as 14); write height = "m" under [inventory.units], or one of m, cm, mm, km, ft, in, yd, mi`},
		"wrong unit": {smallHeader + smallRow, func(i *plan.Inventory) { i.Units["floor_area"] = "m" },
			`register.csv: inventory.units.floor_area: column "area": not a unit this column can have (m); write floor_area = "m2" under [inventory.units], or one of m2, ft2, yd2, ha`},
		"unit of a word": {smallHeader + smallRow, func(i *plan.Inventory) { i.Units["use"] = "m" },
			`register.csv: inventory.units.use: column "use": use has no unit; remove the key`},
		"unknown field": {smallHeader + smallRow, func(i *plan.Inventory) { i.Columns["floors"] = "floors" },
			`register.csv: inventory.columns.floors: not a field of a building; did you mean floor_area? there are id, name, lon, lat, year, year_strengthened, classified_year, storeys`},
		"no id": {smallHeader + smallRow, func(i *plan.Inventory) { delete(i.Columns, "id") },
			`register.csv: inventory.columns.id: no column given for it, and a building cannot be used without; name the column under [inventory.columns]; there are ref, name`},
		"word not ours": {smallHeader + smallRow, func(i *plan.Inventory) { i.Values["system"]["RC"] = "concrete frame infill" },
			`register.csv: inventory.values.system.RC: column "type": not one of our words for system (concrete frame infill); did you mean concrete-frame-infilled or concrete-frame`},
		"values without a column": {smallHeader + smallRow, func(i *plan.Inventory) { i.Values["heritage"] = map[string]string{"I": "yes"} },
			`register.csv: inventory.values.heritage: the field has no column; name its column under [inventory.columns], or remove the key`},
		"assumed number": {smallHeader + smallRow, func(i *plan.Inventory) { i.Assume = map[string]string{"storeys": "many"} },
			`register.csv: inventory.assume.storeys: not a value this field can have (many); write a number from 1 to 200`},
		"assumed id": {smallHeader + smallRow, func(i *plan.Inventory) { i.Assume = map[string]string{"lon": "10"} },
			`register.csv: inventory.assume.lon: lon cannot be assumed (10); remove the key`},
		"delimiter": {smallHeader, func(i *plan.Inventory) { i.Delimiter = "::" },
			`register.csv: inventory.delimiter: not a delimiter (::); write one character, such as "," or ";" or "\t"`},
		"decimal comma": {smallHeader, func(i *plan.Inventory) { i.Decimal = "," },
			`register.csv: inventory.decimal: the decimal mark is also the delimiter; write delimiter = ";" if cells are split by semicolons`},
	} {
		inv := smallPlan()
		if c.edit != nil {
			c.edit(inv)
		}
		_, err := NewReader(strings.NewReader(c.text), "register.csv", inv, Options{})
		require.Error(t, err, name)
		var fe *fault.FileError
		assert.True(t, errors.As(err, &fe), name)
		assert.Contains(t, err.Error(), c.want, name)
	}
}

// All problems of the mapping come at once.
func TestAllProblemsAtOnce(t *testing.T) {
	inv := smallPlan()
	inv.Columns["height"] = "hieght"
	delete(inv.Units, "floor_area")
	inv.Assume = map[string]string{"use": "castle"}
	_, err := NewReader(strings.NewReader(smallHeader+smallRow), "register.csv", inv, Options{})
	require.Error(t, err)
	assert.Len(t, strings.Split(err.Error(), "\n"), 3)
}

func TestHeaderOnly(t *testing.T) {
	r := open(t, smallHeader, smallPlan(), Options{})
	buildings, rejects, rep := read(t, r)
	assert.Empty(t, buildings)
	assert.Empty(t, rejects)
	assert.Zero(t, rep.Tally.In)
	assert.Contains(t, rep.String(), "0 rows read")
	var raw Raw
	assert.Equal(t, io.EOF, r.Next(&raw), "and again")
}

func TestReadFailure(t *testing.T) {
	broken := errors.New("disk on fire")
	in := io.MultiReader(strings.NewReader(smallHeader+smallRow), iotest.ErrReader(broken))
	r, err := NewReader(in, "register.csv", smallPlan(), Options{})
	require.NoError(t, err)
	var raw Raw
	require.NoError(t, r.Next(&raw), "the row before the failure")
	require.Equal(t, 1, raw.Rows)
	err = r.Next(&raw)
	require.ErrorIs(t, err, broken)
	assert.Equal(t, "register.csv: reading failed: disk on fire; check the disk or the connection and run again", err.Error())
}

// A reject names file, line, building, column, raw value, rule and remedy.
func TestRejectMessage(t *testing.T) {
	r := open(t, smallHeader+smallRow+smallRow, smallPlan(), Options{})
	_, rejects, _ := read(t, r)
	require.Len(t, rejects, 1)
	assert.EqualError(t, &rejects[0], `register.csv:3: building B1: column ref = "B1": the id was used before (first on line 2); keep one row a building, or give the parts ids of their own`)
}

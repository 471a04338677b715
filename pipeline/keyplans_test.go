package pipeline

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// keyPlan is the plan that keys are tried on: a few buildings of the demo's kinds, all
// measures.
const keyPlan = `name = "keys"
[inventory]
path = "buildings.csv"
[inventory.columns]
id = "ID"
name = "NAME"
lon = "LON"
lat = "LAT"
system = "SYSTEM"
year = "YEAR"
storeys = "STOREYS"
storeys_below = "BELOW"
floor_area = "AREA"
length = "LENGTH"
width = "WIDTH"
gap = "GAP"
use = "USE"
site_class = "GROUND"
fault_distance = "FAULT"
[inventory.units]
floor_area = "m2"
length = "m"
width = "m"
gap = "m"
fault_distance = "km"
[hazard]
kind = "grid"
path = "hazard.csv"
soil_included = false
site_class = "C"
[archetypes]
region = "us-west"
zone = "4"
[measures]
use = ["lead-rubber", "lead-rubber-strengthen", "slider", "viscous",
  "yielding", "tuned-mass", "strengthen", "strengthen-viscous"]
[confirm]
shortlist = 2
measures = 1
records = 2
pictures = 0
[output]
formats = ["csv"]
`

const keyRegister = `ID,NAME,LON,LAT,SYSTEM,YEAR,STOREYS,BELOW,AREA,LENGTH,WIDTH,GAP,USE,GROUND,FAULT,SITE
K-01,Café,-141.19,41.60,concrete-frame,1968,7,1,18200.5,84,31,12,hospital,D,40,north
K-02,Wing,-141.19,41.61,concrete-wall,1984,4,1,7400,60,31,9,hospital,D,3,north
K-03,Clinic,-141.20,41.60,steel-moment-frame,1996,3,0,5600,62,30,15,hospital,D,12,north
K-04,Home,-141.20,41.61,concrete-frame-infilled,1957,6,0,4900,45,18,7,apartments,,40,north
K-05,Museum,-141.21,41.60,masonry-unreinforced,1898,3,1,5200,58,30,8,museum,C,40,south
K-06,Store,-141.21,41.61,concrete-frame,1962,4,1,2600,32,20,4,museum,C,40,north
K-07,Gallery,-141.22,41.60,steel-braced-frame,2004,2,0,1900,42,23,20,museum,E,40,north
K-08,Tower,-141.22,41.61,steel-moment-frame,,14,1,9000,30,22,6,office,B,40,south
K-09,House,-141.19,41.62,timber-frame,1990,2,0,200,12,9,5,house,D,40,south
`

// keyInput names the files that a trial reads.
var keyInput = map[string]bool{"plan.toml": true}

// keyFiles returns the files that trials read.
func keyFiles(t *testing.T) map[string]string {
	hazard := keyHazard(1)
	files := map[string]string{
		"buildings.csv": keyRegister,
		"fewer.csv":     keyRegister[:strings.LastIndex(strings.TrimSuffix(keyRegister, "\n"), "\n")+1],
		"parts.csv":     strings.Replace(keyRegister, "K-09,", "K-09;K-10,", 1),
		"stock.csv":     keyRegister + keyStock(),
		"twice.csv":     keyRegister + "K-01" + strings.SplitN(keyRegister, "K-01", 2)[1],
		"hazard.csv":    hazard,
		"stronger.csv":  keyHazard(1.2),
		"mapped.csv": "lon,lat,ss,s1\n-141.3,41.5,1.0,0.4\n-141.1,41.5,1.4,0.5\n" +
			"-141.3,41.7,1.2,0.6\n-141.1,41.7,0.8,0.3\n",
		"zones.geojson": `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"site_class":"E"},` +
			`"geometry":{"type":"Polygon","coordinates":` +
			`[[[-141.3,41.5],[-141.1,41.5],[-141.1,41.7],[-141.3,41.7],[-141.3,41.5]]]}}]}`,
		"systems.csv": "system,quantity,value,source,confidence\nconcrete-frame,weight_kpa,15,test,low\n",
		"eras.csv": "region,zone,from_year,to_year,rule,parameters,level,to_strength,overstrength," +
			"detailing,source,confidence\n" +
			"us-west,4,1900,,flat,c=0.2,allowable,1.4,,limited,test,low\n",
		"terms.csv": "id,group,latest_year\nK-01,g,2\nK-02,g,3\nK-03,g,3\nK-04,g,\n" +
			"K-05,g,\nK-06,g,\nK-07,g,\nK-08,g,\nK-09,g,\n",
		"record.txt": keyRecord(),
	}
	for _, tr := range []int{100, 475, 2475} {
		for i, name := range []string{"0", "0.2", "1"} {
			a := []float64{0.4, 1, 0.5}[i] * math.Pow(float64(tr)/475, 0.4)
			files[fmt.Sprintf("sa_%s_%d.asc", name, tr)] = fmt.Sprintf(
				"ncols 2\nnrows 2\nxllcenter -141.3\nyllcenter 41.5\ncellsize 0.2\n%[1]g %[1]g\n%[1]g %[1]g\n", a)
		}
	}
	files["town.xlsx"] = keyWorkbook(t)
	for name := range files {
		keyInput[name] = true
	}
	return files
}

// keyWorkbook returns the register as a workbook of one sheet.
func keyWorkbook(t *testing.T) string {
	f := excelize.NewFile()
	defer f.Close()
	require.NoError(t, f.SetSheetName("Sheet1", "Town"))
	for i, line := range strings.Split(strings.TrimSpace(keyRegister), "\n") {
		cells := strings.Split(line, ",")
		require.NoError(t, f.SetSheetRow("Town", fmt.Sprintf("A%d", i+1), &cells))
	}
	b, err := f.WriteToBuffer()
	require.NoError(t, err)
	return b.String()
}

// keyStock returns five more rows of one site and year.
func keyStock() string {
	var b strings.Builder
	for i := range 5 {
		fmt.Fprintf(&b, "K-%d,House,-141.19,41.6%d,timber-frame,2015,2,0,200,12,9,5,house,D,40,south\n", 11+i, 3+i)
	}
	return b.String()
}

// keyHazard returns a grid of four nodes, so many times a spectrum of 0.4 g at 475 years.
func keyHazard(times float64) string {
	var b strings.Builder
	b.WriteString("lon,lat,return_period_yr,pga_g,sa_0.1,sa_0.3,sa_0.5,sa_1,sa_2,sa_4\n")
	for i, lon := range []float64{-141.3, -141.1} {
		for _, lat := range []float64{41.5, 41.7} {
			for _, tr := range []float64{25, 100, 475, 2475, 5000} {
				a := 0.4 * times * math.Pow(tr/475, 0.4) * (1 + 0.1*float64(i))
				fmt.Fprintf(&b, "%g,%g,%g,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f\n",
					lon, lat, tr, a, 2*a, 2.4*a, 2*a, 1.2*a, 0.6*a, 0.2*a)
			}
		}
	}
	return b.String()
}

// keyRecord returns a decaying swing of the ground as a file of time in s and acceleration
// in g.
func keyRecord() string {
	var b strings.Builder
	for i := range 1500 {
		t := 0.01 * float64(i)
		fmt.Fprintf(&b, "%g %.6f\n", t, 0.3*math.Sin(2*math.Pi*t*(1+0.1*t))*math.Exp(-0.3*t))
	}
	return b.String()
}

// Plans of the kinds of hazard beside a grid, and what else keys need.
const keyConstant = `[hazard]
kind = "constant"
path = ""
pga = 0.4
periods_s = [0.1, 0.5, 1, 3]
sa = [0.9, 0.9, 0.5, 0.15]
k = 2.5
`

const keyMild = `[hazard]
kind = "constant"
path = ""
pga = 0.08
periods_s = [0.1, 0.5, 1, 3]
sa = [0.2, 0.2, 0.1, 0.03]
k = 2.5
`

const keyMapped = `[hazard]
kind = "asce7-16"
path = "mapped.csv"
k = 2.5
`

const keyRasters = `[hazard]
kind = "rasters"
path = "sa_{period}_{return_period}.asc"
raster_return_periods_yr = [475, 2475]
periods_s = [0, 0.2, 1]
[measures]
use = ["viscous"]
`

const keyBook = "[inventory]\nformat = \"xlsx\"\npath = \"town.xlsx\"\nsheet = \"Town\"\n"

const keyPackage = `[inventory]
format = "geopackage"
path = "town.gpkg"
[inventory.columns]
id = "building_id"
name = "building_name"
lon = ""
lat = ""
system = "system"
year = "year"
storeys = "storeys"
storeys_below = ""
floor_area = "floor_area_m2"
length = ""
width = ""
gap = ""
use = "use"
site_class = "site_class"
fault_distance = ""
[inventory.units]
length = ""
width = ""
gap = ""
fault_distance = ""
`

const keyScenario = `[hazard]
magnitude = [7]
source_distance_km = [20]
`

const keyASCE7 = `[hazard]
kind = "asce7-16"
path = ""
ss = 1.2
s1 = 0.5
k = 2.5
`

const keyEurocode = `[hazard]
kind = "en1998-1"
path = ""
ag = 0.3
k = 2.5
`

const keyJapan = `[hazard]
kind = "japan-1457"
path = ""
z = 1.0
`

const keyNTC = `[hazard]
kind = "ntc2018"
path = ""
site_class = "B"
ntc_return_periods_yr = [30, 475, 2475]
ntc_ag = [0.06, 0.26, 0.45]
ntc_f0 = [2.4, 2.4, 2.5]
ntc_tc_s = [0.28, 0.35, 0.4]
`

const keyParts = `[inventory]
path = "parts.csv"
`

const keySites = `[inventory]
path = "stock.csv"
impute = "stock"
`

const keyGrid = `[output.areas]
by = "grid"
cell_m = 400
least_buildings = 4
`

// With more friction than this both drift and acceleration rise with it, and nothing is weighed.
const keySlippery = `[measures.slider]
yield_ratio = [0.005, 0.05]
`

const keyWeighted = `[objective]
rank_by = "weighted"
weights = {net-benefit = 1}
`

const keyDraws = `[uncertainty]
draws = 19
`

const keyBudget = `[budget]
yearly = 20_000_000
years = 3
`

const keyPage = `[output]
formats = ["csv", "html"]
`

const keyRecords = `[confirm]
record_files = ["record.txt"]
`

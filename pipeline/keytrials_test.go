package pipeline

import (
	"fmt"
	"math"
	"strings"
	"testing"
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
use = ["lead-rubber", "lead-rubber-strengthen", "slider", "viscous", "yielding", "tuned-mass", "strengthen", "strengthen-viscous"]
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
		"hazard.csv":    hazard,
		"stronger.csv":  keyHazard(1.2),
		"mapped.csv":    "lon,lat,ss,s1\n-141.3,41.5,1.0,0.4\n-141.1,41.5,1.4,0.5\n-141.3,41.7,1.2,0.6\n-141.1,41.7,0.8,0.3\n",
		"zones.geojson": `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"site_class":"E"},` +
			`"geometry":{"type":"Polygon","coordinates":[[[-141.3,41.5],[-141.1,41.5],[-141.1,41.7],[-141.3,41.7],[-141.3,41.5]]]}}]}`,
		"systems.csv": "system,quantity,value,source,confidence\nconcrete-frame,weight_kpa,15,test,low\n",
		"eras.csv": "region,zone,from_year,to_year,rule,parameters,level,to_strength,overstrength,detailing,source,confidence\n" +
			"us-west,4,1900,,flat,c=0.2,allowable,1.4,,limited,test,low\n",
		"terms.csv":  "id,group,latest_year\nK-01,g,2\nK-02,g,3\nK-03,g,3\nK-04,g,\nK-05,g,\nK-06,g,\nK-07,g,\nK-08,g,\nK-09,g,\n",
		"record.txt": keyRecord(),
	}
	for _, tr := range []int{100, 475, 2475} {
		for i, name := range []string{"0", "0.2", "1"} {
			a := []float64{0.4, 1, 0.5}[i] * math.Pow(float64(tr)/475, 0.4)
			files[fmt.Sprintf("sa_%s_%d.asc", name, tr)] = fmt.Sprintf(
				"ncols 2\nnrows 2\nxllcenter -141.3\nyllcenter 41.5\ncellsize 0.2\n%[1]g %[1]g\n%[1]g %[1]g\n", a)
		}
	}
	for name := range files {
		keyInput[name] = true
	}
	return files
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
				fmt.Fprintf(&b, "%g,%g,%g,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f\n", lon, lat, tr, a, 2*a, 2.4*a, 2*a, 1.2*a, 0.6*a, 0.2*a)
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

// Plans of the kinds of hazard beside a grid.
const (
	keyConstant = "[hazard]\nkind = \"constant\"\npath = \"\"\npga = 0.4\nperiods_s = [0.1, 0.5, 1, 3]\nsa = [0.9, 0.9, 0.5, 0.15]\nk = 2.5\n"
	keyMild     = "[hazard]\nkind = \"constant\"\npath = \"\"\npga = 0.08\nperiods_s = [0.1, 0.5, 1, 3]\nsa = [0.2, 0.2, 0.1, 0.03]\nk = 2.5\n"
	keyMapped   = "[hazard]\nkind = \"asce7-16\"\npath = \"mapped.csv\"\nk = 2.5\n"
	keyRasters  = "[hazard]\nkind = \"rasters\"\npath = \"sa_{period}_{return_period}.asc\"\n" +
		"raster_return_periods_yr = [475, 2475]\nperiods_s = [0, 0.2, 1]\n[measures]\nuse = [\"viscous\"]\n"
	keyPackage = "[inventory]\nformat = \"geopackage\"\npath = \"town.gpkg\"\n" +
		"[inventory.columns]\nid = \"building_id\"\nname = \"building_name\"\nlon = \"\"\nlat = \"\"\nsystem = \"system\"\nyear = \"year\"\n" +
		"storeys = \"storeys\"\nstoreys_below = \"\"\nfloor_area = \"floor_area_m2\"\nlength = \"\"\nwidth = \"\"\ngap = \"\"\n" +
		"use = \"use\"\nsite_class = \"site_class\"\nfault_distance = \"\"\n[inventory.units]\nlength = \"\"\nwidth = \"\"\ngap = \"\"\nfault_distance = \"\"\n"
	keyASCE7    = "[hazard]\nkind = \"asce7-16\"\npath = \"\"\nss = 1.2\ns1 = 0.5\nk = 2.5\n"
	keyEurocode = "[hazard]\nkind = \"en1998-1\"\npath = \"\"\nag = 0.3\nk = 2.5\n"
	keyJapan    = "[hazard]\nkind = \"japan-1457\"\npath = \"\"\nz = 1.0\n"
	keyNTC      = "[hazard]\nkind = \"ntc2018\"\npath = \"\"\nsite_class = \"B\"\nntc_return_periods_yr = [30, 475, 2475]\n" +
		"ntc_ag = [0.06, 0.26, 0.45]\nntc_f0 = [2.4, 2.4, 2.5]\nntc_tc_s = [0.28, 0.35, 0.4]\n"
	keyWeighted = "[objective]\nrank_by = \"weighted\"\nweights = {net-benefit = 1}\n"
	keyDraws    = "[uncertainty]\ndraws = 19\n"
	keyBudget   = "[budget]\nyearly = 20_000_000\nyears = 3\n"
	keyPage     = "[output]\nformats = [\"csv\", \"html\"]\n"
	keyRecords  = "[confirm]\nrecord_files = [\"record.txt\"]\n"
)

func one(v any) []any { return []any{v} }

// list returns values of which each is a list.
func list(items ...any) []any { return []any{items} }

// table returns values of which one is a table of one key.
func table(key string, v any) []any { return []any{map[string]any{key: v}} }

// keyTrials says what a key needs that a run of keyPlan does not give it, and other values
// of a key that has none by its range.
var keyTrials = map[string]keyTrial{
	"name":                        {with: keyPage, values: one("other")},
	"inventory.path":              {values: one("fewer.csv")},
	"inventory.layer":             {with: keyPackage, values: one("no-such-table")},
	"inventory.crs":               {values: one("EPSG:32607")},
	"inventory.delimiter":         {values: one(";")},
	"inventory.null":              {values: list("Wing")},
	"inventory.explode":           {with: "[inventory]\npath = \"parts.csv\"\n", values: one("ID")},
	"inventory.explode_separator": {with: "[inventory]\npath = \"parts.csv\"\nexplode = \"ID\"\n", values: one("+")},
	"inventory.group":             {with: "[inventory]\npath = \"stock.csv\"\nimpute = \"stock\"\n", values: one("SITE")},
	"inventory.columns":           {values: table("storeys", "BELOW")},
	"inventory.units":             {values: table("floor_area", "ft2")},
	"inventory.values":            {values: table("use", map[string]any{"hospital": "office"})},
	"inventory.assume":            {values: table("year", "1975")},

	"hazard.path":                       {values: one("stronger.csv")},
	"hazard.layout":                     {with: keyMapped},
	"hazard.soil_included":              {values: one(true)},
	"hazard.raster_return_periods_yr":   {with: keyRasters, values: list(100.0, 2475.0)},
	"hazard.crs":                        {with: "[hazard]\nkind = \"points\"\n", values: one("EPSG:32607")},
	"hazard.site_zones":                 {values: one("zones.geojson")},
	"hazard.return_periods_yr":          {values: list(50.0, 475.0, 2475.0)},
	"hazard.design_return_period_yr":    {values: one(225.0)},
	"hazard.max_distance_km":            {with: "[hazard]\nkind = \"points\"\n"},
	"hazard.k":                          {with: keyConstant},
	"hazard.reference_return_period_yr": {with: keyConstant},
	"hazard.pga":                        {with: keyConstant},
	"hazard.periods_s":                  {with: keyConstant, values: list(0.2, 0.6, 1.0, 3.0)},
	"hazard.sa":                         {with: keyConstant, values: list(0.8, 0.8, 0.5, 0.15)},
	"hazard.ss":                         {with: keyASCE7},
	"hazard.s1":                         {with: keyASCE7},
	"hazard.tl_s":                       {with: keyASCE7, values: one(3.0)},
	"hazard.ag":                         {with: keyEurocode},
	"hazard.spectrum_type":              {with: keyEurocode},
	"hazard.importance_class":           {with: keyEurocode},
	"hazard.z":                          {with: keyJapan},
	"hazard.moderate_return_period_yr":  {with: keyJapan},
	"hazard.ntc_return_periods_yr":      {with: keyNTC, values: list(40.0, 475.0, 2475.0)},
	"hazard.ntc_ag":                     {with: keyNTC, values: list(0.07, 0.26, 0.45)},
	"hazard.ntc_f0":                     {with: keyNTC, values: list(2.3, 2.4, 2.5)},
	"hazard.ntc_tc_s":                   {with: keyNTC, values: list(0.30, 0.35, 0.4)},
	"hazard.topography":                 {with: keyNTC},

	"archetypes.region":  {with: "[archetypes]\nzone = \"\"\n", values: one("generic")},
	"archetypes.zone":    {values: one("3")},
	"archetypes.systems": {values: one("systems.csv")},
	"archetypes.eras":    {values: one("eras.csv")},

	"measures.use":        {values: list("viscous")},
	"measures.currency":   {with: keyPage, values: one("crowns")},
	"measures.price_date": {with: keyPage, values: one("2026-01")},

	"measures.lead-rubber.drift_share":          {with: keyConstant},
	"measures.lead-rubber.plane_damper_force_n": {with: "[measures.lead-rubber]\nplane_damping = 0.1\n"},
	"measures.slider.drift_share":               {with: "[measures.slider]\nyield_ratio = [0.005, 0.05]\n"}, // more friction is worse in both
	"measures.slider.plane_damper_force_n":      {with: "[measures.slider]\nplane_damping = 0.1\n"},
	"measures.tuned-mass":                       {with: keyMild + "[measures]\nuse = [\"tuned-mass\"]\n"},

	"consequence.tables":                 {values: one("no-such-folder")},
	"consequence.free_standing.height_m": {with: "[confirm]\npictures = 1\n", does: confirms},

	"objective.weights.net-benefit":   {with: keyWeighted},
	"objective.weights.benefit-cost":  {with: keyWeighted},
	"objective.weights.life-safety":   {with: keyWeighted},
	"objective.weights.contents":      {with: keyWeighted},
	"objective.weights.continuity":    {with: keyWeighted},
	"rating.scales":                   {values: list("asce-41")},
	"rating.japan_time_index":         {with: "[rating]\nscales = [\"japan-index\"]\n"},
	"rating.japan_irregularity_index": {with: "[rating]\nscales = [\"japan-index\"]\n"},
	"rating.japan_zone_index":         {with: "[rating]\nscales = [\"japan-index\"]\n"},

	"budget.total":          {does: budgets, with: "[budget]\ntotal = 3_000_000\n"},
	"budget.yearly":         {does: budgets, with: keyBudget},
	"budget.first_year":     {does: budgets, with: keyBudget},
	"budget.years":          {does: budgets, with: keyBudget},
	"budget.carry_over":     {does: budgets, with: "[budget]\nyearly = 300_000\nyears = 6\n"},
	"budget.must":           {does: budgets, with: keyBudget, values: list("K-03")},
	"budget.cannot":         {does: budgets, with: keyBudget, values: list("K-01", "K-02", "K-03", "K-04", "K-05", "K-06", "K-07", "K-08", "K-09")},
	"budget.terms":          {does: budgets, with: keyBudget + "per_group = 1\n", values: one("terms.csv")},
	"budget.per_group":      {does: budgets, with: keyBudget + "terms = \"terms.csv\"\n", values: one(1)},
	"budget.decant_persons": {does: budgets, with: keyBudget},

	"uncertainty.draws":           {values: one(19)},
	"uncertainty.seed":            {with: keyDraws},
	"uncertainty.top":             {with: keyDraws},
	"uncertainty.shortlist":       {with: keyDraws, values: one(3)},
	"uncertainty.hazard_common":   {with: keyDraws},
	"uncertainty.hazard_local":    {with: keyDraws},
	"uncertainty.strength_common": {with: keyDraws},
	"uncertainty.cost_common":     {with: keyDraws},

	"confirm.shortlist":              {does: confirms, values: one(1)},
	"confirm.measures":               {does: confirms, values: one(2)},
	"confirm.records":                {does: confirms, values: one(3)},
	"confirm.seed":                   {does: confirms, values: one(2)},
	"confirm.significant_duration_s": {does: confirms, values: one(8.0)},
	"confirm.p_delta":                {does: confirms},
	"confirm.record_files":           {does: confirms, values: list("record.txt")},
	"confirm.fitting":                {does: confirms, with: keyRecords},
	"confirm.pictures":               {does: confirms, values: one(1)},

	"output.folder":  {values: one("elsewhere")},
	"output.formats": {values: list("csv", "geojson")},
}

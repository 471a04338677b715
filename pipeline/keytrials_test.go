package pipeline

import "fmt"

func one(v any) []any { return []any{v} }

// list returns values of which each is a list.
func list(items ...any) []any { return []any{items} }

// table returns values of which one is a table of one key.
func table(key string, v any) []any { return []any{map[string]any{key: v}} }

// keyEach returns lists of one building each.
func keyEach() []any {
	var out []any
	for i := range 9 {
		out = append(out, []any{fmt.Sprintf("K-%02d", i+1)})
	}
	return out
}

// keyTrials says what a key needs that a run of keyPlan does not give it, and other values
// of a key that has none by its range.
var keyTrials = map[string]keyTrial{
	"name":                        {with: keyPage, values: one("other")},
	"inventory.path":              {values: one("fewer.csv")},
	"inventory.tolerate_rejects":  {with: "[inventory]\npath = \"twice.csv\"\ntolerate_rejects = \"60%\"\n", does: tolerates, values: one("1")},
	"inventory.layer":             {with: keyPackage, values: one("no-such-table")},
	"inventory.sheet":             {with: keyBook, values: one("no-such-sheet")},
	"inventory.header_row":        {values: one(2)},
	"inventory.crs":               {values: one("EPSG:32607")},
	"inventory.delimiter":         {values: one(";")},
	"inventory.null":              {values: list("Wing")},
	"inventory.explode":           {with: keyParts, values: one("ID")},
	"inventory.explode_separator": {with: keyParts + "explode = \"ID\"\n", values: one("+")},
	"inventory.group":             {with: keySites, values: one("SITE")},
	"inventory.columns":           {values: table("storeys", "BELOW")},
	"inventory.units":             {values: table("floor_area", "ft2")},
	"inventory.values":            {values: table("use", map[string]any{"hospital": "office"})},
	"inventory.assume":            {values: table("year", "1975")},

	"hazard.path":                       {values: one("stronger.csv")},
	"hazard.layout":                     {with: keyMapped},
	"hazard.soil_included":              {values: one(true)},
	"hazard.raster_return_periods_yr":   {with: keyRasters, values: list(100.0, 2475.0)},
	"hazard.crs":                        {with: "[hazard]\nkind = \"points\"\n", values: one("EPSG:32607")},
	"hazard.magnitude":                  {with: keyScenario, values: list(5.5)},
	"hazard.source_distance_km":         {with: keyScenario, values: list(120.0)},
	"hazard.significant_duration_s":     {values: list(60.0)},
	"hazard.pulse_period_s":             {values: list(1.0)},
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
	"measures.slider.drift_share":               {with: keySlippery},
	"measures.slider.plane_damper_force_n":      {with: "[measures.slider]\nplane_damping = 0.1\n"},
	"measures.tuned-mass":                       {with: keyMild + "[measures]\nuse = [\"tuned-mass\"]\n"},

	"consequence.tables":                 {values: one("no-such-folder")},
	"consequence.free_standing.height_m": {with: "[confirm]\npictures = 1\n", does: confirms},

	"target.immediate_occupancy_uses": {values: list("hospital")},
	"target.immediate_occupancy_yr":   {with: "[target]\nimmediate_occupancy_uses = [\"museum\"]\n", values: one(25.0)},
	"target.life_safety_yr":           {values: one(4975.0)},
	"objective.weights.net-benefit":   {with: keyWeighted},
	"objective.weights.benefit-cost":  {with: keyWeighted},
	"objective.weights.life-safety":   {with: keyWeighted},
	"objective.weights.contents":      {with: keyWeighted},
	"objective.weights.continuity":    {with: keyWeighted},
	"rating.scales":                   {values: list("asce-41")},
	"rating.knowledge_factor":         {with: "[rating]\nscales = [\"asce-41\"]\n"},
	"rating.asce41_level":             {with: "[rating]\nscales = [\"asce-41\"]\n"},
	"rating.japan_time_index":         {with: "[rating]\nscales = [\"japan-index\"]\n"},
	"rating.japan_irregularity_index": {with: "[rating]\nscales = [\"japan-index\"]\n"},
	"rating.japan_zone_index":         {with: "[rating]\nscales = [\"japan-index\"]\n"},

	"budget.total":          {does: budgets, with: "[budget]\ntotal = 3_000_000\n"},
	"budget.yearly":         {does: budgets, with: keyBudget},
	"budget.first_year":     {does: budgets, with: keyBudget},
	"budget.years":          {does: budgets, with: keyBudget},
	"budget.carry_over":     {does: budgets, with: "[budget]\nyearly = 300_000\nyears = 6\n"},
	"budget.must":           {does: budgets, with: keyBudget, values: list("K-03")},
	"budget.cannot":         {does: budgets, with: keyBudget, values: keyEach()},
	"budget.terms":          {does: budgets, with: keyBudget + "per_group = 1\n", values: one("terms.csv")},
	"budget.per_group":      {does: budgets, with: keyBudget + "terms = \"terms.csv\"\n", values: one(1)},
	"budget.decant_persons": {does: budgets, with: keyBudget},

	"output.areas.by":              {values: one("grid")},
	"output.areas.cell_m":          {with: keyGrid},
	"output.areas.least_buildings": {with: keyGrid, values: one(1)},

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

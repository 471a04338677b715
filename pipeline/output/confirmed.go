package output

// A Confirmed is the row of one building, as it stands or with one measure, by the spectral method
// and by time histories, at the design return period.
type Confirmed struct {
	Rank, RankHistory            int64
	BuildingID, BuildingName     string
	Measure                      string
	Place, PlaceHistory          int64
	Score, ScoreHistory          float64
	Moved                        string
	Records, Collapsed, Flawed   int64
	DriftSpectral, DriftHistory  float64
	DriftDispersion, DriftError  float64
	DriftBand                    float64
	DriftOutside                 bool
	AccelSpectral, AccelHistory  float64
	AccelDispersion, AccelError  float64
	AccelBand                    float64
	AccelOutside                 bool
	ShearSpectral, ShearHistory  float64
	ShearBand                    float64
	ShearOutside                 bool
	MoveSpectral, MoveHistory    float64
	MoveBand                     float64
	MoveOutside                  bool
	Residual                     float64
	EnergyFrame, EnergyDevices   float64
	EnergyIsolators, EnergyOther float64
	EnergyError                  float64
	B20, Duration                float64
	Status                       string
}

// Confirmeds is the table of Confirmed.
var Confirmeds = Table[Confirmed]{
	Name:  "confirm",
	Title: "The shortlist by time histories, beside the spectral values",
	Doc: "One row for each building of the shortlist as it stands (measure none) and with each of its best " +
		"measures, in the order of the screening.",
	ID:    "building_id",
	Key:   []string{"building_id", "measure"},
	Order: "rank",
	Columns: []Column[Confirmed]{
		{Name: "rank", Required: true, Int: func(r *Confirmed) *int64 { return &r.Rank },
			Doc: "place of the building in the screening"},
		{Name: "rank_history", Int: func(r *Confirmed) *int64 { return &r.RankHistory },
			Doc: "place among the shortlist by scores with time histories"},
		{Name: "building_id", Required: true, Text: func(r *Confirmed) *string { return &r.BuildingID },
			Doc: "the owner's id, as text"},
		{Name: "building_name", Text: func(r *Confirmed) *string { return &r.BuildingName },
			Doc: "the owner's name of the building"},
		{Name: "measure", Required: true, Text: func(r *Confirmed) *string { return &r.Measure },
			Doc: "slug of the measure; none is the building as it stands"},
		{Name: "place", Int: func(r *Confirmed) *int64 { return &r.Place },
			Doc: "place of the measure for the building by the screening, 1 first"},
		{Name: "place_history", Int: func(r *Confirmed) *int64 { return &r.PlaceHistory },
			Doc: "the same by scores with time histories"},
		{Name: "score", Float: func(r *Confirmed) *float64 { return &r.Score },
			Doc: "score of the measure by the objective of the plan"},
		{Name: "score_history", Float: func(r *Confirmed) *float64 { return &r.ScoreHistory },
			Doc: "the same with drifts, accelerations and displacements of every level multiplied by the ratio of " +
				"time history to spectral value at the design return period"},
		{Name: "moved", Text: func(r *Confirmed) *string { return &r.Moved },
			Doc: "what changes by time histories, in words; missing where nothing does"},
		{Name: "records", Int: func(r *Confirmed) *int64 { return &r.Records }, Doc: "records run"},
		{Name: "collapsed", Int: func(r *Confirmed) *int64 { return &r.Collapsed },
			Doc: "of them, runs that ended in collapse; they count as endless in the medians"},
		{Name: "flawed", Int: func(r *Confirmed) *int64 { return &r.Flawed },
			Doc: "of them, runs with a numerical status"},
		{Name: "drift_spectral_pct", Unit: "%", Float: func(r *Confirmed) *float64 { return &r.DriftSpectral },
			Doc: "largest storey drift over height, spectral"},
		{Name: "drift_history_pct", Unit: "%", Float: func(r *Confirmed) *float64 { return &r.DriftHistory },
			Doc: "the same, median of the records, of the storey with the largest median"},
		{Name: "drift_dispersion", Float: func(r *Confirmed) *float64 { return &r.DriftDispersion },
			Doc: "ln standard deviation over the records"},
		{Name: "drift_standard_error", Float: func(r *Confirmed) *float64 { return &r.DriftError },
			Doc: "standard error of the ln of the median"},
		{Name: "drift_band", Float: func(r *Confirmed) *float64 { return &r.DriftBand },
			Doc: "band stated for the spectral value, ln standard deviation; missing where none is stated"},
		{Name: "drift_outside", Bool: func(r *Confirmed) *bool { return &r.DriftOutside },
			Doc: "true where the two differ by more than twice the stated band and the standard error together"},
		{Name: "floor_accel_spectral_g", Unit: "g", Float: func(r *Confirmed) *float64 { return &r.AccelSpectral },
			Doc: "largest floor acceleration, spectral"},
		{Name: "floor_accel_history_g", Unit: "g", Float: func(r *Confirmed) *float64 { return &r.AccelHistory },
			Doc: "the same, median of the records, of the floor with the largest median"},
		{Name: "floor_accel_dispersion", Float: func(r *Confirmed) *float64 { return &r.AccelDispersion },
			Doc: "ln standard deviation over the records"},
		{Name: "floor_accel_standard_error", Float: func(r *Confirmed) *float64 { return &r.AccelError },
			Doc: "standard error of the ln of the median"},
		{Name: "floor_accel_band", Float: func(r *Confirmed) *float64 { return &r.AccelBand },
			Doc: "as drift_band"},
		{Name: "floor_accel_outside", Bool: func(r *Confirmed) *bool { return &r.AccelOutside },
			Doc: "as drift_outside"},
		{Name: "base_shear_spectral_ratio", Float: func(r *Confirmed) *float64 { return &r.ShearSpectral },
			Doc: "base shear over weight, spectral"},
		{Name: "base_shear_history_ratio", Float: func(r *Confirmed) *float64 { return &r.ShearHistory },
			Doc: "the same, median of the records"},
		{Name: "base_shear_band", Float: func(r *Confirmed) *float64 { return &r.ShearBand }, Doc: "as drift_band"},
		{Name: "base_shear_outside", Bool: func(r *Confirmed) *bool { return &r.ShearOutside },
			Doc: "as drift_outside"},
		{Name: "isolator_spectral_m", Unit: "m", Float: func(r *Confirmed) *float64 { return &r.MoveSpectral },
			Doc: "displacement across the isolators, spectral; missing for other measures"},
		{Name: "isolator_history_m", Unit: "m", Float: func(r *Confirmed) *float64 { return &r.MoveHistory },
			Doc: "the same, median of the records"},
		{Name: "isolator_band", Float: func(r *Confirmed) *float64 { return &r.MoveBand }, Doc: "as drift_band"},
		{Name: "isolator_outside", Bool: func(r *Confirmed) *bool { return &r.MoveOutside },
			Doc: "as drift_outside"},
		{Name: "residual_drift_pct", Unit: "%", Float: func(r *Confirmed) *float64 { return &r.Residual },
			Doc: "largest storey drift over height left at the end, median of the records"},
		{Name: "energy_frame_pct", Unit: "%", Float: func(r *Confirmed) *float64 { return &r.EnergyFrame },
			Doc: "share of the input energy taken by the storeys of the frame"},
		{Name: "energy_devices_pct", Unit: "%", Float: func(r *Confirmed) *float64 { return &r.EnergyDevices },
			Doc: "share taken by dampers and yielding devices"},
		{Name: "energy_isolators_pct", Unit: "%", Float: func(r *Confirmed) *float64 { return &r.EnergyIsolators },
			Doc: "share taken by the isolators"},
		{Name: "energy_other_pct", Unit: "%", Float: func(r *Confirmed) *float64 { return &r.EnergyOther },
			Doc: "share taken by the frame's own damping, or still moving at the end"},
		{Name: "energy_error_pct", Unit: "%", Float: func(r *Confirmed) *float64 { return &r.EnergyError },
			Doc: "input energy that is not accounted for"},
		{Name: "suite_b20_ratio", Float: func(r *Confirmed) *float64 { return &r.B20 },
			Doc: "what 20 % damping is worth under these records: Sa at 5 % over Sa at 20 %"},
		{Name: "suite_duration_s", Unit: "s", Float: func(r *Confirmed) *float64 { return &r.Duration },
			Doc: "median significant duration (5 to 95 %) of the records"},
		{Name: "status", Text: func(r *Confirmed) *string { return &r.Status },
			Doc: "what must be said of the runs, in words; missing where nothing must"},
	},
}

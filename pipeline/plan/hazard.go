package plan

// Hazard states where the spectra of a site come from.
type Hazard struct {
	// spectra on a regular grid or at scattered points (CSV), hazard curves by location (CSV), zones
	// (GeoJSON), Esri ASCII rasters, one spectrum for all sites, or the spectrum of a standard from its
	// parameters, the same for all sites or by location (docs/methods/hazard-by-location.md)
	Kind string `toml:"kind" choices:"grid|points|curves|zones|rasters|constant|asce7-16|en1998-1|nzs1170.5|ntc2018|japan-1457"`
	// hazard file; for rasters a pattern with {return_period} and {period} in it, the period 0 being the peak
	// ground acceleration; for a standard a CSV of its parameters by location, or none
	Path string `toml:"path"`
	// how the places of curves and of the file of a standard's parameters lie
	Layout string `toml:"layout" choices:"grid|points"`
	// unit of the accelerations in the file
	Unit string `toml:"unit" choices:"g|m/s2|cm/s2|%g"`
	// coordinate reference system of the file: EPSG:4326, OGC:CRS84 or, for scattered points in CSV, Web
	// Mercator (EPSG:3857) or a UTM zone on WGS 84 (EPSG:326xx north, 327xx south), ETRS89 (258xx), NAD83
	// (269xx), GDA94 (283xx) or GDA2020 (78xx)
	CRS string `toml:"crs"`
	// true if the spectra already hold for the ground at each site, false if they hold for rock (no default:
	// it must be said)
	SoilIncluded *bool `toml:"soil_included"`
	// site class where neither the register nor site_zones gives one: it counts as assumed
	SiteClass string `toml:"site_class" choices:"A|B|C|D|E"`
	// standard whose letters the site classes are, and by which values on rock are amplified; where it is
	// silent that of the kind, or asce7-16
	SoilStandard string `toml:"soil_standard" choices:"asce7-16|en1998-1|nzs1170.5"`
	// GeoJSON file of areas with the property site_class or vs30, for buildings whose register gives neither
	SiteZones string `toml:"site_zones"`
	// what the horizontal values of the file are: the mean of two directions, which demand uses, or those of
	// the direction of the largest response, which are divided by 1.1 to 1.5 (ASCE 7-16 21.2); where it is
	// silent values are used as they are
	Direction string `toml:"direction" choices:"geometric-mean|maximum"`
	// magnitude the faults of the register's fault_distance can produce, for the near-fault flag (ASCE 7-16
	// 11.4.1) and, where magnitude is silent, for duration and pulses
	FaultSize float64 `toml:"fault_magnitude" min:"5" max:"9"`
	// moment magnitude of the earthquakes that govern the shaking (mean of a disaggregation): one for every
	// return period, or one each; where silent, fault_magnitude for buildings with a fault_distance at 250 years
	// and more, and else nothing is known
	Magnitude []float64 `toml:"magnitude" min:"4" max:"9.5"`
	// distance to their rupture, as many as magnitude; 30 km or less brings pulses (docs/methods/hazard.md)
	SourceDistance []float64 `toml:"source_distance_km" unit:"km" min:"0" max:"500"`
	// significant duration of the shaking (5 to 95 %), one or one each return period; where silent that of
	// magnitude and distance, or that which the damping coefficients of codes assume, 17 s
	Duration []float64 `toml:"significant_duration_s" unit:"s" min:"1" max:"300"`
	// period of a forward-directivity pulse that the shaking is known to have, one or one each return period;
	// 0 for none known
	PulsePeriod []float64 `toml:"pulse_period_s" unit:"s" min:"0" max:"20"`
	// return periods the run prints; annual values do not depend on them
	ReturnPeriods []float64 `toml:"return_periods_yr" unit:"yr" min:"1" max:"100000"`
	// return period of sizing and of the demand columns; one of return_periods_yr
	Design float64 `toml:"design_return_period_yr" unit:"yr" min:"1" max:"100000"`
	// a site off the grid or between points is read from nodes no farther than this, or is outside the hazard
	MaxDistanceKM float64 `toml:"max_distance_km" unit:"km" min:"0" max:"500"`
	// exponent of H ~ a^-k that carries a single spectrum, or the ends of a file's range, to other return
	// periods (EN 1998-1 2.1(4): about 3); 0 goes on by the slope of the file's own last two, and where there
	// is one alone nothing is chosen
	K float64 `toml:"k" min:"0" max:"10"`

	// return period of a single spectrum; 0 is 475 for constant and en1998-1, 2475 for asce7-16, whose mapped
	// values are those of the MCER, and 500 for the severe level of japan-1457
	Reference float64 `toml:"reference_return_period_yr" unit:"yr" min:"0" max:"100000"`
	// peak ground acceleration of the constant spectrum
	PGA float64 `toml:"pga" min:"0"`
	// periods of the constant spectrum, or of the rasters
	Periods []float64 `toml:"periods_s" unit:"s" min:"0" max:"20"`
	// spectral accelerations of the constant spectrum
	Sa []float64 `toml:"sa" min:"0"`
	// return periods of the rasters
	Levels []float64 `toml:"raster_return_periods_yr" unit:"yr" min:"1" max:"100000"`
	// ASCE 7-16 mapped short-period acceleration
	SS float64 `toml:"ss" unit:"g" min:"0" max:"5"`
	// ASCE 7-16 mapped 1 s acceleration
	S1 float64 `toml:"s1" unit:"g" min:"0" max:"3"`
	// ASCE 7-16 long-period transition
	TL float64 `toml:"tl_s" unit:"s" min:"1" max:"20"`

	// EN 1998-1 ground acceleration on type A ground, agR, at the reference_return_period_yr
	AG float64 `toml:"ag" min:"0"`
	// EN 1998-1 spectrum: 1, or 2 where earthquakes beyond magnitude 5.5 do not govern (3.2.2.2(2)P)
	SpectrumType int `toml:"spectrum_type" min:"1" max:"2"`
	// EN 1998-1 importance class, whose factor multiplies ag (4.2.5); 2 has the factor 1, right where
	// buildings are compared at the same return periods
	Importance int `toml:"importance_class" min:"1" max:"4"`
	// NZS 1170.5 hazard factor Z, or the zone factor of japan-1457
	Z float64 `toml:"z" min:"0" max:"2"`
	// NTC 2018 return periods of the lists that follow
	Levels2018 []float64 `toml:"ntc_return_periods_yr" unit:"yr" min:"1" max:"100000"`
	// NTC 2018 ag on rigid ground, one a return period
	AG2018 []float64 `toml:"ntc_ag" min:"0"`
	// NTC 2018 F0, one a return period
	F02018 []float64 `toml:"ntc_f0" min:"0" max:"10"`
	// NTC 2018 TC*, one a return period
	TC2018 []float64 `toml:"ntc_tc_s" unit:"s" min:"0" max:"5"`
	// NTC 2018 topographic factor ST of Table 3.2.V
	Topography float64 `toml:"topography" min:"1" max:"1.4"`
	// return period the moderate level of japan-1457 is taken for
	Moderate float64 `toml:"moderate_return_period_yr" unit:"yr" min:"1" max:"1000"`
}

// SingleLevel returns the return period in yr of a single spectrum, as given or by kind. A constant
// spectrum and ag hold for the design level of EN 1998-1 2.1(1)P. Mapped SS and S1 hold for the
// MCER, 2 % in 50 years before its adjustments (ASCE 7-16 C11.4). The severe level of the Japanese
// law holds for 500 yr (common practice, no source).
func (h *Hazard) SingleLevel() float64 {
	switch {
	case h.Reference > 0:
		return h.Reference
	case h.Kind == "asce7-16":
		return 2475
	case h.Kind == "japan-1457":
		return 500
	}
	return 475
}

// OfStandard reports whether the spectra follow from the parameters of a standard on rock, adjusted
// for the ground of each site.
func (h *Hazard) OfStandard() bool {
	switch h.Kind {
	case "asce7-16", "en1998-1", "nzs1170.5", "ntc2018":
		return true
	}
	return false
}

// SoilSlug returns the slug of the standard that defines the letters of the site classes.
func (h *Hazard) SoilSlug() string {
	switch {
	case h.OfStandard():
		return h.Kind
	case h.SoilStandard == "":
		return "asce7-16"
	}
	return h.SoilStandard
}

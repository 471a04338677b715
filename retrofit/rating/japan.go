package rating

// Index holds the factors of the seismic index of Japan, for the first level of screening. The
// standard is that of existing reinforced concrete buildings (2001 revision), from memory.
type Index struct {
	Strength     float64 // C, yield base shear over weight
	Ductility    float64 // F
	Irregularity float64 // SD, 1 regular
	Time         float64 // T, 0.7 to 1
	Zone         float64 // Z, 0.7 to 1
}

// Constants of the first level, from memory of the same standard.
const (
	basicDemand   = 0.8 // Es, first level; 0.6 at the second and third
	ground        = 1.0 // G, no slope or edge beside it
	usage         = 1.0 // U, ordinary use
	Ductile       = 1.0 // F of columns and walls
	ShortColumns  = 0.8 // F of extremely short columns
	firstStoreyOf = 1.0 // (n+1)/(n+i) of storey i = 1
)

// Is returns the seismic index of the lowest storey.
//
//	Is = E0 SD T,  E0 = (n+1)/(n+i) C F,  i = 1
func (x *Index) Is() float64 {
	return firstStoreyOf * x.Strength * x.Ductility * x.Irregularity * x.Time
}

// Is0 returns the required index.
//
//	Is0 = Es Z G U
func (x *Index) Is0() float64 { return basicDemand * x.Zone * ground * usage }

// SeismicIndex returns the rating by Is over Is0. An index that is not positive gives
// no rating.
func SeismicIndex(x Index) Rating {
	ratio := x.Is() / x.Is0()
	if !(ratio > 0) {
		return none()
	}
	bands := JapanIndex.Bands("ratio")
	return Rating{Band: bands[place(bands, ratio)].Name, Value: figures(ratio)}
}

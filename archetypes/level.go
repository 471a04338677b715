package archetypes

// ToStrength returns the factor that carries a coefficient of the code of a year from the
// level it was written at, allowable stress or strength, to strength level, which is that
// of Archetype.DesignCoefficient. A year before the first code, or an unknown one, has
// that of the era Assign reads it as.
func (t *Tables) ToStrength(r Region, z Zone, year int) float64 {
	e, _ := t.regions[r].zones[max(int(z), 1)-1].at(year, 0)
	return e.toStrength
}

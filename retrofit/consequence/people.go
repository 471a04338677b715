package consequence

// casualties fills the persons harmed, inside and on the street.
//
//	standing: inside x sum of rate_s P(state s), s by the limit states
//	collapse: inside x P_collapse x (volume x rate in it + (1 - volume) x rate beyond collapse prevention)
//	rate of death in the lost volume: fatality; of injury: rate of collapse x (1 - fatality)
//	street:   frontage x people a metre x fatality x sum of share falling_s P(state s)
func (m *Model) casualties(e *Exposure, b *building, out *Loss) {
	o, p := &m.options, &out.LimitState
	state := [Collapse]float64{p[0] - p[1], p[1] - p[2], p[2] - out.Collapse*e.Volume}
	var dead, serious, minor float64
	for i, w := range state {
		s := &o.States[i]
		dead += w * s.Dead
		serious += w * s.Serious
		minor += w * s.Minor
	}
	lost, alive := out.Collapse*e.Volume, 1-e.Fatality
	out.DeathRisk = b.factor*dead + lost*e.Fatality
	out.Dead = b.people * out.DeathRisk
	out.Serious = b.people * (b.factor*serious + lost*alive*o.States[Collapse].Serious)
	out.Minor = b.people * (b.factor*minor + lost*alive*o.States[Collapse].Minor)
	falls := o.Street.BeyondLS*(p[1]-p[2]) + o.Street.BeyondCP*(p[2]-out.Collapse) + out.Collapse
	out.Street = e.Frontage * o.Street.People * o.Street.Fatality * falls
}

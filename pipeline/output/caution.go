package output

// Caution is the sentence that every file carries.
const Caution = "Screening, not an evaluation: a building that is not flagged is not thereby safe, and " +
	"missing data is not low risk; " +
	"local codes and a licensed engineer decide."

// Cautions are all cautions of a run, for the manifest and the reports.
var Cautions = []string{
	Caution,
	"The results rank buildings and plan visits. They must not be used to declare a building safe, to permit " +
		"occupancy, or in place of a licensed engineer's rating.",
	"The level is below any checklist evaluation: nobody has visited the building for this result and no " +
		"drawing was checked.",
	"Not covered: fault rupture, liquefaction, landslide, tsunami, fire after an earthquake, falling parts, " +
		"hazardous contents, and the wind and gravity checks of a measure.",
	"If a row looks critical, have an engineer look at the building now; do not wait for its rank.",
	"A result expires when the building, the hazard values or the rules change. Costs are ranges in the " +
		"currency and at the price date of the plan.",
	"Accuracy bands state agreement with a shear-stick model under artificial records, not accuracy against " +
		"reality.",
	"A published list can affect sale, lending, insurance and tenancy: share it as the owner's information, " +
		"not as a public rating.",
}

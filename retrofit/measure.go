package retrofit

// A Description tells a person what a measure is.
type Description struct {
	Slug   string
	Name   string // in plain words, as in "Not Name here: ..."
	Does   string // what it does to the building
	Cannot string // what it cannot do, or what this package does not look at
}

// Measures describes the measures, in the order they are usually tried.
func Measures() []Description { return append([]Description(nil), descriptions...) }

// Describe returns the description of a slug.
func Describe(slug string) (Description, bool) {
	for i := range descriptions {
		if descriptions[i].Slug == slug {
			return descriptions[i], true
		}
	}
	return Description{}, false
}

var descriptions = []Description{
	{"none", "leaving it as it is",
		"Nothing is changed; every other measure is compared with it.",
		"It protects nothing. Replacing the building or changing its use are not priced here."},
	{"lead-rubber", "isolation on lead-rubber bearings",
		"Cuts the building from its foundations and sets it on rubber bearings with a lead core, so that it sways slowly as one: drift and floor acceleration both fall.",
		"It needs room to move all round, a level to cut through and heavy walls and floors; vertical shaking passes through; pipes and stairs across the cut must follow."},
	{"lead-rubber-strengthen", "isolation on lead-rubber bearings with strengthening",
		"As isolation, with new walls or braces in the building above where it is too weak to stay whole on its bearings.",
		"It has the limits of isolation, and the works of strengthening in occupied floors."},
	{"slider", "isolation on curved-surface sliders",
		"As lead-rubber bearings, on dished steel sliders whose friction takes the energy and whose curvature brings the building back.",
		"In small shaking it does not break away; its friction gives sharp accelerations at the base slab; vertical shaking passes through and changes its friction."},
	{"viscous", "added viscous dampers",
		"Fluid dampers in braces take energy from the movement of the storeys: drift falls, and floor acceleration with it.",
		"Stiff buildings move too little for it; the dampers push columns and footings; only storeys that can be opened take them."},
	{"yielding", "added yielding devices",
		"Steel devices in braces stiffen the frame and yield before it does: drift falls.",
		"Floor acceleration often rises; the devices may need replacing after a strong earthquake."},
	{"tuned-mass", "a tuned mass on the roof",
		"A mass on springs and dampers, tuned to the building, sways against it and takes energy from its first mode.",
		"Once the frame yields its period leaves that of the mass and the gain is gone; it does nothing for the other modes. Its benefit in wind is not counted."},
	{"strengthen", "strengthening",
		"New walls or braces raise strength and stiffness: drift and damage to the frame fall.",
		"A stiffer building shakes its contents harder; walls need footings and close openings."},
	{"strengthen-viscous", "strengthening with viscous dampers",
		"Part of the drift is taken by new walls or braces, part by dampers, so that floors shake less than with strengthening alone.",
		"It has the limits of both; walls leave the dampers less movement to work on."},
}

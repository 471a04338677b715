package measured

// The words of the page. Q stands for a back quote; the rest are verbs of package fmt.

const headWords = `# Measured: the program beside buildings, damage and tests

Written by Qmake measuredQ from Qtestdata/measuredQ; do not edit.

**This page shows where the program is off.** Nothing in the program is tuned to it: no number of that
folder enters a fit, and a test holds that only the command that writes this page reads it. Screening is not
an evaluation; local codes and a licensed engineer decide, and a building that is not flagged is not thereby
safe.

A ratio is predicted over measured: above 1 the program is the larger. Only values count that somebody read
in a source or computed from data that were read; values from memory are shown apart and enter no mean. Aims
were set before the page was first made. A value outside %s has its reason beside it, or "not known" where
nobody knows. Means are geometric; scatter is the standard deviation of ln ratio, which is reported and has
no aim. The cases are few and chosen by what could be read, not at random: a mean that meets its aim proves
little, one that misses it shows a fault.

`

const summaryWords = `Damage: %s masonry buildings of one survey. Medians of the program over those of the
survey %s in the geometric mean over classes and grades (ln-sd %s), within their aim %d of %d; dispersion of
the program %s, within its aim %d of %d; shares at %s g within a factor of two %d of %d.

Elements: %d published values have a 16 to 84 %% band that holds the program's limit, %d have not.

Design forces: %d printed values, geometric mean %s (ln-sd %s); of them read in a source or computed from
one %d, %s.

`

const buildingWords = `## Measured buildings and shake tables

Each case is a row of a register and a plan as an owner would write them, with what was known of the
building and its foot motion as the hazard. It is assessed as Qplinth screenQ does: period, strength and
limits from the tables of archetypes, spectral demand, defaults elsewhere. Isolated buildings are compared
with the measure on the program's own isolators, sized for the rare shaking of a code of today, since the
real ones are not known to it. Where only the peak of the foot motion is known the spectrum is the generic shape of firm
ground: 2.5 PGA from 0.1 to 0.5 s, 1.25 PGA/T beyond. A case that is asked for its period alone needs no
foot motion. Buildings of eras that design by a map are designed for SDS 1.0 g and SD1 0.6 g. A plan that is
not known is taken as %d m2 a floor, which only the strength of walls of 1961 to 1987 feels.

`

const timedWords = `### The same by time histories

Where the record at the foot is at hand the building is also taken through time histories as
Qplinth confirmQ does with records of the owner.

`

const apartWords = `### From memory, or with a case from memory: not counted

`

const damageWords = `## Observed damage: masonry at L'Aquila in 2009

%s buildings by class, storeys, band of Sa(0.3 s) and grade (source and licence:
Qtestdata/measured/damageQ). The program is asked for the probabilities that a building is beyond its limit
states at eight levels of Sa(0.3 s), %s g, with the shape of the spectrum near the fault, by a register and
a plan of Italy, zone 2.

A lognormal curve is fitted to both by the same code: greatest likelihood over median and dispersion, one
curve a grade. In the survey each building counts once at the mean shaking of its band, in the program each
level once. Grades 2, 3 and 4 of EMS-98 pair with immediate occupancy, life safety and collapse prevention
as in the table of losses. Of the survey's dispersion about 0.2 belongs to the map of shaking.

`

const shareWords = `### Shares at each band of shaking

Per cent of the buildings in a grade or a graver one, survey and program. The ratios of program over survey
at %s g have the aim %s; a dash where nobody was surveyed in the grade.

`

const collapseWords = `### Collapse

Grade 5 over grades 4 and 5 together, per cent, over all bands of shaking, beside the program's collapses
over all that it puts beyond collapse prevention, its probabilities at each band weighted by the buildings
of the survey there. Grade 5 of the survey includes partial collapse.

`

const curveWords = `### Other published curves

Over peak ground acceleration in g. The program's building has two storeys and the year that stands for the
class (A 1900, B 1940, C 1980, D 1990), in the same plan. A curve fitted to a class of the standard, or to
several regions, holds more spread than that of one place.

`

const stockWords = `### Shares of surveyed stocks

A plain listing: the shaking of these surveys is known only as a range or from memory, so nothing is
predicted beside them.

`

const elementWords = `## Element tests beside the limits

Every drift limit of the table of systems, and every step of the components of the loss model, with what was
published of such an element. The 16 to 84 %% band is counted where the source counts it, and is median
exp(-ln sd) to median exp(ln sd) elsewhere. Below: the program's limit is stricter than 84 of 100 tests. The
pairing of an element with a limit is ours.

`

const codeWords = `## Codes in time

The design coefficient that the program gives a building of the year, at the level of the printed one
(allowable or strength). A printed band has no ratio: the program lies inside it or not. Most rows are from
memory, so that the last columns of the means say what those that were read come to. Where a value is
computed from the rule itself, the row checks how the program reads the rule, and not the rule.

`

const lawWords = `## Published laws of periods

The program's median period over the law, at heights of %s m. Laws of ambient and small vibration are
expected to be shorter: ambient periods of concrete are 0.5 to 0.8 of those in strong shaking, which are
the program's. The bounds of Goel and Chopra are the program's own, so that its median lies between.

`

const unusedWords = `## What is not used, and why

`

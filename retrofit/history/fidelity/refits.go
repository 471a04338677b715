package fidelity

// refits is what the refit of the constants changed, for the page. It is history and so
// not measured again.
const refits = `## What the refit changed

The first constants came from a grid that was not kept. Measured here, on the validation grid, they did worse than they were
stated to. Why, and what was done:

- Plastic drift of regular frames gathers in the lowest storeys, and high up where higher modes make storeys yield; the method
  spread it almost evenly. It now falls with height, and drifts of higher modes grow in storeys that yield.
- Short periods: the displacement ratio grew with a power of the strength ratio; in time histories it starts slowly and then
  goes straight. Viscous dampers calm it.
- The roof was accelerated beyond what its storey can carry: now it is not. The overshoot of the first mode that stood for
  higher modes is gone; inherent damping, and the modes beyond the third, stand in their own terms.
- On the rising branch of the spectrum damping was read by a form that steps at its end; now by that of EN 1998-1.
- The spectral method read the spectrum of the site, whose ground acceleration the records exceed by a fifth.
- Measures outside the method's range counted in the ranking. They are now shown apart.

The constants were fitted on the fit grid alone, in the blocks of` + " `fidelity fit`" + `, and kept where the validation grid improved too.

| on the validation grid | first constants | refitted |
| --- | --- | --- |
| medians from 0.9 to 1.1 | 64 of 89 | all |
| scatters within the bands the first constants were stated to reach | 48 of 89 | 74 of 89 |
| scatter of drift as it stands, strength ratio 2 to 8 | 19 %, median 0.85 | 15 %, median 1.06 |
| scatter of floor acceleration as it stands, strength ratio 2 to 8 | 20 %, median 1.09 | 9 %, median 1.00 |
| best measure named by drift, all measures | 48 % | 61 % |
| by drift, inside the range | | 72 % |
| best measure named by acceleration, all measures | 58 % | 67 % |
| by acceleration, inside the range | | 75 % |
| Spearman correlation of benefit by drift, all; inside | 0.87; | 0.89; 0.95 |
| Spearman correlation of benefit by acceleration, all; inside | 0.87; | 0.87; 0.89 |

The bands stated in methods/demand.md and in the tables of losses are now what is measured here.

`

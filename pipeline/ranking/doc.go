// Package ranking turns scores into an order: what a rank serves, the best
// measure of a building and its runner-up, ties, ranks over a whole stock, and how
// far the order departs from naive ones.
//
// Every order here is total (the last keys are the owner's id and the measure's
// slug), so it depends neither on the order of arrival nor on the number of
// workers.
package ranking

// Package consequence converts demand to the owner's losses: the probability of each limit
// state, repair of structure, fit-out and contents, days closed, casualties, their annual
// values, and the benefit of a measure over its life.
//
// The input is plain numbers: an Exposure for the building and a Level for each return period.
// Options holds the tables, which are embedded CSV files that a user can replace; every row has
// a source or says "judgement". Model.At computes the mean loss at one level, Model.Annual
// integrates it over the levels, and Appraise converts the annual loss avoided to present
// value. All results are means for ranking a stock; none is a prediction for one building.
package consequence

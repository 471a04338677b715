// Package consequence turns demand into what an owner loses: the probability of
// each limit state, repair of structure, fit-out and contents, days closed,
// casualties, their annual values, and the benefit of a measure over its life.
//
// It reads plain numbers (a Level for each return period and one Exposure) and
// its tables are embedded CSV files, one source or "judgement" a row, that a
// user can replace. Everything here is a mean for ranking a stock; none of it
// is a prediction for one building.
package consequence

// Package ranking turns scores into an order: of the measures of a building, of the buildings of a
// stock, and of the works of a budget.
//
// Input. The Parts of a measure's worth (cost, benefit, deaths, contents, days), from which an
// Objective makes a score. Larger scores come first.
//
// Result:
//   - Choose orders the measures of one building. It names the best, the runner-up, and how many
//     tie with the best.
//   - A Sorter sorts the records of a stock on disk by keys that the Append functions make.
//   - A Ranker numbers sorted buildings and puts those whose scores are too close into one
//     group.
//   - KendallTau and TopOverlap compare the order with naive ones, such as the oldest building
//     first.
//   - Fund chooses measures under a budget and Arrange places them in years, with a bound on
//     what any other choice could gain.
//
// Rules. Every order is total, since the last keys are the owner's id and the slug of the measure.
// It therefore depends neither on the order of arrival nor on the number of workers. A missing
// score (NaN) comes last and is never the best. Scores within Resolution of each other are tied.
//
// Errors name the building and the measure whose cost or gain is not a number that can be used.
package ranking

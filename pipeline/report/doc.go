// Package report writes a run as one page: report.html, a single file that opens
// without a network, prints to A4 and answers the question the run was asked,
// which buildings first, with what, for how much and how sure, before it shows
// the ranked table, a map, charts, the quality of the data and each building.
//
// A run feeds a Stock with the rows it writes to files; Write turns the Stock and
// what else the page says, an Input, into the page. Text that came from the owner
// reaches the page only as data: the template escapes it, the script sets it as
// text and never as markup, and a policy in the page lets no other script run.
//
// WriteConfirm writes the page of a confirmation: a Subject, one building taken through
// time histories, is drawn as a Portrait, with panels and a film that its script plays.
//
// Equal inputs give equal bytes.
package report
